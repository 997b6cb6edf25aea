"""Booklets: milliseconds each, in-process on one core, and memory over many. Aims: 40 ms each; memory flat over 1,000."""

import resource
import statistics
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from leaflets import TEMPLATES, figure, leaflet

from generator.pages.booklet import A4, LARGE_24, booklet

MANY = 1000


def run(many: int = MANY) -> Iterator[str]:
    """Lines of figures."""
    for rounds in (20, 60, 300):
        said = leaflet(rounds, turns=2, figures=(figure(),))
        for paper in (A4, LARGE_24):
            times = []
            for n in range(9):
                fresh = replace(said, summary=f"Booklet {n} of a long shelf.")
                begin = time.perf_counter()
                booklet(fresh, paper, "Booklet", TEMPLATES)
                times.append(1000 * (time.perf_counter() - begin))
            low, high = min(times[1:]), max(times[1:])
            name = f"{paper.name}, {paper.size:g} pt"
            yield f"booklet of {rounds} rounds, {name}: {statistics.median(times[1:]):.1f} ms ({low:.1f} to {high:.1f})"
    said = leaflet(20, figures=(figure(),))
    for n in range(many):
        booklet(replace(said, title=f"Basket {n}", summary=f"Number {n}."), A4, "Booklet", TEMPLATES)
        if n + 1 in (many // 10, many // 2, many):
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            yield f"peak memory after {n + 1} booklets: {peak:.0f} MB"


if __name__ == "__main__":
    for line in run(int(sys.argv[1]) if len(sys.argv) > 1 else MANY):
        print(line, flush=True)
