"""What the `shape` command prints: a design in a few plain lines under its rounds."""

from generator.measures.measured import YarnAmount
from generator.shape.design import Design
from generator.shape.draw import nearness
from generator.shape.plan import Plan
from generator.shape.rescale import Change
from generator.shape.worked import height
from generator.wording.numbers import length_both, mass_both, yarn_length_both


def tell(made: Design) -> str:
    """Size, how near the wish, how pleasant, compared with rounding each round by itself."""
    best, other = made.plan, made.plain
    rows = [
        f"{len(best.counts)} rounds, {sum(best.counts) + 2 * best.straight * len(best.counts)} stitches; {_size(best)}",
        f"the outline wished for: {nearness(best)}",
        f"uneven rounds: {best.uneven}; rounding each round by itself would leave {other.uneven} uneven, "
        f"{other.deviation.mm:.1f} mm off",
    ]
    return "\n".join(rows)


def _size(best: Plan) -> str:
    across = 2 * max(r for r, _ in best.points)
    high = height(best.points)
    words = f"{_both(across + best.profile.straight_mm)} across"
    return words if high < best.hand.height else f"{words}, {_both(high)} high"


def _both(mm: float) -> str:
    return length_both(mm)


def changed(changes: tuple[Change, ...]) -> str:
    """What rescaling did, part by part."""
    rows = []
    for change in changes:
        name = change.part or "the piece"
        if change.kept:
            rows.append(f"{name}: left as it is, {change.kept}")
            continue
        if len(change.before) == 1:
            rows.append(f"{name}: {change.before[0]} chains become {change.after[0]}")
            continue
        rows.append(f"{name}: {len(change.before)} rounds up to {max(change.before)} stitches become "
                    f"{len(change.after)} rounds up to {max(change.after)}")  # fmt: skip
        rows.append(f"  before {_counts(change.before)}")
        rows.append(f"  now    {_counts(change.after)}")
        rows += [f"  not carried over: {words}" for words in change.lost]
    return "\n".join(rows)


def _counts(counts: tuple[int, ...]) -> str:
    """`6 12 18 24x5 18`."""
    out: list[str] = []
    i = 0
    while i < len(counts):
        n = 1
        while i + n < len(counts) and counts[i + n] == counts[i]:
            n += 1
        out.append(f"{counts[i]}" + (f"x{n}" if n > 1 else ""))
        i += n
    return " ".join(out)


def amounts(yarns: tuple[YarnAmount, ...]) -> str:
    """Yarn per colour, with what to have at hand."""
    rows = []
    for yarn in yarns:
        grams = f", about {mass_both(yarn.buy_grams)}" if yarn.buy_grams else ""
        rows.append(f"yarn {yarn.key}: have {yarn_length_both(yarn.buy_metres)} at hand{grams}")
    return "\n".join(rows)
