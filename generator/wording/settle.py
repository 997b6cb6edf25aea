"""What the work has settled and the words must say: whether a starting chain counts, which ring is meant."""

from generator.fabric.model import Part
from generator.notation.tree import Step


def part_steps(part: Part) -> tuple[tuple[Step, ...], ...]:
    """The steps of every line, as they are to be written."""
    return tuple(line.steps for line in part.lines)
