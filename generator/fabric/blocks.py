"""Blocks worked corner to corner: `ch 6, dc in 4th ch from hook, dc in next 2 ch` begins one, its skipped chains are the
loop that the next row joins to."""

from generator.fabric.asking import flat
from generator.fabric.hand import Hand
from generator.notation.tree import Chain, How, Step, Target, Work
from generator.vocabulary.load import stitch


def block_begins(chain: Chain, rest: tuple[Step, ...]) -> bool:
    """Whether a row's beginning chain is worked back along with tall stitches."""
    first = next((step for step in flat(rest) if isinstance(step, Work)), None)
    if first is None or first.target.how is not How.FROM_HOOK or stitch(first.stitch).turning_chain < 2:
        return False
    return 3 <= first.target.nth < chain.n and chain.counts is None and not chain.stands_for


def first_loop(hand: Hand, target: Target) -> bool:
    """`sl st in ch-3 sp` of the very first block: its loop is the chain skipped at its beginning."""
    if not hand.items or not hand.items[-1].start or any(item.space for item in hand.items):
        return False
    return target.how is How.NEXT and target.size == stitch(hand.items[-1].kind).turning_chain >= 2
