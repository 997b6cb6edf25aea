"""`proof`: works every stitch of every pattern named and says what doesn't come out."""

import argparse
import json
from collections.abc import Iterator

from generator import proof
from generator.commands.console import DONE, FAULTS, Console, errors, several
from generator.commands.gather import Case, gather
from generator.diagnostics.placing import title
from generator.fabric.model import Part, Status, WorkedLine
from generator.source import Source

HELP = "work every stitch and tell what does not come out"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("paths", nargs="*", metavar="PATH", help="files, folders, or - for the pipe; content/ if none")
    parser.add_argument(
        "--json", action="store_true", help="one object for other programs (generator/proof.schema.json)"
    )
    parser.add_argument("--lines", action="store_true", help="one finding a line, for editors")
    parser.add_argument("--bare", action="store_true", help="working lines without a header, from a file or the pipe")
    parser.add_argument("--terms", choices=("US", "UK"), default="", help="with --bare: the terms of the text")
    parser.add_argument("--explain", action="store_true", help="show how each line was read and its three numbers")


def run(options: argparse.Namespace, console: Console) -> int:
    """Proof what is named; 1 when anything is wrong."""
    cases = gather(options.paths, console, options.bare, options.terms)
    if options.json:
        console.say(json.dumps(proof.proof(map(_object, cases)), ensure_ascii=False, indent=1))
    else:
        _tell(cases, options, console)
    return FAULTS if any(errors(case.findings) for case in cases) else DONE


def _object(case: Case) -> dict[str, object]:
    if case.compiled is None:
        return proof.of_text(case.source, case.findings)
    return proof.of_pattern(case.compiled, case.findings)


def _tell(cases: list[Case], options: argparse.Namespace, console: Console) -> None:
    for case in cases:
        if options.explain and case.compiled is not None:
            for part in case.compiled.fabric.parts:
                _explain(case.compiled.pattern.source, part, console)
        console.show(case.source, case.findings, options.lines)
        if not options.lines:
            _answers(case, console)
    if not options.lines:
        console.say(_summary(cases))
        for row in _first_of_all(cases):
            console.say(row)
        if headless := next((case for case in cases if _alone(case)), None):
            console.say(f"For working text alone, without a header: spiralbound proof --bare {headless.source.path}")


def _alone(case: Case) -> bool:
    """Whether a text has neither header nor blocks, as rounds pasted from somewhere have."""
    bare = case.compiled is not None and not case.compiled.fabric.parts
    return bare and any(finding.rule == "header-missing" for finding in case.findings)


def _answers(case: Case, console: Console) -> None:
    """What the author has answered, for whoever checks the pattern after her."""
    for answer in case.compiled.answers if case.compiled else ():
        line, _column = case.source.place(answer.span.start)
        quiet = f"silences {several(answer.used, 'finding')}" if answer.used else "no longer needed"
        console.say(f"{case.source.path}:{line}  intended  {answer.rule or 'every rule'}: {answer.reason} ({quiet})")


def _summary(cases: list[Case]) -> str:
    patterns = [case.compiled for case in cases if case.compiled is not None]
    lines = [line for pattern in patterns for part in pattern.fabric.parts for line in part.lines]
    courses = sum(max(0, line.courses[1] - line.courses[0]) for line in lines)
    work = f"{several(len(patterns), 'pattern')}, {several(courses, 'round')}"
    found = tuple(finding for case in cases for finding in case.findings)
    wrong, others = errors(found), len(found) - errors(found)
    if wrong:
        return f"{work}: {several(wrong, 'error')}" + (f", {several(others, 'remark')}" if others else "")
    return f"{work}: every count comes out" + (f", {several(others, 'remark')}" if others else "")


MANY = 5
"""Errors that are named once more at the end."""


def _first_of_all(cases: list[Case]) -> Iterator[str]:
    """Which findings are the errors, where remarks stand between them: what she has to settle before she publishes."""
    findings = [(case.source, finding) for case in cases for finding in case.findings]
    wrong = [(source, finding) for source, finding in findings if errors((finding,))]
    if not wrong or len(wrong) == len(findings):
        return
    yield "to be settled before it can be published:"
    for source, finding in wrong[:MANY]:
        yield f"    {source.path}:{source.place(finding.span.start)[0]}  {title(finding.rule)}"
    if len(wrong) > MANY:
        yield f"    and {len(wrong) - MANY} more"


def _explain(source: Source, part: Part, console: Console) -> None:
    console.say(f"{source.path}  {part.name}".rstrip() + (f" (make {part.make})" if part.make > 1 else ""))
    for line in part.lines:
        name = proof.label(source, line) or source.words(line.line.span).strip()[:40]
        if line.status is Status.REMARK:
            console.say(f"  {name}")
            continue
        console.say(f"  {name:<12} made {line.made:>4}   used {line.used:>4}   live {line.live:>4}   {_state(line)}")
        if line.reading:
            console.say(f"  {'':<12} {line.reading}")
        if line.alternatives > 1 or line.ambiguous:
            more = f"; {line.ambiguous}" if line.ambiguous else ""
            console.say(f"  {'':<12} {several(line.alternatives, 'reading')} tried{more}")
    console.say()


def _state(line: WorkedLine) -> str:
    stated = proof.stated_total(line.line.stated)
    said = f", {stated} printed" if stated is not None and line.status is Status.DIFFERS else ""
    return f"{str(line.status).replace('-', ' ')}{said}"
