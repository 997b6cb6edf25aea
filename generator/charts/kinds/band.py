"""The band chart: rounds unrolled, right to left, for tubes and colour work."""

from generator.charts.kinds.rows import draw_flat
from generator.charts.marks import Drawing
from generator.charts.options import ChartOptions
from generator.fabric.model import Part


def draw(part: Part, options: ChartOptions) -> Drawing:
    """The band chart of a part: every round begins at the right."""
    return draw_flat(part, options, "band")
