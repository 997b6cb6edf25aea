"""How fast working text is read and worked, and how that grows with its length.

Machines are noisy, so times are those of the process, growth is given as an exponent (1.0 is linear), and speeds
stand beside the time of a fixed loop of plain Python in the same run.
"""

import math
import time
from collections.abc import Callable, Iterator
from itertools import count
from unittest.mock import patch

from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation import labels, parse
from generator.notation.parse import Context, read_lines
from generator.notation.tree import Piece
from generator.source import Source, Span

COMMON = (
    "Rnd 1: 6 sc in magic ring (6)", "Rnd 2: 2 sc in each st around (12)",
    "Rnd 3: *sc in next st, 2 sc in next st; rep from * around (18)", "Rnd 4: (sc in next 2 sts, inc) 6 times (24)",
    "Rnd 5: sc in each st around (24)", "Rnd 6: (sc in next 2 sts, dec) 6 times (18)",
)  # fmt: skip
AMBIGUOUS = (
    "Rnd 2: (3 sc, 2 hdc, 3 sc, sc in next 3 sts), *2 dc, 3 sc; rep from * 5 times, 3 sc, 2 sc, rep from * 3 times (77)"
)


def _read(text: str) -> Piece:
    span = Span(0, len(text))
    return Piece(lines=read_lines(Source("<bench>", text), span, Context(terms="US")).value, span=span)


def _best(task: Callable[[], object], times: int = 3) -> float:
    """Seconds of the process in the fastest of several runs."""
    best = math.inf
    for _ in range(times):
        begin = time.process_time()
        task()
        best = min(best, time.process_time() - begin)
    return best


def _unremembered(text: str) -> Piece:
    """A text read as if each of its lines were new to the reader."""
    unread = patch.multiple(parse, LONG_BODY=-1, undressed=parse.undressed.__wrapped__)
    with unread, patch.object(labels, "_read", labels._read.__wrapped__):
        return _read(text)


def _yardstick() -> float:
    """Seconds for a million additions: what this machine does at this moment."""
    return _best(lambda: sum(i for i in range(1_000_000)))


def run() -> Iterator[str]:
    """Lines a second, the worst ambiguous line, a blanket, growth."""
    yard = _yardstick()
    yield f"a million additions here and now: {yard * 1e3:.0f} ms"
    text = "\n".join(COMMON * 100)
    further = count(1)
    read, fresh = _best(lambda: _read("\n" * next(further) + text), 5), _best(lambda: _unremembered(text), 5)
    pieces, new = iter([_read("\n" * next(further) + text) for _ in range(5)]), _unremembered(text)
    again, worked = _best(lambda: work((next(pieces),), Settings()), 5), _best(lambda: work((new,), Settings()), 5)
    n = len(new.lines)
    for kind, reading, working in (("said before, elsewhere", read, again), ("new", fresh, worked)):
        yield (
            f"common lines {kind}: read {reading / n * 1e6:.0f} us, worked {working / n * 1e6:.0f} us, "
            f"{n / (reading + working):,.0f} lines/s"
        )
    hard = _read(COMMON[0] + "\n" + AMBIGUOUS)
    slow = _best(lambda: work((hard,), Settings()))
    tried = work((hard,), Settings()).parts[0].lines[-1].alternatives
    yield f"an ambiguous line that fits nothing: {slow * 1e3:.1f} ms for {tried} readings"
    yield _blanket()
    yield from _growth()
    yield from _lace()


def _blanket() -> str:
    """400 rows of 400 stitches, counted by runs."""
    rows = ["Ch 401.", "Row 1: Sc in 2nd ch from hook and in each ch across, turn. (400)"]
    rows += [f"Row {k}: Ch 1, sc in each st across, turn. (400)" for k in range(2, 401)]
    piece = _read("\n".join(rows))
    return f"400 x 400 blanket proved in {_best(lambda: work((piece,), Settings())) * 1e3:.0f} ms"


def _growth() -> Iterator[str]:
    """Exponent of time against the number of rounds."""
    times = {}
    for n in (500, 1000, 2000):
        text = "Rnd 1: 6 sc in magic ring\nRnd 2: 2 sc in each st around\n"
        piece = _read(text + "\n".join(f"Rnd {k}: sc in each st around (12)" for k in range(3, n + 1)))
        times[n] = _best(lambda piece=piece: work((piece,), Settings()))  # type: ignore[misc]
    exponent = math.log(times[2000] / times[500]) / math.log(4)
    yield f"2,000 rounds in {times[2000] * 1e3:.0f} ms; growth exponent {exponent:.2f}"


LACE = {
    "mesh": ("*dc in next st, ch 1, skip next st; rep from * around", "*(dc, ch 1, dc) in next ch-1 sp; rep from * around"),
    "shells": (
        "*skip next 2 sts, 5 dc in next st, skip next 2 sts, sc in next st; rep from * around",
        "*5 dc in next sc, sc in center dc of next shell; rep from * around",
    ),
}  # fmt: skip


def _lace() -> Iterator[str]:
    """Exponent of time against the places of one round, whose passes each look ahead on the edge."""
    for kind, (first, second) in LACE.items():
        times = {}
        for n in (1200, 4800):
            piece = _unremembered(f"Rnd 1: {n} sc in magic ring\nRnd 2: {first}\nRnd 3: {second}")
            times[n] = _best(lambda piece=piece: work((piece,), Settings()))  # type: ignore[misc]
        exponent = math.log(times[4800] / times[1200]) / math.log(4)
        yield f"a round of {kind} on 4,800 stitches in {times[4800] * 1e3:.0f} ms; growth exponent {exponent:.2f}"
