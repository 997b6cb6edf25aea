"""Small fabrics worked by hand, so that charts can be tested without the reader and the worker."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from generator.fabric.model import Course, Into, Live, Make, Part, Role, Run
from generator.notation.tree import Loop


@dataclass(frozen=True)
class St:
    kind: str
    parents: tuple[int, ...] = ()
    into: Into = Into.STITCH
    role: Role = Role.STITCH
    loop: Loop = Loop.BOTH
    group: int = -1


@dataclass
class Bench:
    """Works a part course by course; `last` are the live places of the course before, spaces as tuples of chains."""

    courses: list[Course] = field(default_factory=list)
    number: int = 0
    last: list[tuple[str, tuple[int, ...]]] = field(default_factory=list)

    def course(
        self, stitches: Sequence[St], make: Make = Make.SPIRAL, yarn: str = "", numbered: bool = True, forward: bool = True,
        counted_start: bool = False, cut: bool = False,
    ) -> list[tuple[str, tuple[int, ...]]]:  # fmt: skip
        runs, edge, live = [], [], []
        below = len(self.last)
        for st in stitches:
            first = self.number
            self.number += 1
            parent = st.parents[0] if st.parents else -1
            takes = len(st.parents) or 1
            step = st.parents[1] - st.parents[0] if len(st.parents) > 1 else 1
            runs.append(Run(first, 1, st.kind, yarn, parent, takes, 1, step, st.into, st.loop, st.role, st.group))
            upright = st.role is Role.START
            if st.role in (Role.STITCH, Role.EXTRA, Role.FOUNDATION):
                if st.kind == "ch" and live and live[-1][0] == "ch" and make is not Make.FOUNDATION:
                    live[-1] = ("ch", (*live[-1][1], first))
                else:
                    live.append((st.kind, (first,)))
            elif upright and counted_start and not (live and live[0][0] == "start"):
                live.append(("start", (first,)))
            elif upright and counted_start:
                live[0] = ("start", (*live[0][1], first))
        for kind, numbers in live:
            edge.append(
                Live(
                    "dc" if kind == "start" else kind,
                    numbers[-1] if kind == "start" else numbers[0],
                    1 if kind == "start" else len(numbers),
                    1,
                    kind != "ch",
                )
            )
        live = [("st", (n[-1],)) if k == "start" else (k, n) for k, n in live]
        count = sum(1 for k, _ in live if k != "ch")
        kinds: dict[str, int] = {}
        for k, n in live:
            name = k if k != "ch" else f"sp:{len(n)}"
            kinds[name] = kinds.get(name, 0) + 1
        self.courses.append(Course(
            (len([c for c in self.courses if c.number]) + 1) if numbered else None, len(self.courses), make, forward, "RS" if forward else "WS",
            tuple(runs), tuple(edge), count, below, count, tuple(kinds.items()), below, cut=cut,
        ))  # fmt: skip
        self.last = live
        return live

    def part(self, name: str = "Piece") -> Part:
        return Part(name, 1, (), tuple(self.courses))


def disc(rounds: int, kind: str = "sc", by: int = 6, even: int = 0, down: int = 0, make: Make = Make.SPIRAL) -> Part:
    """A flat disc of `by` more a round, then `even` plain rounds, then `down` decreasing ones."""
    bench = Bench()

    def start() -> list[St]:
        if make is Make.SPIRAL:
            return []
        if kind == "dc":
            return [St("ch", role=Role.START)] * 3
        return [St("ch", role=Role.START)]

    counted = make is Make.JOINED and kind == "dc"

    def close(first: int) -> list[St]:
        return [St("sl-st", (first,), role=Role.JOIN)] if make is Make.JOINED else []

    lead = start()
    body = [St(kind, (), Into.RING)] * (by - (1 if counted else 0))
    bench.course(
        [*lead, *body, *close(bench.number + (len(lead) - 1 if counted else len(lead)))], make, counted_start=counted
    )
    for r in range(2, rounds + 1):
        tops, made = [n[-1] for _, n in bench.last], []
        for i, top in enumerate(tops):
            made += [St(kind, (top,), group=i)] * (2 if i % (r - 1) == (r - 2) else 1)
        if counted:
            made = made[1:]
        lead = start()
        bench.course(
            [*lead, *made, *close(bench.number + (len(lead) - 1 if counted else len(lead)))],
            make,
            counted_start=counted,
        )
    for _ in range(even):
        bench.course([St(kind, n) for _, n in bench.last], make)
    for _ in range(down):
        tops = [n[-1] for _, n in bench.last]
        per = len(tops) // by
        made, i = [], 0
        while i < len(tops):
            if i % per == per - 2:
                made.append(St(f"{kind}2tog", (tops[i], tops[i + 1])))
                i += 2
            else:
                made.append(St(kind, (tops[i],)))
                i += 1
        bench.course(made, make)
    return bench.part()


def granny(rounds: int = 4, sides: int = 4) -> Part:
    """Groups of three with corners of (3 dc, ch 2, 3 dc), started with a standing stitch."""
    bench = Bench()
    ring: list[St] = []
    for _ in range(sides):
        ring += [St("dc", (), Into.RING)] * 3 + [St("ch")] * 2
    bench.course([*ring, St("sl-st", (0,), role=Role.JOIN)], Make.JOINED)
    for _ in range(2, rounds + 1):
        row: list[St] = []
        live = bench.last
        corner_spots = [i for i, (k, n) in enumerate(live) if k == "ch"]
        first = bench.number
        for i, spot in enumerate(corner_spots):
            row += (
                [St("dc", live[spot][1], Into.SPACE)] * 3 + [St("ch")] * 2 + [St("dc", live[spot][1], Into.SPACE)] * 3
            )
            following = corner_spots[(i + 1) % len(corner_spots)]
            stretch = live[spot + 1 : following] if following > spot else live[spot + 1 :] + live[:following]
            for j in range(2, len(stretch), 3):
                if j + 1 < len(stretch):
                    row += [St("dc", (stretch[j][1][0], stretch[j + 1][1][0]), Into.GAP)] * 3
        bench.course([*row, St("sl-st", (first,), role=Role.JOIN)], Make.JOINED)
    return bench.part()


def flower(petals: int = 6) -> Part:
    """Twelve sc in a ring, ch-3 spaces, petals, then a round of loops with picots."""
    bench = Bench()
    bench.course([St("sc", (), Into.RING)] * (2 * petals) + [St("sl-st", (0,), role=Role.JOIN)], Make.JOINED)
    tops = [n[-1] for _, n in bench.last]
    row: list[St] = []
    for i in range(petals):
        row += [St("sc", (tops[2 * i],)), *[St("ch")] * 3]
    bench.course([*row, St("sl-st", (bench.number,), role=Role.JOIN)], Make.JOINED)
    arches = [n for k, n in bench.last if k == "ch"]
    row = []
    for i, arch in enumerate(arches):
        for kind in ("sc", "hdc", "dc", "dc", "dc", "hdc", "sc"):
            row.append(St(kind, arch, Into.SPACE, group=i))
    bench.course([*row, St("sl-st", (bench.number,), role=Role.JOIN)], Make.JOINED)
    live = [n[-1] for _, n in bench.last]
    row = []
    for i in range(petals):
        row += [
            St("sc", (live[7 * i + 3],)),
            *[St("ch", role=Role.PICOT)] * 3,
            St("sl-st", (), role=Role.PICOT),
            *[St("ch")] * 7,
        ]
    bench.course([*row, St("sl-st", (bench.number,), role=Role.JOIN)], Make.JOINED, cut=True)
    return bench.part()


def oval(chains: int = 8, rounds: int = 4) -> Part:
    """Both sides of a chain, three in either end, then increases at the ends."""
    bench = Bench()
    bench.course([St("ch", role=Role.FOUNDATION)] * chains, Make.FOUNDATION, numbered=False)
    row = [St("sc", (i,)) for i in range(chains - 2, 0, -1)] + [St("sc", (0,))] * 3
    row += [St("sc", (i,)) for i in range(1, chains - 2)] + [St("sc", (chains - 2,))] * 2
    bench.course(row)
    side = chains - 2
    for r in range(2, rounds + 1):
        tops = [n[-1] for _, n in bench.last]
        made: list[St] = []
        ends = 3 * (r - 1)
        straight = side - 1
        plan = [1] * straight + ([2, *[1] * (r - 2)] * 3)[:ends] + [1] * straight + ([2, *[1] * (r - 2)] * 3)[:ends]
        plan = (plan + [1] * len(tops))[: len(tops)]
        for top, n in zip(tops, plan, strict=True):
            made += [St("sc", (top,))] * n
        bench.course(made)
    return bench.part()


def rows(width: int = 12, count: int = 5, kind: str = "dc") -> Part:
    """Flat rows with turning chains that count."""
    bench = Bench()
    bench.course([St("ch", role=Role.FOUNDATION)] * width, Make.FOUNDATION, numbered=False)
    for r in range(count):
        tops = [n[-1] for _, n in bench.last][::-1]
        bench.course(
            [*[St("ch", role=Role.START)] * 3, *[St(kind, (t,)) for t in tops[1:]]],
            Make.ROW,
            forward=r % 2 == 0,
            counted_start=True,
        )
    return bench.part()


def shells(repeats: int = 3, count: int = 4) -> Part:
    """Rows of five-dc shells with sc between."""
    bench = Bench()
    width = 6 * repeats + 1
    bench.course([St("ch", role=Role.FOUNDATION)] * width, Make.FOUNDATION, numbered=False)
    tops = [n[-1] for _, n in bench.last][::-1]
    row = [St("ch", role=Role.START), St("sc", (tops[0],))]
    for i in range(repeats):
        row += [St("dc", (tops[6 * i + 3],), group=i)] * 5 + [St("sc", (tops[6 * i + 6],))]
    bench.course(row, Make.ROW)
    for r in range(1, count):
        tops = [n[-1] for _, n in bench.last][::-1]
        row = [St("ch", role=Role.START)] * 3 + [St("dc", (tops[0],), group=90 + r)] * 2
        for i in range(repeats):
            row += [St("sc", (tops[6 * i + 3],))]
            n = 5 if i + 1 < repeats else 3
            row += [St("dc", (tops[6 * i + 6],), group=i)] * n
        bench.course(row, Make.ROW, forward=r % 2 == 0, counted_start=True)
        break
    return bench.part()
