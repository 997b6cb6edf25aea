"""Questions about a line: what in it works, how it begins and ends, which of its readings are open."""

from generator.fabric.state import State
from generator.notation.tree import (
    Again,
    Chain,
    Choice,
    Convention,
    Define,
    FastenOff,
    Foundation,
    Group,
    How,
    Join,
    Line,
    Measure,
    Mesh,
    Noun,
    PartRef,
    Remark,
    Repeat,
    Ring,
    Skip,
    Stay,
    Step,
    Turn,
    Unread,
    Work,
    Yarn,
)  # fmt: skip
from generator.vocabulary.load import stitch

WORDS_ONLY = (Remark, Define, Convention, Stay, PartRef, Yarn, FastenOff, Turn)


def flat(steps: tuple[Step, ...]) -> list[Step]:
    out: list[Step] = []
    for step in steps:
        if isinstance(step, Choice):
            out.extend(flat(step.options[0].steps))
        elif isinstance(step, (Repeat, Group)):
            out.append(step)
            out.extend(flat(step.steps))
        else:
            out.append(step)
    return out


def index_of(steps: tuple[Step, ...], wanted: Step) -> int:
    for at, step in enumerate(steps):
        if step is wanted or wanted in flat((step,)):
            return at
    return len(steps)


def first_unread(steps: tuple[Step, ...]) -> Unread | None:
    """The first step that was not understood, wherever it stands."""
    for step in flat(steps):
        if isinstance(step, Unread):
            return step
    return None


def works(steps: tuple[Step, ...]) -> bool:
    """Whether steps make or move stitches."""
    return any(not isinstance(step, WORDS_ONLY) or (isinstance(step, Yarn) and step.standing) for step in steps)


def each_open(steps: tuple[Step, ...]) -> bool:
    for step in flat(steps):
        if (
            isinstance(step, Work)
            and step.target.noun is Noun.STITCH
            and not step.target.spaces
            and not step.target.chains
        ) and (step.target.how.value == "each" or (step.target.how.value == "next" and step.target.count > 1)):
            return True
    return False


def ends(steps: tuple[Step, ...]) -> tuple[tuple[Step, ...], tuple[Step, ...], bool]:
    """Steps without what ends them (`ch 1, turn`): the rest, the turning chain, whether the work is turned."""
    at = len(steps)
    turn = chain = -1
    while at > 0:
        step = steps[at - 1]
        if isinstance(step, Turn) and turn < 0:
            turn = at - 1
        elif (
            isinstance(step, Chain)
            and chain < 0
            and (turn >= 0 or any(isinstance(s, Turn) for s in steps[max(0, at - 4) : at - 1]))
        ):
            chain = at - 1
        elif not isinstance(step, (Remark, Stay, FastenOff, Define)):
            break
        at -= 1
    if turn < 0:
        return steps, (), False
    if not any(isinstance(s, (Work, Repeat, Group, Mesh)) for s in steps[:turn]):
        return steps, (), False
    kept = tuple(s for k, s in enumerate(steps) if k not in (turn, chain))
    return kept, (steps[chain],) if chain >= 0 else (), True


def only_ends(steps: tuple[Step, ...]) -> bool:
    """`ch 4, turn` with nothing worked before it: how a course that is told already ends."""
    return any(isinstance(s, Turn) for s in steps) and all(isinstance(s, (Chain, *WORDS_ONLY)) for s in steps)


def begins(steps: tuple[Step, ...], state: State) -> tuple[tuple[Step, ...], bool]:
    """Steps without a turn at their very beginning, and whether there was one that still has to be done."""
    at = 0
    while at < len(steps) and isinstance(steps[at], (Remark, Chain, Yarn, Stay, Turn)):
        if isinstance(steps[at], Turn):
            rest = steps[:at] + steps[at + 1 :]
            return rest, not state.turned and state.started
        at += 1
    return steps, False


def founded(body: tuple[Step, ...]) -> tuple[Step, ...]:
    """At the very beginning a chain is a ring (when joined) or a foundation (when worked into)."""
    first = next((s for s in flat(body) if isinstance(s, (Work, Ring, Join))), None)
    if _lifts(body, first):
        return body  # `chain 3, and make trebles all around`: along something else
    if netted := _squares(body):
        return netted
    if isinstance(first, Work) and first.target.noun is Noun.RING:
        return body  # `ch 3, 11 dc in magic ring`: the chain is the round's own beginning
    out: list[Step] = []
    k = 0
    while k < len(body):
        step = body[k]
        if (
            isinstance(step, Work)
            and step.stitch == "sl-st"
            and step.target.implied
            and k + 1 < len(body)
            and isinstance(body[k + 1], Chain)
        ):
            k += 1  # `sl st, ch 11`: a slip knot, written as the stitch it looks like
            continue
        if isinstance(step, Chain) and _into_ring(body[k + 1 :]):
            return (*out, Ring(step.span), *body[k:])
        if isinstance(step, Chain) and not any(isinstance(s, (Ring, Foundation, Work)) for s in out):
            rest = [s for s in body[k + 1 :] if not isinstance(s, (Remark, Define))]
            if rest and isinstance(rest[0], Ring):
                k += 1
                continue
            if rest and isinstance(rest[0], Join) and step.n >= 2:
                out.append(Ring(step.span, step.n))
                out.extend(s for s in body[k + 1 :] if s is not rest[0])
                return tuple(out)
            out.append(Foundation(step.span, step.n))
            out.extend(body[k + 1 :])
            return tuple(out)
        out.append(step)
        k += 1
    return tuple(out)


def _squares(body: tuple[Step, ...]) -> tuple[Step, ...]:
    """A row of filet with nothing below it, from the middle of a pattern: worked along a chain of the right length."""
    works = [s for s in flat(body) if isinstance(s, (Work, Group, Mesh))]
    first = works[0] if works else None
    grown = isinstance(first, Work) and first.target.how is How.FIRST
    if not isinstance(body[0] if body else None, Chain) or not (grown or isinstance(first, Mesh)):
        return ()
    if not all(isinstance(s, Mesh) for s in works[int(grown) :]) or len(works) < 2:
        return ()
    width = next(s.chains for s in works if isinstance(s, Mesh)) + 1
    n = sum(_made(s) for s in body) - int(grown)
    return (Foundation(body[0].span, max(1, n * width + int(grown))), *body)


def _made(step: Step) -> int:
    """Squares a step makes."""
    if isinstance(step, Mesh):
        return step.n
    if isinstance(step, Choice):
        return sum(_made(inner) for inner in step.options[0].steps)
    return step.times.n * sum(_made(inner) for inner in step.steps) if isinstance(step, Repeat) else 0


def _lifts(body: tuple[Step, ...], first: Step | None) -> bool:
    """Whether the chain at the very beginning only lifts the hook to a stitch that goes in each of the places below."""
    chain = next((s for s in body if not isinstance(s, (Remark, Yarn))), None)
    if not isinstance(chain, Chain) or not isinstance(first, Work):
        return False
    each = first.target.how.value == "each" and first.target.noun is Noun.STITCH
    return each and chain.n == stitch(first.stitch).turning_chain and chain.n >= 2


def _into_ring(steps: tuple[Step, ...]) -> bool:
    """`Ch 3, 11 dc in magic ring`: the chain is the round's beginning, the ring comes with the first stitch."""
    for step in flat(steps):
        if isinstance(step, (Ring, Join)):
            return False
        if isinstance(step, (Work, Group)):
            return step.target.noun is Noun.RING
    return False


def levels(body: tuple[Step, ...]) -> bool:
    """A line of a few stitches, one after the other, that goes on after a finished round."""
    working = [s for s in body if not isinstance(s, WORDS_ONLY)]
    works = [s for s in working if isinstance(s, Work)]
    if not works or len(works) < len(working):
        return False
    few = sum(w.target.count * w.each for w in works) <= 4
    ends = any(isinstance(s, FastenOff) for s in body) or all(w.stitch == "sl-st" for w in works)
    return few and ends and all(w.target.how.value == "next" and w.target.noun is Noun.STITCH for w in works)


def finishes(body: tuple[Step, ...], line: Line) -> bool:
    """`Rnd 9: Sl st in next st, fasten off`: numbered, yet no round; it only ends the one below."""
    if line.stated is not None or not any(isinstance(s, FastenOff) for s in body):
        return False
    works = [s for s in body if isinstance(s, Work)]
    return bool(works) and all(w.stitch == "sl-st" for w in works)


def bridged(body: tuple[Step, ...], left: int) -> bool:
    """Whether a last chain may span so many places: fewer than one stitch is from the next where the course says on
    which one it stands (`on every 3rd`), or just as many as it skips under its other chains."""
    steps = flat(body)
    widest = max((s.target.nth for s in steps if isinstance(s, Work)), default=0)
    ending = next((s for s in reversed(steps) if isinstance(s, (Chain, Skip, Work))), None)
    unsaid = not isinstance(ending, Skip)  # a course that says of its last chain, too, what is skipped means just that
    return left < widest or (
        unsaid and any(isinstance(s, Skip) and s.target.count == left and s.target.noun is Noun.STITCH for s in steps)
    )


def leaves(body: tuple[Step, ...], left: int) -> bool:
    """The text says that stitches are left unworked, or a row turns back early on purpose."""
    last = next((s for s in reversed(body) if isinstance(s, (Work, Repeat, Group))), None)
    if isinstance(last, Work) and last.target.leave == left > 0:
        return True  # `dc in each st to last 3 sts, turn`
    return any(
        isinstance(s, Remark) and any(w in s.words for w in ("unworked", "leave remaining", "left unworked", "leaving"))
        for s in body
    )


def by_itself(steps: tuple[Step, ...]) -> bool:
    """Whether no reading of the steps names other courses, to be worked again or to be worked into."""
    for step in steps:
        course = getattr(step, "course", False) or getattr(getattr(step, "target", None), "course", False)
        if course or isinstance(step, (Again, Measure)):
            return False
        if isinstance(step, (Repeat, Group)) and not by_itself(step.steps):
            return False
        if isinstance(step, Choice) and not all(by_itself(option.steps) for option in step.options):
            return False
    return True
