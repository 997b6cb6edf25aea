"""The comparison drawn: the wish in outline, the worked silhouette over it, to scale. An SVG as text.

Colours follow the text colour of the page, so it reads on light and dark and in print; zones take their yarn's colour.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from xml.sax.saxutils import escape, quoteattr

from generator.shape.plan import Plan
from generator.shape.profile import Point

WIDE = 640.0
"""Width of the drawing in its own units."""
TALL = 720.0
MARGIN = 28.0
SCALE_BAR_MM = (5, 10, 20, 50, 100, 200, 500)


def draw(
    plan: Plan, yarns: Sequence[str] = (), colours: Mapping[str, str] | None = None, title: str = "", down: bool = False
) -> str:
    """Wish and work of a plan.

    Args:
        yarns: the yarn of every round; empty for one nameless yarn.
        colours: `#rrggbb` by yarn.
        down: the work begins at the top, so its beginning is drawn there.
    """
    lifted = tuple((r, z + plan.deviation.lift) for r, z in plan.points)
    plan = replace(plan, points=lifted)
    frame = _Frame(plan, down)
    words = caption(plan)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(WIDE)} {_n(frame.tall)}" role="img"'
        f" aria-label={quoteattr(words)}>",
        f"<title>{escape(title or 'Wish and worked outline')}</title><desc>{escape(words)}</desc>",
        *_bands(plan, frame, yarns, colours or {}),
        _outline(frame, plan.points, 'stroke="currentColor" stroke-width="1.6" fill="none"'),
        _outline(
            frame,
            plan.profile.samples(plan.hand.height / 4),
            'stroke="currentColor" stroke-width="3" stroke-dasharray="2 7" stroke-linecap="round" fill="none"',
        ),
        *_scale(frame),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def caption(plan: Plan) -> str:
    """Two sentences on what the drawing shows."""
    rounds = len(plan.counts)
    return f"Dotted: the outline wished for. Solid: the outline of {rounds} worked rounds, {nearness(plan)}."


def nearness(plan: Plan) -> str:
    """How far the worked rounds are off the outline, and where they are farthest."""
    off = plan.deviation
    where = f"at round {off.round}" if 0 < off.round <= len(plan.counts) else "at its end"
    return f"at most {off.mm:.1f} mm ({off.mm / plan.hand.height:.2f} of a round) away from it, {where}"


class _Frame:
    """From millimetres to the drawing: both sides of the axis, up is up."""

    def __init__(self, plan: Plan, down: bool) -> None:
        line = (*plan.points, *plan.profile.points)
        self.down = down
        wide = 2 * max(r for r, _ in line)
        self.low, self.high = min(z for _, z in line), max(z for _, z in line)
        high = self.high - self.low
        self.scale = min((WIDE - 2 * MARGIN) / wide, (TALL - 3 * MARGIN) / max(high, wide / 8))
        self.tall = high * self.scale + 4 * MARGIN

    def at(self, point: Point, side: int = 1) -> str:
        x = WIDE / 2 + side * point[0] * self.scale
        up = self.high - point[1] if self.down else point[1] - self.low
        y = self.tall - 3 * MARGIN - up * self.scale
        return f"{_n(x)},{_n(y)}"


def _n(value: float) -> str:
    """A number as short as it can be at a hundredth."""
    return f"{value:.2f}".rstrip("0").rstrip(".") or "0"


def _outline(frame: _Frame, points: Sequence[Point], style: str) -> str:
    sides = " ".join(
        "M" + " L".join(frame.at(point, side) for point in points) for side in (1, -1)
    )  # fmt: skip
    return f'<path d="{sides}" stroke-linejoin="round" {style}/>'


def _bands(plan: Plan, frame: _Frame, yarns: Sequence[str], colours: Mapping[str, str]) -> list[str]:
    """One strip across for every round, in its yarn's colour; in a ring a wedge from the middle of its thickness."""
    parts = []
    middle = _middle(plan.points) if plan.profile.sewn else None
    for i, (a, b) in enumerate(pairwise(plan.points)):
        yarn = yarns[min(i, len(yarns) - 1)] if yarns else ""
        fill = colours.get(yarn, "currentColor")
        strength = "0.85" if yarn in colours else "0.14"
        across = (frame.at(a), frame.at(b), frame.at(b, -1), frame.at(a, -1))
        strips: list[tuple[str, ...]] = [across]
        if middle:
            strips = [(frame.at(middle, side), frame.at(a, side), frame.at(b, side)) for side in (1, -1)]
        style = f'fill="{fill}" fill-opacity="{strength}" data-round="{i + 1}"'
        parts += [f'<polygon points="{" ".join(strip)}" {style}/>' for strip in strips]
    return parts


def _middle(points: Sequence[Point]) -> Point:
    return sum(r for r, _ in points) / len(points), sum(z for _, z in points) / len(points)


def _scale(frame: _Frame) -> list[str]:
    """A bar of a round length, in centimetres."""
    mm = max((mm for mm in SCALE_BAR_MM if mm * frame.scale <= WIDE / 3), default=SCALE_BAR_MM[0])
    x, y, end = MARGIN, frame.tall - MARGIN, MARGIN + mm * frame.scale
    label = f"{mm / 10:g} cm"
    return [
        f'<path d="M{_n(x)},{_n(y - 5)} V{_n(y + 5)} M{_n(x)},{_n(y)} H{_n(end)} M{_n(end)},{_n(y - 5)} V{_n(y + 5)}"'
        ' stroke="currentColor" fill="none"/>',
        f'<text x="{_n(end + 8)}" y="{_n(y + 8)}" font-size="24" fill="currentColor">{label}</text>',
    ]
