"""Which stitches stand on which, ready to be weighed: the same in every pass of a layout."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.charts.frames import Stadium
from generator.charts.layout import Layout
from generator.charts.nodes import Sort, families
from generator.fabric.model import Make

STAND = 1.3
"""Weight of standing over the place worked into, against even spacing at 1."""
STAND_ON_OVAL = 0.6
"""On ovals the caps spread as the work grows; stitches of the sides must be free to follow."""
UPRIGHT = 6.0
"""On the straight sides of an oval every stitch stands over its own."""
WRAPPED = 0.6
"""In an unrolled round, the share of the round beyond which a post must have come round the other way."""


@dataclass(frozen=True, slots=True)
class Post:
    """Stitches that share a place and stand over it together; a together-stitch over the middle of its places."""

    course: int
    children: tuple[int, ...]
    terms: tuple[tuple[int, float], ...]
    """Mean of the children less mean of what they stand on."""
    turns: float
    """How many turns lie between them."""
    strength: float


def posts_of(layout: Layout) -> tuple[Post, ...]:
    """All posts of a layout; on an oval those above the first round, which knows its place."""
    found: list[Post] = []
    shared: dict[tuple[int, ...], int] = {}
    for post, parents in _posts(layout):
        space = layout.graph.nodes[parents[0]]
        if layout.frame.closed and space.sort is Sort.SPACE:
            one = shared.setdefault(parents, len(found))
            # a round ends in the loop it began in, or the next goes on in a loop of this round that this one ended in
            if one < len(found) and found[one].course in (post.course, space.course):
                found[one] = _together(found[one], post)
                continue
        found.append(post)
    return tuple(found)


def _together(one: Post, other: Post) -> Post:
    """Both posts as one: their stitches stand side by side over the one place they share."""
    here, there = len(one.children), len(other.children)
    k = here + there
    above = [(n, 1.0 / k) for n in (*one.children, *other.children)]
    terms = (*above, *(term for term in one.terms if term[1] < 0))
    turns = (one.turns * here + other.turns * there) / k
    return Post(one.course, (*one.children, *other.children), terms, turns, math.hypot(one.strength, other.strength))


def _posts(layout: Layout) -> Iterator[tuple[Post, tuple[int, ...]]]:
    """Every post with what it stands on."""
    graph, oval, closed = layout.graph, isinstance(layout.frame, Stadium), layout.frame.closed
    places = _positions(layout)
    for c in layout.shown[2 if oval else 0 :]:
        slip: float | None = None
        for children, parents in families(graph, c):
            q = _mean(places, children)
            past = _past_the_join(places, parents) if closed else 0.0
            p = _mean(places, parents) + past
            turns = 0
            if closed:
                turns = round(q - p) if slip is None else round(q - p - slip)
                slip = q - p - turns
            elif layout.part.courses[c].make in (Make.SPIRAL, Make.JOINED) and abs(q - p) > WRAPPED:
                continue  # a round unrolled: this one stands on the far end of the round below
            stand = STAND if not oval else UPRIGHT if children[0] in layout.straight else STAND_ON_OVAL
            strength = stand * math.sqrt(len(children)) / (0.5 + graph.nodes[children[0]].height ** 0.5)
            above, below = 1.0 / len(children), -1.0 / len(parents)
            terms = (*((n, above) for n in children), *((n, below) for n in parents))
            yield Post(c, tuple(children), terms, turns + past, strength), parents


def _mean(places: Sequence[float], nodes: Sequence[int]) -> float:
    return places[nodes[0]] if len(nodes) == 1 else sum(places[n] for n in nodes) / len(nodes)


def _past_the_join(places: Sequence[float], parents: Sequence[int]) -> float:
    """Mean turns by which parents lie past the end of their course: the last stitch of a round and its first are
    neighbours."""
    if len(parents) == 1:
        return 0.0
    first = places[parents[0]]
    return -sum(round(places[n] - first) for n in parents) / len(parents)


def _positions(layout: Layout) -> list[float]:
    """How far round its own course each node is, in turns and in the direction of z; past 1 for levelling stitches."""
    found = [0.0] * len(layout.graph.nodes)
    for c in layout.shown:
        whole = max(layout.natural(c), 1e-6)
        at = 0.0
        for n in layout.graph.courses[c]:
            node = layout.graph.nodes[n]
            found[n] = layout.direction[c] * (at + node.width / 2) / whole
            at += node.width
    for root, riding in layout.graph.points.items():
        for n in riding:
            found[n] = found[root]
    for arch, closer in layout.graph.closers.items():
        found[closer] = found[arch]
    return found
