"""Texts named on the command line, compiled: files, folders, a studio, or what comes through the pipe."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from generator import library
from generator.commands.console import Console, NothingThere
from generator.diagnostics.record import Finding
from generator.notation.document import LONGEST
from generator.pages.wanted import of_compiled
from generator.pipeline import Compiled, compile_bare, compile_pattern
from generator.source import Source


@dataclass(frozen=True, slots=True)
class Case:
    """One text and everything there is to say of it; `compiled` is None for texts that are no patterns."""

    source: Source
    compiled: Compiled | None
    findings: tuple[Finding, ...]


def gather(paths: Sequence[str], console: Console, bare: bool = False, terms: str = "") -> list[Case]:
    """Compile what is named. Without a path: the pipe for bare working text, else the studio's content/.

    Raises:
        NothingThere: a path leads nowhere.
    """
    if not paths:
        paths = ["-"] if bare else ["content"]
    cases: list[Case] = []
    for path in paths:
        cases.extend(_of_path(path, console, bare, terms))
    return _with_twins(cases)


def one_text(name: str) -> Path:
    """The one text a command works on: the file itself, or the only one in the folder that is named.

    Raises:
        NothingThere: it isn't there, or the folder has several.
    """
    place = Path(name)
    if place.is_file():
        return place
    if place.is_dir():
        texts = list(library.markdown_files(place))
        if len(texts) == 1:
            return texts[0]
        which = ", ".join(text.name for text in texts[:5]) + (", …" if len(texts) > 5 else "")
        raise NothingThere(f"{name} is a folder" + (f"; name one of its texts: {which}" if texts else " without texts"))
    known = next(iter(Path("content", library.PATTERNS).glob(f"*/{place.stem}.md")), None) if place.stem else None
    raise NothingThere(f"there is no {name} here" + (f"; there is {known.as_posix()}" if known else ""))


def _of_path(path: str, console: Console, bare: bool, terms: str) -> Iterator[Case]:
    if path == "-":
        text = library.decode("<stdin>", console.stdin.read(LONGEST + 1), Path())
        yield _compiled(text, None, bare, terms)
        return
    place = Path(path)
    if place.is_dir():
        yield from _of_folder(place)
    elif place.exists():
        yield _compiled(library.load_text(place), None, bare, terms)
    else:
        hint = "; `spiralbound begin FOLDER` starts a studio" if path == "content" else ""
        raise NothingThere(f"there is no {path} here{hint}")


def _of_folder(place: Path) -> Iterator[Case]:
    content = place / "content" if (place / "content" / library.PATTERNS).is_dir() else place
    if (content / library.PATTERNS).is_dir():
        catalogue = library.load_catalogue(content)
        for said in catalogue.said:
            yield Case(said.source, None, said.findings)
        texts, root = catalogue.patterns, content
    else:
        texts, root = tuple(map(library.load_text, library.markdown_files(place))), place
    if not texts:
        raise NothingThere(f"there are no patterns in {place}")
    for text in texts:
        yield _compiled(text, root)


def _compiled(text: library.Text, content: Path | None, bare: bool = False, terms: str = "") -> Case:
    if text.findings and not text.source.text:
        return Case(text.source, None, text.findings)
    if bare:
        worked = compile_bare(text.source, terms)
        return Case(text.source, worked, text.findings + worked.findings)
    worked = compile_pattern(text.source)
    photos = library.find_photos(of_compiled(worked), text.folder, content or text.folder).findings
    return Case(text.source, worked, text.findings + worked.findings + photos)


def _with_twins(cases: list[Case]) -> list[Case]:
    # A pasted text has no name of its own, so two of them are no twins.
    twins = library.twins(
        case.compiled.pattern for case in cases if case.compiled and case.compiled.pattern.header.slug
    )
    return [
        replace(case, findings=(*case.findings, twins[case.source.path])) if case.source.path in twins else case
        for case in cases
    ]
