"""Parts built straight from counts, for checking forms against closed formulas. Not a second worker: it knows no words."""

from generator.fabric.model import Course, Into, Live, Make, Part, Role, Run


def part_of(
    counts: list[int], kind: str = "sc", yarns: list[str] | None = None, make: Make = Make.SPIRAL, name: str = "Piece"
) -> Part:
    """A part of plain rounds with those counts."""
    courses, first = [], 0
    for i, n in enumerate(counts):
        yarn = yarns[i] if yarns else "A"
        run = Run(
            first, n, kind, yarn, -1 if i == 0 else first - counts[i - 1], into=Into.RING if i == 0 else Into.STITCH
        )
        courses.append(
            Course(i + 1, i, make, True, "", (run,), (Live(kind, first, n),), n, counts[i - 1] if i else 0, n,
                   ((kind, n),), counts[i - 1] if i else 0)
        )  # fmt: skip
        first += n
    return Part(name, 1, (), tuple(courses))


def rows_of(stitches: int, rows: int, kind: str = "sc", yarn: str = "A") -> Part:
    """A foundation chain and plain rows on it."""
    chain = Run(0, stitches, "ch", yarn, role=Role.FOUNDATION, into=Into.AIR)
    courses = [Course(None, 0, Make.FOUNDATION, True, "", (chain,), (Live("ch", 0, stitches),), 0, 0, stitches, (), 0)]
    first = stitches
    for i in range(rows):
        run = Run(first, stitches, kind, yarn, first - stitches)
        courses.append(
            Course(i + 1, i + 1, Make.ROW, i % 2 == 0, "", (run,), (Live(kind, first, stitches),), stitches, stitches,
                   stitches, ((kind, stitches),), stitches)
        )  # fmt: skip
        first += stitches
    return Part("Piece", 1, (), tuple(courses))
