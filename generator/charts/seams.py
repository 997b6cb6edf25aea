"""Room at the start of rounds: for the number, for a beginning chain that counts for nothing, or none."""

from generator.charts.frames import Circle, Frame, Inward, Stadium
from generator.charts.nodes import FAN, Graph, Sort, mean_rise
from generator.fabric.model import Make, Part

SLIVER = 0.15
"""Room for an uncounted beginning chain on the side of a polygon: too little to be seen in its corners."""


def size_of_numbers(graph: Graph, shown: tuple[int, ...]) -> float:
    """How much larger than usual the numbers of a wide chart are set: 1 up to a radius of 9 chains, 1.25 at most.

    More would let the numbers of neighbouring rounds run together where the start lies to the side.
    """
    return min(1.25, max(1.0, sum(mean_rise(graph, c) for c in shown) / 9))


def beginnings_take(graph: Graph, width: float) -> None:
    """Beginning chains that count for nothing take that much room: none where stitches must stand as in any other
    repeat, a little on the side of a polygon."""
    for node in graph.nodes:
        if node.loose:
            node.width = width


def stand_under_last_arch(graph: Graph) -> None:
    """Where a round ends in an arch of chains, its beginning chain stands below the arch's end and takes little room."""
    for c, row in enumerate(graph.courses):
        if row and graph.nodes[row[0]].loose and graph.nodes[graph.plain(c)[-1]].sort is Sort.SPACE:
            graph.nodes[row[0]].width = 2 * SLIVER


def seam_of(graph: Graph, part: Part, c: int, frame: Frame) -> float:
    """Room for the number at the start of a round; none where the motif's symmetry would suffer."""
    if not isinstance(frame, Circle | Inward | Stadium):
        return 0.0
    first = next((graph.nodes[n] for n in graph.courses[c]), None)
    if first is None or part.courses[c].make is Make.FOUNDATION:
        return 0.0
    if part.courses[c].make is Make.SPIRAL:
        return 0.75
    after = next((row for row in graph.courses[c + 1 :] if row), [])
    plain = first.sort is not Sort.COLUMN and first.sharers < FAN
    if plain and after and graph.nodes[after[0]].loose:
        return 0.6  # the round above begins with a chain beside its first stitch: the seam runs through
    if first.loose and first.width <= 2 * SLIVER:
        return 0.0
    return 0.55 if first.sort is Sort.COLUMN and first.loose else 0.15 if first.sort is Sort.COLUMN else 0.0
