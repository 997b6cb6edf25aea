"""Charts: how fast they are laid out and how well, beside general-purpose graph layouts on the same stitch graphs.

networkx (Kamada-Kawai, spring) and igraph (Kamada-Kawai, Fruchterman-Reingold) know nothing of crochet; they get the
same nodes, with an edge for every post and every neighbour. After each layout is scaled to its mean edge, two things
are told: how far edges are from the length the work asks for, and how many stitches lie closer than half a stitch.
Run by `make bench`, or `python -m tests.bench charts`.
"""

import gzip
import sys
import time
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from generator.charts.audit import audit
from generator.charts.draw import draw, kinds_for
from generator.charts.kinds import ring
from generator.charts.options import ChartOptions
from generator.charts.svg import to_svg
from generator.fabric.model import Part
from generator.pipeline import compile_bare, compile_pattern
from generator.source import Source

CONTENT = Path(__file__).parents[2] / "content"
Places = NDArray[np.float64]
Edges = list[tuple[int, int, float]]


def disc(rounds: int) -> Part:
    """A flat disc of six more a round, from words."""
    lines = ["Rnd 1: 6 sc in magic ring (6)", "Rnd 2: 2 sc in each st around (12)"]
    for r in range(3, rounds + 1):
        plain = f"sc in next {r - 2} st{'s' if r > 3 else ''}"
        lines.append(f"Rnd {r}: *{plain}, 2 sc in next st; rep from * around ({6 * r})")
    return compile_bare(Source("disc", "\n".join(lines)), "US").fabric.parts[0]


def timed(work: Callable[[], object]) -> float:
    """Best of three, in seconds."""
    best = float("inf")
    for _ in range(3):
        start = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - start)
    return best


def edges_of(part: Part) -> tuple[Edges, int, Places]:
    """Posts and neighbours with the lengths the work asks for, how many are posts, and our own places."""
    layout = ring.lay_out(part, folded=False)[0][0]
    graph = layout.graph
    edges: Edges = [(n.index, p, n.height) for n in graph.nodes for p in n.parents]
    posts = len(edges)
    edges += [(a, b, 1.0) for row in graph.courses for a, b in pairwise(row)]
    return edges, posts, np.asarray([layout.head(i) for i in range(len(graph.nodes))])


def judged(places: Places, edges: Edges, posts: int) -> tuple[float, float, int]:
    """Mean relative error of all edge lengths and of the posts alone (the first `posts` edges), after the scale that
    suits them best; and how many pairs of stitches lie closer than half a stitch."""
    a, b, want = (np.asarray(column) for column in zip(*edges, strict=True))
    have = np.linalg.norm(places[a.astype(int)] - places[b.astype(int)], axis=1)
    scale = _scale(have, want)
    tall = have[:posts] * _scale(have[:posts], want[:posts])
    errors = np.abs(have * scale / want - 1).mean(), np.abs(tall / want[:posts] - 1).mean()
    return float(errors[0]), float(errors[1]), len(cKDTree(places * scale).query_pairs(0.5))


def _scale(have: Places, want: Places) -> float:
    return float((have * want).sum() / (have * have).sum())


def general(part: Part, slow: bool) -> list[tuple[str, float, float, float, int]]:
    """The general layouts: name, seconds, edge error, post error, overlaps."""
    import igraph
    import networkx

    edges, posts, _ = edges_of(part)
    count = 1 + max(max(a, b) for a, b, _ in edges)
    plain = [(a, b) for a, b, _ in edges]
    ours = igraph.Graph(n=count, edges=plain)
    theirs = networkx.Graph(plain)

    def laid(places: "dict[int, object]") -> Places:
        return np.asarray([places[i] for i in range(count)])

    tries: list[tuple[str, Callable[[], Places]]] = [
        ("igraph Kamada-Kawai", lambda: np.asarray(ours.layout_kamada_kawai().coords)),
        ("igraph Fruchterman-Reingold", lambda: np.asarray(ours.layout_fruchterman_reingold().coords)),
    ]
    if slow:
        tries += [
            ("networkx Kamada-Kawai", lambda: laid(networkx.kamada_kawai_layout(theirs))),
            ("networkx spring", lambda: laid(networkx.spring_layout(theirs, seed=1))),
        ]
    found = []
    for name, work in tries:
        start = time.perf_counter()
        places = work()
        found.append((name, time.perf_counter() - start, *judged(places, edges, posts)))
    return found


def compare(rounds: int, slow: bool) -> Iterator[str]:
    part = disc(rounds)
    seconds = timed(lambda: ring.lay_out(part, folded=False))
    edges, posts, places = edges_of(part)
    error, tall, near = judged(places, edges, posts)
    yield (f"{part.count()} stitches                      seconds  edge error  post error  overlaps")
    yield (f"  {'ours':<28}{seconds:>9.3f}{error:>12.1%}{tall:>12.1%}{near:>10}")
    for name, took, wrong, high, over in general(part, slow):
        yield (f"  {name:<28}{took:>9.3f}{wrong:>12.1%}{high:>12.1%}{over:>10}   {took / seconds:.0f} times ours")


def sizes() -> Iterator[str]:
    yield ("layout, drawing and SVG by size (aims: 1,000 laid out in 50 ms, 10,000 in 1 s)")
    for rounds in (18, 25, 57):
        part = disc(rounds)
        part.stitches()
        laid = timed(lambda part=part: ring.lay_out(part, folded=False))  # type: ignore[misc]
        drawn = timed(lambda part=part: to_svg(draw(part, "ring", ChartOptions(fold=False))))  # type: ignore[misc]
        text = to_svg(draw(part, "ring", ChartOptions(fold=False))).encode()
        n = part.count()
        yield (f"  {n:>6} stitches: laid out {laid * 1000:.0f} ms, whole chart {drawn * 1000:.0f} ms, "
              f"{len(text) / n:.1f} bytes a stitch, {len(gzip.compress(text)) / n:.1f} after gzip")  # fmt: skip


def audits() -> Iterator[str]:
    yield ("audit of the demo's charts: symbols, worst foot, overlaps, least gap, fold and symmetry error")
    for path in sorted((CONTENT / "patterns").glob("*/*.md")):
        for part in compile_pattern(Source(path.name, path.read_text(encoding="utf-8"))).fabric.parts:
            for kind in kinds_for(part):
                if kind in ("ring", "rows", "band"):
                    a = audit(draw(part, kind, ChartOptions()), part)
                    yield (f"  {path.stem:<22}{part.name:<10}{kind:<6}{a.symbols:>6}{a.worst_foot:>7.2f}{len(a.overlaps):>4}"
                          f"{a.least_gap:>7.2f}{a.fold:>4}{a.symmetry_error:>9.4f}  {'clean' if a.clean else 'NOT CLEAN'}")  # fmt: skip


def run(long: bool = False) -> Iterator[str]:
    """All figures, a line each; `long` also for the layouts that take minutes."""
    yield from sizes()
    yield from compare(12, slow=True)
    yield from compare(25, slow=long)
    yield from audits()


if __name__ == "__main__":
    for line in run("long" in sys.argv):
        print(line, flush=True)
