"""How fast a site of many patterns is built: whole, with one pattern changed, and beside the floor.

The floor is what no generator can go below: the same pages rendered by bare jinja2 from ready records and written, in
one process. This one has no ready records: it reads, works and draws every stitch first, which the shares below tell
apart, in processor time of one process. Only what remains beside working and drawing can come near the floor. Run by
`make bench`; SPIRALBOUND_BENCH_PATTERNS=200 for fewer patterns.
"""

import os
import re
import resource
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from dataclasses import replace
from datetime import date
from pathlib import Path
from unittest.mock import patch

from generator import library
from generator.pages import emblem, figures, html, opened, rounds, views
from generator.pages.page import head
from generator.pipeline import compile_pattern
from generator.publish import build, corrections, files, publish, shelf

CONTENT = Path(__file__).parents[2] / "content"
TODAY = date(2026, 11, 25)


def catalogue(folder: Path, many: int) -> Path:
    """A studio of many patterns: the demo's families again and again under other names."""
    texts = library.load_patterns(CONTENT)
    content = folder / "content"
    content.mkdir()
    shutil.copy(CONTENT / "studio.toml", content)
    for n in range(many):
        text = texts[n % len(texts)].source.text
        slug = f"pattern-{n}"
        place = content / "patterns" / slug
        place.mkdir(parents=True)
        (place / f"{slug}.md").write_text(
            re.sub(r"(?m)^title: (.*)$", rf"title: \1 {n}", text, count=1), encoding="utf-8"
        )
    return content


def timed(content: Path, site: Path) -> tuple[float, str]:
    """Seconds of one build, and what it did."""
    start, before = time.perf_counter(), _processor()
    report = publish(content, site, today=TODAY, editions=False, pictures=False, full_text=False)
    took, spent = time.perf_counter() - start, _processor() - before
    assert report.swapped, report.findings
    return took, f"made {report.made}, kept {report.kept}: {took:.2f} s, {spent:.2f} s of processor time"


def _processor() -> float:
    """Seconds of processor time of this process and of those it waited for."""
    each = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in each)


def floor(content: Path, folder: Path) -> tuple[float, float]:
    """Seconds by the clock and of the processor for rendering and writing the pattern pages alone, from ready records, in one process."""
    studio = library.load_studio(content).value
    shelved = shelf.load_theme(studio, content).value
    env = html.environment(shelved.theme, studio)
    ready = []
    for text in library.load_patterns(CONTENT):
        compiled = compile_pattern(text.source)
        ready.append(views.pattern_view(compiled.pattern, compiled.fabric, compiled.measured, studio).view)
    many = sum(1 for _ in (content / "patterns").iterdir())
    start, spent = time.perf_counter(), time.process_time()
    for n in range(many):
        view = ready[n % len(ready)]
        page = head(studio, "patterns/x/index.html", view.title, view.summary, "pattern")
        place = folder / f"{n}"
        place.mkdir(parents=True)
        (place / "index.html").write_bytes(
            html.render(env, "pattern.html", page.path, page=page, root="../../", view=view)
        )
    return time.perf_counter() - start, time.process_time() - spent


STAGES = (
    ("read, worked, judged", (build, "compile_pattern")),
    ("drawn", (figures, "draw"), (opened, "draw"), (opened, "for_the_left_hand")),
    ("drawings written", (figures, "to_svg"), (opened, "to_svg")),
    ("rounds worded", (rounds, "write"), (rounds, "rows")),
    ("the ledger's rounds worded", (corrections, "of_pattern")),
    ("abbreviations", (views, "_reference")),
    ("covers", (emblem, "cover"), (emblem, "disc"), (emblem, "drawing")),
    ("records packed", (build, "pack")),
    ("pages printed", (files, "_page")),
    ("files written", (build, "_lay")),
)
"""What making a pattern takes: a name, and the functions that do it. What no stage holds is told as the rest."""
WORKING = ("read, worked, judged", "drawn")
"""What no generator that is given its contexts has to do."""


def shares(content: Path, folder: Path) -> tuple[float, dict[str, float]]:
    """Milliseconds of processor time that one pattern of the demo takes, whole and by stage, once all is imported."""
    studio = library.load_studio(content).value
    shelved = shelf.load_theme(studio, content).value
    build.start(build.Setting(content, studio, shelved, (), TODAY, editions=False, pictures=False))
    texts = library.load_patterns(CONTENT)
    spent = dict.fromkeys((name for name, *_ in STAGES), 0.0)

    def clocked(name: str, function: Callable[..., object]) -> Callable[..., object]:
        def timed(*values: object, **named: object) -> object:
            start = time.process_time()
            try:
                return function(*values, **named)
            finally:
                spent[name] += (time.process_time() - start) * 1000 / len(texts)

        return timed

    with ExitStack() as undo:
        for name, *places in STAGES:
            for module, function in places:
                undo.enter_context(patch.object(module, function, clocked(name, getattr(module, function))))
        for turn in range(2):
            spent.update(dict.fromkeys(spent, 0.0))
            start = time.process_time()
            for n, text in enumerate(texts):
                build.build(replace(text, source=replace(text.source)), folder / f"{turn}-{n}")
            whole = (time.process_time() - start) * 1000 / len(texts)
    return whole, spent | {"the rest": whole - sum(spent.values())}


def edits(content: Path, site: Path, whole: float) -> Iterator[str]:
    """What builds after the first one cost."""
    nothing, words = timed(content, site)
    yield f"nothing changed: {words}, {nothing / whole:.1%} of the whole"
    file = content / "patterns/pattern-3/pattern-3.md"
    file.write_text(file.read_text(encoding="utf-8") + "\nOne more line.\n", encoding="utf-8")
    one, words = timed(content, site)
    yield f"one changed: {words}, {one / whole:.1%} of the whole (aim: 1 %)"
    file.write_text(file.read_text(encoding="utf-8").replace("title: ", "title: New ", 1), encoding="utf-8")
    one, words = timed(content, site)
    yield f"one renamed, so that every list changes: {words}, {one / whole:.1%} of the whole"
    facts = content / "studio.toml"
    facts.write_text(re.sub(r"(?m)^tagline = .*$", 'tagline = "Another line"', facts.read_text(encoding="utf-8")))
    edit, words = timed(content, site)
    yield f"a line at the foot of every page: {words}, {edit / whole:.1%} of the whole"
    facts.write_text(re.sub(r"(?m)^theme = .*$", 'theme = "tidetable"', facts.read_text(encoding="utf-8")))
    edit, words = timed(content, site)
    yield f"another theme: {words}, {edit / whole:.1%} of the whole"


def run() -> Iterator[str]:
    """The figures."""
    many = int(os.environ.get("SPIRALBOUND_BENCH_PATTERNS", "1000"))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        content, site = catalogue(folder, many), folder / "site"
        whole, words = timed(content, site)
        yield f"{many} patterns, pages only, {os.cpu_count()} cores: {words}"
        least, spent_least = floor(content, folder / "floor")
        yield f"floor: {least:.2f} s; the whole is {whole / least:.1f} times that (aim: 2; it works and draws every stitch)"
        yield from edits(content, site, whole)
        one_pattern, spent = shares(content, folder / "shares")
        told = ", ".join(f"{name} {took:.1f}" for name, took in spent.items())
        own = one_pattern - sum(spent[name] for name in WORKING)
        yield f"one pattern, {one_pattern:.0f} ms of processor time: {told}"
        each = spent_least * 1000 / many
        yield f"beside working and drawing {own:.1f} ms, {own / each:.1f} times the floor's {each:.1f} ms"
    own, others = (resource.getrusage(who).ru_maxrss / 1024 for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    yield f"peak memory {own:.0f} MB, of a worker {others:.0f} MB"
