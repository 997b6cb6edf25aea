"""The live edge and the creeping seam.

The half stitch a round: stitchesnscraps.com/tutorial-why-continuous-rounds-shift; so 21 rounds of 36 stitches creep
by 10.5 stitches, which is 105 degrees (arithmetic).
"""

import pytest
from hand_worked import disc

from generator.charts.draw import draw
from generator.charts.kinds.drift import seam_angles
from generator.charts.kinds.edge import false_tops
from generator.charts.marks import Mark, Sign
from generator.charts.options import ChartOptions
from generator.fabric.model import Make, Part, Role
from generator.pipeline import compile_bare
from generator.source import Source


def worked(*lines: str) -> Part:
    return compile_bare(Source("case", "\n".join(lines)), "US").fabric.parts[0]


def test_twenty_one_rounds_of_thirty_six_creep_by_105_degrees() -> None:
    angles = dict(seam_angles(disc(6, even=21)))
    assert angles[5] - angles[26] == pytest.approx(105.0)


def test_joined_rounds_do_not_creep() -> None:
    assert {angle for _, angle in seam_angles(disc(5, make=Make.JOINED))} == {0.0}


def test_levelling_moves_the_start_on() -> None:
    part = worked(
        "With A",
        "Rnd 1: 6 sc in magic ring (6)",
        "Rnd 2: 2 sc in each st around (12)",
        "To level the step: sc in next st, sl st in next st, fasten off",
    )
    assert part.courses[-1].shift == 2
    (_, before), (_, after) = seam_angles(part)[-2:]
    assert after - before == pytest.approx(2 * 360 / 12)


@pytest.mark.parametrize("index", [0, 1, 2, 3])
def test_as_many_places_as_the_count_says(index: int) -> None:
    part = disc(4, make=Make.JOINED)
    drawing = draw(part, "edge", ChartOptions(course=index))
    signs = [p for p in drawing.groups[0].pieces if isinstance(p, Sign)]
    assert len(signs) == part.courses[index].live


def test_joins_and_uncounted_chains_are_ghosts() -> None:
    part = disc(3, make=Make.JOINED)
    assert [s.role for s in false_tops(part, 2)] == [Role.START, Role.JOIN]
    pieces = draw(part, "edge", ChartOptions()).groups[0].pieces
    assert sum(isinstance(p, Mark) and p.style == "ghost" for p in pieces) == 2


def test_a_counted_beginning_is_no_ghost() -> None:
    part = worked("Rnd 1: Ch 3 (counts as dc), 11 dc in magic ring, join with sl st to top of beg ch-3 (12)")
    assert part.courses[-1].live == 12
    signs = [p for p in draw(part, "edge", ChartOptions()).groups[0].pieces if isinstance(p, Sign)]
    assert len(signs) == 12
