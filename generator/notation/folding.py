"""Marks and repeats: from `* … ; rep from * around` and `* … * 6 times` to `Repeat` steps.

While a line is read its steps stand in a flat list with marks in between; when a repeat names a mark, what came
after that mark folds into the repeat.
"""

from dataclasses import dataclass, field, replace

from generator.notation.tree import Chain, Choice, How, Option, Picot, Repeat, Stay, Step, Times, Turn, Work, Yarn
from generator.source import Span

REPLACED = -2
"""As `stop_at` until the line is settled: what follows `ending with` takes the place of the last pass's own ending."""


@dataclass(frozen=True, slots=True)
class Mark(Step):
    """A `*`, `**` or like sign, kept only until its repeat is read. `segment` notes the end of a sentence."""

    sign: str = "*"


@dataclass(slots=True)
class Folder:
    """The steps of a line so far, with open marks."""

    items: list[Step] = field(default_factory=list)
    segment: int = 0
    """Index in `items` where the current run of clauses began."""

    def mark(self, span: Span, sign: str) -> None:
        """Open a mark."""
        self.items.append(Mark(span, sign))
        self.segment = len(self.items)

    def add(self, steps: list[Step]) -> None:
        """Put steps at the end."""
        self.items.extend(steps)

    def last_mark(self, sign: str) -> int | None:
        """Index of the nearest open mark of that sign."""
        for at in range(len(self.items) - 1, -1, -1):
            item = self.items[at]
            if isinstance(item, Mark) and item.sign == sign:
                return at
        return None

    def first_mark(self) -> int | None:
        """Index of the outermost open mark."""
        for at, item in enumerate(self.items):
            if isinstance(item, Mark):
                return at
        return None

    def body_after(self, at: int) -> tuple[tuple[Step, ...], int]:
        """Steps after the mark at `at`, and how many of them stand before an inner mark that was never folded."""
        body: list[Step] = []
        stop = 0
        for item in self.items[at + 1 :]:
            if isinstance(item, Mark):
                stop = stop or len(body)
            else:
                body.append(item)
        return tuple(body), stop

    def fold(
        self,
        at: int,
        times: Times,
        span: Span,
        kind: str = "",
        more: bool = False,
        sure: bool = True,
        sign: str = "*",
        partial: bool = False,
    ) -> None:
        """Fold what follows index `at` (a mark, or -1 for the line's start) into a repeat."""
        body, stop = self.body_after(at) if at >= 0 else self.body_after(-1)
        whole = span if not body else body[0].span.cover(span)
        keep = self.items[: max(at, 0)]
        stop_at = stop if partial else 0
        repeat = repeated(body, times, whole, kind, more, sure, sign, stop_at)
        self.items = [*keep, *([repeat] if body else [])]
        self.segment = len(self.items)

    def fold_bare(self, times: Times, span: Span, more: bool = False, sure: bool = True) -> None:
        """`… , rep around` without a mark: all worked so far but a starting chain or a yarn."""
        at = 0
        while (
            at < len(self.items)
            and isinstance(self.items[at], (Chain, Yarn, Turn, Stay, Mark))
            and at < len(self.items) - 1
        ):
            if isinstance(self.items[at], Chain) and at > 0 and not isinstance(self.items[at - 1], (Yarn, Turn, Stay)):
                break
            at += 1
        founded = at > 0 and at < len(self.items) - 1 and _from_the_hook(self.items[at])
        if founded:
            at += 1  # `ch 38, 1 dc in 8th ch from hook, ch 2, skip 2, dc in next, repeat`: that one is the first post
        body = tuple(item for item in self.items[at:] if not isinstance(item, Mark))
        if not body:
            return
        # `3 sc, inc, repeat 6 times`: a list without a sign is said so often in all, unless it says more.
        repeat = repeated(body, times, body[0].span.cover(span), "closed", more, sure, "", 0)
        choice = repeat
        if at and isinstance(self.items[0], Chain) and not founded:
            whole = tuple(item for item in self.items if not isinstance(item, Mark))
            both = repeated(whole, times, body[0].span.cover(span), "rep", more, sure, "", 0)
            if not isinstance(both, Choice) and not isinstance(repeat, Choice):
                head = tuple(self.items[:at])
                apart, arch = (*head, repeat), _arch(whole)
                begins = Option(apart, "the chain begins the round", int(arch))
                part = Option((both,), "the chain is part of the repeat", int(not arch))
                self.items = [Choice(span, "rep-from", (part, begins) if arch else (begins, part))]
                self.segment = 1
                return
        self.items = [*self.items[:at], choice]
        self.segment = len(self.items)

    def close_open_marks(self) -> None:
        """A mark that no repeat ever named: the trade means `to the end` where it leaves that out."""
        at = self.first_mark()
        if at is None or at == len(self.items) - 1:
            return
        mark = self.items[at]
        if not isinstance(mark, Mark) or not set(mark.sign) <= {"*"}:
            return
        body = tuple(i for i in self.items[at + 1 :] if not isinstance(i, Mark))
        if not body:
            return
        span = body[0].span.cover(body[-1].span)
        around = Option(
            (Repeat(span, body, Times(to_end=True), 0, mark.sign),),
            "repeated to the end, as the sign with nothing behind it means",
        )
        once = Option(body, "worked once", 1)
        self.items = [*self.items[:at], Choice(span, "open-mark", (around, once))]

    def done(self) -> tuple[list[Step], list[Mark]]:
        """All steps, and the marks that nothing ever named."""
        return [i for i in self.items if not isinstance(i, Mark)], [i for i in self.items if isinstance(i, Mark)]


def _from_the_hook(step: Step) -> bool:
    return isinstance(step, Work) and step.target.how is How.FROM_HOOK and step.stitch != "sl-st"


def _arch(steps: tuple[Step, ...]) -> bool:
    """Whether the chain a round begins with is a loop like those of its repeat: a picot hangs on it."""
    following = next((step for step in steps[1:] if not isinstance(step, Yarn)), None)
    picot = isinstance(following, Work) and following.target.how is How.FROM_HOOK
    return isinstance(steps[0], Chain) and (picot or isinstance(following, Picot))


def repeated(
    body: tuple[Step, ...], times: Times, span: Span, kind: str, more: bool, sure: bool, sign: str, stop_at: int
) -> Step:
    """A repeat, or a choice where `n times` may be n in all or n more."""
    if times.to_end or times.until:
        return Repeat(span, body, times, stop_at, sign)
    if more:
        return Repeat(span, body, replace(times, n=times.n + 1), stop_at, sign)
    if sure or kind not in ("rep", "closed"):
        return Repeat(span, body, times, stop_at, sign)
    more_of = Option((Repeat(span, body, replace(times, n=times.n + 1), stop_at, sign),), f"{times.n} more times, {times.n + 1} in all")  # fmt: skip
    in_all = Option((Repeat(span, body, times, stop_at, sign),), f"{times.n} times in all")
    if kind == "closed":  # `*sc, inc* repeat 6 times`: what stands between two signs is a whole
        return Choice(span, "rep-closed", (in_all, replace(more_of, cost=1)))
    return Choice(span, "rep-n", (more_of, replace(in_all, cost=1)))
