"""Working texts that are right by construction: Hypothesis draws rounds, this module keeps the counts.

A drawn body is a list of moves, each knowing how many places it takes and how many it leaves; so every line carries a
true count, and whatever reads, works or rewrites it has to arrive at the same.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from hypothesis import strategies as st

TALL = {"sc": 1, "hdc": 2, "dc": 3, "tr": 4}
"""Stitches and the chains that bring the work to their height (turning-chain table: sc 1, hdc 2, dc 3, tr 4)."""


@dataclass(frozen=True, slots=True)
class Move:
    """Words for a stretch of a round, the places it takes and the stitches it leaves."""

    words: str
    takes: int
    leaves: int


def along(stitch: str, n: int, loop: str = "") -> Move:
    """One in each of the next n."""
    place = "next st" if n == 1 else f"next {n} sts"
    where = f"{loop} of {place}" if loop else place
    return Move(f"{stitch} in {where}", n, n)


def several(stitch: str, m: int, n: int = 1) -> Move:
    """m in each of the next n."""
    place = "next st" if n == 1 else f"each of next {n} sts"
    return Move(f"{m} {stitch} in {place}", n, m * n)


def together(stitch: str, n: int) -> Move:
    """n closed together."""
    return Move(f"{stitch}{n}tog", n, 1)


def mixed(first: str, second: str) -> Move:
    """Two kinds in one place."""
    return Move(f"[{first}, {second}] in next st", 1, 2)


@st.composite
def moves(draw: st.DrawFn, stitch: str = "sc", most: int = 6) -> Move:
    """One move."""
    kind = draw(st.sampled_from(["along", "along", "several", "several", "together", "loop", "mixed", "each"]))
    if kind == "along":
        return along(stitch, draw(st.integers(1, most)))
    if kind == "loop":
        return along(stitch, draw(st.integers(1, most)), draw(st.sampled_from(["front loop", "back loop"])))
    if kind == "several":
        return several(stitch, draw(st.integers(2, 3)))
    if kind == "each":
        return several(stitch, 2, draw(st.integers(2, 4)))
    if kind == "mixed":
        return mixed(stitch, draw(st.sampled_from(list(TALL))))
    return together(stitch, draw(st.integers(2, 3)))


def listed(body: Sequence[Move]) -> str:
    """Moves as a list."""
    return ", ".join(move.words for move in body)


@dataclass(frozen=True, slots=True)
class Round:
    """A line without its label: words and the count it leaves."""

    words: str
    count: int


@st.composite
def shaped_round(draw: st.DrawFn, below: int, stitch: str = "sc") -> Round:
    """A round or row over `below` places, using all of them."""
    form = draw(st.sampled_from(["plain", "double", "repeat", "repeat", "repeat", "led", "nested", "list"]))
    if form == "plain" or below < 3:
        return Round(f"{stitch} in each st around", below)
    if form == "double" and below <= 60:
        return Round(f"2 {stitch} in each st around", below * 2)
    if form == "list":
        return draw(_listed_round(below, stitch))
    return draw(_repeated_round(below, stitch, form))


@st.composite
def _listed_round(draw: st.DrawFn, below: int, stitch: str) -> Round:
    body: list[Move] = []
    left = below
    while left > 0 and len(body) < 5:
        move = draw(moves(stitch))
        if move.takes > left:
            break
        body.append(move)
        left -= move.takes
    if left:
        body.append(along(stitch, left))
    return Round(listed(body), sum(move.leaves for move in body))


@st.composite
def _repeated_round(draw: st.DrawFn, below: int, stitch: str, form: str) -> Round:
    """`lead, repeat` with the repeat over the rest: by asterisk, by number, or with an inner repeat."""
    lead = [draw(moves(stitch, most=2))] if form == "led" else []
    lead = [move for move in lead if move.takes < below - 1]
    rest = below - sum(move.takes for move in lead)
    passes = draw(st.sampled_from([d for d in range(1, rest + 1) if rest % d == 0]))
    width = rest // passes
    body: list[Move] = []
    if form == "nested" and width >= 5:
        inner = draw(moves(stitch, most=1))
        times = draw(st.integers(2, 3))
        if inner.takes * times < width:
            once = inner.words
            body = [
                Move(
                    f"({once}, {stitch} in next st) {times} times",
                    (inner.takes + 1) * times,
                    (inner.leaves + 1) * times,
                )
            ]
            if body[0].takes > width:
                body = []
    left = width - sum(move.takes for move in body)
    while left > 0 and len(body) < 3:
        move = draw(moves(stitch, most=max(1, left)))
        if move.takes > left:
            break
        body.append(move)
        left -= move.takes
    if left:
        body.append(along(stitch, left))
    made = sum(move.leaves for move in body) * passes + sum(move.leaves for move in lead)
    return Round(_repeat_words(draw, lead, body, passes), made)


def _repeat_words(draw: st.DrawFn, lead: Sequence[Move], body: Sequence[Move], passes: int) -> str:
    words = listed(body)
    nested = "(" in words
    forms = ["star", "count", "more"] if passes > 1 else ["once", "star"]
    if nested:
        forms = [form for form in forms if form != "count"]
    form = draw(st.sampled_from(forms))
    text = {
        "once": words,
        "star": f"*{words}; rep from * around",
        "count": f"({words}) {passes} times",
        "more": f"*{words}; rep from * {passes - 1} more time{'s' if passes > 2 else ''}",
    }[form]
    return ", ".join([*(move.words for move in lead), text])


LARGEST = 240


@st.composite
def spiral_text(draw: st.DrawFn) -> str:
    """A piece worked in a spiral from a ring."""
    n = draw(st.integers(4, 10))
    lines = [f"Rnd 1: {n} sc in magic ring ({n})"]
    number = 2
    for _ in range(draw(st.integers(1, 5))):
        drawn = draw(shaped_round(n, draw(st.sampled_from(["sc", "sc", "sc", "hdc", "dc"]))))
        if drawn.count > LARGEST or drawn.count < 3:
            continue
        last = (
            number + draw(st.integers(0, 3))
            if drawn.words.startswith(("sc in each", "hdc in each", "dc in each"))
            else number
        )
        label = f"Rnd {number}" if last == number else f"Rnds {number}-{last}"
        lines.append(f"{label}: {drawn.words} ({drawn.count})")
        n, number = drawn.count, last + 1
    lines.append(draw(st.sampled_from(["Fasten off", "Stuff firmly", "Note: leave a long tail here."])))
    return "\n".join(lines)


@st.composite
def joined_text(draw: st.DrawFn) -> str:
    """A piece in joined rounds from a ring; the chain at the start counts for tall stitches, not for sc."""
    stitch = draw(st.sampled_from(["sc", "dc", "tr"]))
    n = draw(st.integers(6, 16))
    chain, tall = TALL[stitch], stitch != "sc"
    begin = f"ch {chain} (counts as {stitch})" if tall else "ch 1"
    close = f"join with sl st to top of beg ch-{chain}" if tall else "join with sl st to first sc"
    lines = [f"Rnd 1: {begin}, {n - tall} {stitch} in magic ring, {close} ({n})"]
    for number in range(2, 2 + draw(st.integers(1, 4))):
        if tall:
            rest = draw(shaped_round(n - 1, stitch))
            words, count = f"{begin}, {rest.words}, {close}", rest.count + 1
        else:
            rest = draw(shaped_round(n - 1, stitch))
            words, count = f"{begin}, sc in same st, {rest.words}, {close}", rest.count + 1
        if count > LARGEST or count < 4:
            continue
        lines.append(f"Rnd {len(lines) + 1}: {words} ({count})")
        n = count
        del number
    lines.append("Fasten off")
    return "\n".join(lines)


@st.composite
def rows_text(draw: st.DrawFn) -> str:
    """A flat piece on a foundation chain, turned at every row."""
    stitch = draw(st.sampled_from(["sc", "dc"]))
    n = draw(st.integers(6, 40))
    if stitch == "sc":
        lines = [f"Ch {n + 1}", f"Row 1: sc in 2nd ch from hook, sc in each ch across, turn ({n})"]
    else:
        lines = [f"Ch {n + 2}", f"Row 1: dc in 4th ch from hook, dc in each ch across, turn ({n})"]
    for _ in range(draw(st.integers(1, 4))):
        if stitch == "sc":
            drawn = draw(shaped_round(n, stitch))
            words, count = f"ch 1, {drawn.words}, turn", drawn.count
        else:
            drawn = draw(shaped_round(n - 1, stitch))
            words, count = f"ch 3 (counts as dc), {drawn.words}, turn", drawn.count + 1
        if count > LARGEST or count < 4:
            continue
        lines.append(f"Row {len(lines)}: {words.replace('around', 'across')} ({count})")
        n = count
    lines.append("Fasten off")
    return "\n".join(lines)


@st.composite
def lace_text(draw: st.DrawFn) -> str:
    """Arches: stitches with chain spaces between them, and groups worked into the spaces."""
    n = draw(st.integers(4, 12))
    size = draw(st.integers(1, 6))
    lines = [
        f"Rnd 1: ch {3 + size} (counts as dc, ch {size}), *dc in magic ring, ch {size}; rep from * {n - 2} more times, "
        f"join with sl st to 3rd ch of beg ch-{3 + size} ({n} dc, {n} ch-{size} sps)",
    ]
    form = draw(st.sampled_from(["fill", "shells", "arches"]))
    go = f"sl st in next ch-{size} sp, ch 1"
    if form == "fill":
        m = draw(st.integers(2, 6))
        lines.append(
            f"Rnd 2: {go}, {m} sc in same sp, *{m} sc in next ch-{size} sp; rep from * {n - 2} more times, "
            f"join with sl st to first sc ({m * n})"
        )
    elif form == "shells":
        m = draw(st.integers(1, 3))
        group = f"[{m} dc, ch 2, {m} dc]" if m > 1 else "[dc, ch 2, dc]"
        lines.append(
            f"Rnd 2: {go}, {group} in same sp, *{group} in next ch-{size} sp; rep from * {n - 2} more times, "
            f"join with sl st to first dc ({2 * m * n} dc, {n} ch-2 sps)"
        )
    else:
        longer = draw(st.integers(3, 7))
        lines.append(
            f"Rnd 2: {go}, sc in same sp, ch {longer}, *sc in next ch-{size} sp, ch {longer}; rep from * {n - 2} more times, "
            f"join with sl st to first sc ({n} sc, {n} ch-{longer} sps)"
        )
    lines.append("Fasten off")
    return "\n".join(lines)


@st.composite
def oval_text(draw: st.DrawFn) -> str:
    """An oval round both sides of a chain, then rounds with their increases at the ends."""
    n = draw(st.integers(4, 20))
    side = n - 3
    lines = [
        f"Ch {n}",
        f"Rnd 1: sc in 2nd ch from hook, sc in next {side} ch, 3 sc in last ch; working along other side of chain, "
        f"sc in next {side} ch, 2 sc in last ch, join with sl st to first sc ({2 * side + 6})",
    ]
    count = 2 * side + 6
    for number in range(2, 2 + draw(st.integers(0, 2))):
        lines.append(f"Rnd {number}: ch 1, sc in same st, sc in each st around, join with sl st to first sc ({count})")
    lines.append("Fasten off")
    return "\n".join(lines)


@st.composite
def mesh_text(draw: st.DrawFn) -> str:
    """Stitches, chains over skipped stitches, and work into the spaces they make."""
    size = draw(st.integers(1, 3))
    passes = draw(st.integers(3, 9))
    width = size + draw(st.integers(1, 3))
    n = passes * width
    kept = width - size
    place, spaces = ("next st" if kept == 1 else f"next {kept} sts"), f"ch-{size} sp"
    skipped = "next st" if size == 1 else f"next {size} sts"
    first = draw(st.sampled_from([6, 8]))
    lines = [f"Rnd 1: {n} sc in magic ring ({n})"] if first == 6 else [f"Rnd 1: {n} hdc in magic ring ({n})"]
    lines.append(
        f"Rnd 2: *sc in {place}, ch {size}, skip {skipped}; rep from * around ({kept * passes} sc, {passes} {spaces}s)"
    )
    fill = draw(st.integers(1, 3))
    lines.append(
        f"Rnd 3: *sc in {place}, {f'{fill} ' if fill > 1 else ''}sc in next {spaces}; rep from * around ({(kept + fill) * passes})"
    )
    return "\n".join(lines)


@st.composite
def ribbed_text(draw: st.DrawFn) -> str:
    """Post stitches round tall ones, and rounds that are told by the number of an earlier one."""
    n = draw(st.integers(3, 12)) * 4
    front, back = draw(st.sampled_from([("fpdc", "bpdc"), ("fphdc", "bphdc"), ("fpdc", "dc")]))
    reach = draw(st.sampled_from([1, 2]))
    place = "next st" if reach == 1 else "next 2 sts"
    around = [f"{kind} around {place}" if kind[0] in "fb" else f"{kind} in {place}" for kind in (front, back)]
    end = 3 + draw(st.integers(1, 5))
    return "\n".join([
        f"Rnd 1: {n} dc in magic ring, join with sl st to first dc ({n})",
        f"Rnd 2: ch 2 (does not count as a st), *{around[0]}, {around[1]}; rep from * around, join with sl st to first st ({n})",
        f"Rnd 3: ch 1, sc in each st around, join with sl st to first sc ({n})",
        f"Rnds 4-{end}: Rep Rnd 3 ({n})" if draw(st.booleans()) else f"Rnd 4: same as Rnd 3 ({n})",
        "Fasten off",
    ])  # fmt: skip


@st.composite
def edged_text(draw: st.DrawFn) -> str:
    """Shells, clusters, popcorns, picots and spikes along a round, with a colour change before it."""
    passes = draw(st.integers(3, 10))
    kinds = draw(st.sampled_from(["shell", "cluster", "popcorn", "picot", "bobble"]))
    body, takes, leaves = {
        "shell": ("sc in next st, skip next 2 sts, 5 dc in next st, skip next 2 sts", 6, 6),
        "cluster": ("sc in next 2 sts, cluster in next st, sc in next st", 4, 4),
        "popcorn": ("sc in next st, popcorn in next st", 2, 2),
        "bobble": ("sc in next 3 sts, bobble in next st", 4, 4),
        "picot": ("sc in next 3 sts, picot", 3, 3),
    }[kinds]
    n = passes * takes
    return "\n".join([
        "With A",
        f"Rnd 1: {n} sc in magic ring ({n})",
        f"Rnd 2: sc in each st around ({n})",
        "To level the step: sc in next st, sl st in next st, fasten off",
        "With B",
        f"Rnd 3: Standing sc in any st, sc in each st around ({n})",
        f"Rnd 4: *{body}; rep from * around ({passes * leaves})",
        "Fasten off",
    ])  # fmt: skip


WORDS = """
sc dc hdc tr ch sl st sts sp ring magic next each same first last around across in to of the skip rep from * ( ) [ ] , ; . :
Rnd Row 1 2 3 4 6 12 18 times inc dec turn join 2tog sc2tog with A B change Note fasten off stuff ** counts as 2nd hook back loop
only more twice until there are measures 10 cm other side chain working picot shell popcorn cluster foundation - x = (6) (12 sts)
"""


def jumbled_texts() -> st.SearchStrategy[str]:
    """Lines of the trade's words in no order at all."""
    line = st.lists(st.sampled_from(WORDS.split()), min_size=1, max_size=14).map(" ".join)
    return st.lists(line, min_size=1, max_size=5).map("\n".join)


def working_texts() -> st.SearchStrategy[str]:
    """Any of them, in US terms."""
    return st.one_of(
        spiral_text(), joined_text(), rows_text(), lace_text(), oval_text(), mesh_text(), ribbed_text(), edged_text()
    )
