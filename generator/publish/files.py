"""The files of a pattern's folder, by the step that makes them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from jinja2 import Environment

from generator.pages import cards, emblem, figures, html, jsonld, photos
from generator.pages.page import head, with_menu
from generator.pages.records import Download, PatternView
from generator.pages.studio import Studio
from generator.pages.views import Shots, pattern_view, with_files
from generator.pipeline import Compiled
from generator.publish.finished import Finished
from generator.publish.setting import Setting
from generator.publish.steps import EDITIONS, SHARING, WORK

Files = dict[str, bytes]
"""By path relative to the pattern's folder."""
Sizes = Mapping[str, Mapping[str, int]]
"""Bytes of the files beside a page, by the step that makes them and by name."""


def work(
    compiled: Compiled,
    ready: Mapping[str, photos.Ready],
    studio: Studio,
    drawer: figures.Drawer,
    sheets: Sequence[tuple[str, bytes]] = (),
    sharing: bool = False,
) -> tuple[Finished, Files]:
    """The record of the page with the drawings and photos beside it.

    Args:
        sheets: filled test sheets.
        sharing: whether the first photo is cut for sharing too.
    """
    shots = Shots({name: one.picture for name, one in ready.items()})
    made = pattern_view(compiled.pattern, compiled.fabric, compiled.measured, studio, shots, drawer)
    files = {name: draw() for name, draw in made.files.items()}
    for one in ready.values():
        files.update(one.files)
    if made.css:
        files["chart.css"] = made.css.encode()
    view = _with_testers(made.view, compiled, studio, sheets) if sheets else made.view
    if photo := main_photo(compiled, ready):
        files |= {photos.WIDE: photo.wide, photos.TALL: photo.tall} if sharing else {}
        return Finished(view, "", ""), files
    header = compiled.pattern.header
    swatches = {yarn.key: yarn.swatch for yarn in header.yarns if yarn.swatch}
    return Finished(view, emblem.drawing(compiled.fabric, swatches, header.title), emblem.ground(swatches)), files


def main_photo(compiled: Compiled, ready: Mapping[str, photos.Ready]) -> photos.Ready | None:
    """The first photo that shows the whole piece."""
    photographed = compiled.pattern.header.photos
    return next((ready[photo.file] for photo in photographed if photo.file in ready and not photo.round), None)


def _with_testers(
    view: PatternView, compiled: Compiled, studio: Studio, sheets: Sequence[tuple[str, bytes]]
) -> PatternView:
    """The page saying how many made the piece, from their sheets."""
    from generator.pages.checked import made_by
    from generator.pages.editions import tested

    test = tested(compiled, studio, sheets).value
    return replace(view, proved=f"{view.proved} {made_by(test)}") if test and test.testers else view


def sharing(finished: Finished, studio: Studio) -> Files:
    """Pictures for sharing, set from the drawn cover; a photo was cut when it was made ready."""
    if not finished.cover:
        return {}
    both = cards.sharing(finished.view.card, finished.cover, finished.ground, studio)
    return {"card.png": both.wide, "pin.png": both.tall}


def page(view: PatternView, beside: Sizes, setting: Setting, env: Environment) -> tuple[PatternView, Files]:
    """The page, and the record it was printed from."""
    pictures = {name: count for step in (WORK, SHARING) for name, count in beside.get(step, {}).items()}
    card = next((name for name in ("card.png", "card.jpg") if name in pictures), "")
    view = with_files(view, (*_editions(beside.get(EDITIONS, {})), *_pin(pictures)), card)
    return view, {"index.html": _page(view, setting, env)}


def _page(view: PatternView, setting: Setting, env: Environment) -> bytes:
    studio = setting.studio
    path = f"patterns/{view.slug}/index.html"
    page = head(studio, path, view.title, view.summary, "pattern")
    page = replace(
        page,
        og="article",
        image=studio.address + view.card.card if studio.address and view.card.card else "",
        image_alt=view.card.cover_alt,
        data=jsonld.pattern(view, studio, page.canonical) if studio.address else "",
        scripts=("assets/choices.js", "assets/place.js"),
        sheet="chart.css" if view.chart_css else "",
        storage=view.slug,
        crumbs=True,
    )
    return html.render(env, "pattern.html", path, page=with_menu(page, setting.menu), root="../../", view=view)


def _editions(sizes: Mapping[str, int]) -> Iterator[Download]:
    """What a reader may want to take along, in the editions' own order."""
    if sizes:
        from generator.pages.editions import listed

        for one in listed(sizes):
            yield Download(", ".join(part for part in (one.title, one.terms) if part), one.file, size(one.bytes))


def _pin(pictures: Mapping[str, int]) -> Iterator[Download]:
    name = next((name for name in ("pin.png", "pin.jpg") if name in pictures), "")
    if name:
        yield Download("Picture for pinning", name, size(pictures[name]))


def size(count: int) -> str:
    """Bytes in words: `84 KB`, `1.2 MB`."""
    return f"{count / 1e6:.1f} MB" if count >= 1e6 else f"{max(1, round(count / 1000))} KB"
