"""The box `how this was checked`: sentences from records only, so that none can claim more than was done."""

from collections import Counter

from generator.fabric.model import Fabric, Status
from generator.pages.testreport import Report


def how_checked(fabric: Fabric, drawn: bool, test: Report | None = None) -> tuple[str, ...]:
    """What was done, in sentences.

    Args:
        fabric: the pattern as worked.
        drawn: whether a chart was drawn from the same stitches.
        test: what a test brought, when sheets were merged.
    """
    lines = [line for part in fabric.parts for line in part.lines if line.courses[1] > line.courses[0]]
    courses = sum(line.courses[1] - line.courses[0] for line in lines)
    if not courses:
        return ()
    by = Counter(line.status for line in lines)
    stitches = sum(part.count() for part in fabric.parts)
    parts = f"{len(fabric.parts)} parts" if len(fabric.parts) > 1 else "one part"
    said = [
        f"Every stitch of {courses} {'round or row' if courses == 1 else 'rounds and rows'} in {parts} was worked by a program before this was printed: "
        f"{stitches} stitches, chains included."
    ]
    proved = sum(line.courses[1] - line.courses[0] for line in lines if line.status is Status.PROVED)
    if proved == courses:
        said.append("The count of every round is the count of the stitches worked, and every round fits the one below.")
    elif proved:
        gives = "one of them gives" if proved == 1 else f"{proved} of them give"
        said.append(
            f"{gives[0].upper()}{gives[1:]} a count that was found right; the others were added by the program."
        )
    if by[Status.DIFFERS] or by[Status.DOES_NOT_CLOSE] or by[Status.NOT_UNDERSTOOD]:
        open_lines = by[Status.DIFFERS] + by[Status.DOES_NOT_CLOSE] + by[Status.NOT_UNDERSTOOD]
        lines_are = "One line is" if open_lines == 1 else f"{open_lines} lines are"
        said.append(f"{lines_are} still open: a count or words did not come out.")
    if drawn:
        said.append("The charts are drawn from the same stitches as the words.")
    kept = sum(bool(line.line.intended) for part in fabric.parts for line in part.lines)
    if kept:
        said.append(f"{kept} unusual {'line is' if kept == 1 else 'lines are'} kept as the designer intended.")
    return (*said, *([made_by(test)] if test and test.testers else []))


def made_by(test: Report) -> str:
    """How many made the piece from the written pattern, from their sheets."""
    n = len(test.testers)
    return f"Made by {n} {'tester' if n == 1 else 'testers'} from the written pattern."
