"""`pack`: the designer's own papers for a pattern: show notes, cue sheet, test pack, pre-edit sheet, release day.

With `--sheets`, filled test sheets are merged into a report instead.
"""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from generator import library
from generator.commands.console import DONE, FAULTS, Console, NothingThere, errors, several
from generator.commands.gather import one_text
from generator.diagnostics.record import Finding
from generator.notation.document import LONGEST
from generator.pipeline import Compiled

if TYPE_CHECKING:
    from generator.pages.editions import Bound

HELP = "write a pattern's show notes, test pack, pre-edit sheet and release texts"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("pattern", metavar="FILE", help="the pattern's text")
    parser.add_argument("--content", default="content", metavar="FOLDER", help="the studio it belongs to (content)")
    parser.add_argument("--out", default="packs", metavar="FOLDER", help="where its folder goes (packs)")
    parser.add_argument("--sheets", nargs="+", metavar="CSV", help="filled test sheets to merge into a report")


def run(options: argparse.Namespace, console: Console) -> int:
    """Write the folder, or the report."""
    from generator.pages.editions import bind_all
    from generator.pipeline import compile_pattern

    file, content = one_text(options.pattern), Path(options.content)
    text = library.load_text(file, content if content.is_dir() else None)
    compiled = compile_pattern(text.source)
    found = (*text.findings, *compiled.findings)
    if errors(found):
        console.show(text.source, tuple(finding for finding in found if errors((finding,))))
        console.say("a pack is made of a pattern that comes out")
        return FAULTS
    bound = bind_all(compiled, library.load_studio(content).value)
    folder = Path(options.out) / compiled.pattern.header.slug
    if options.sheets:
        return _merge(bound, options.sheets, folder, text, console)
    return _papers(bound, compiled, content, folder, text, console)


def _papers(
    bound: "Bound", compiled: Compiled, content: Path, folder: Path, text: library.Text, console: Console
) -> int:
    from generator.bindery import booklet_templates, write_pack
    from generator.pages.desk import desk
    from generator.pages.editions import editions
    from generator.pages.views import pattern_view

    templates = booklet_templates(bound.studio.theme, content)
    card = pattern_view(compiled.pattern, compiled.fabric, compiled.measured, bound.studio).view.card
    papers = desk(bound, templates, card, editions(bound, templates).value)
    findings = (*papers.findings, *write_pack(folder, papers.value))
    return _done(findings, text, f"{several(len(papers.value), 'paper')} in {folder.as_posix()}", console)


def _merge(bound: "Bound", sheets: Sequence[str], folder: Path, text: library.Text, console: Console) -> int:
    from generator.bindery import write_pack
    from generator.pages.testreport import merge, report_text
    from generator.pages.testsheet import questions
    from generator.wording.voice import Style

    missing = [name for name in sheets if not Path(name).is_file()]
    if missing:
        raise NothingThere(f"there is no {missing[0]} here")
    header = bound.compiled.pattern.header
    own = bound.leaflets["uk" if header.terms == "UK" else "us", Style.SHORT]
    merged = merge(questions(own), [(name, Path(name).read_bytes()[:LONGEST]) for name in sheets])
    report = report_text(header.title, merged.value)
    console.say(report)
    findings = (*merged.findings, *write_pack(folder, {"test/report.txt": report.encode()}))
    return _done(findings, text, f"the report is in {folder.as_posix()}/test/report.txt", console)


def _done(findings: tuple[Finding, ...], text: library.Text, words: str, console: Console) -> int:
    console.show(text.source, findings)
    console.say(words)
    return FAULTS if errors(findings) else DONE
