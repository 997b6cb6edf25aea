"""Steps as they come in, and how bare ones are gathered into a place that follows them."""

from dataclasses import replace

from generator.notation.bare import bare_stitch, each_hole, in_one, next_stitch, one_place
from generator.notation.cursor import Cursor
from generator.notation.folding import Folder
from generator.notation.memory import Memory
from generator.notation.picots import for_picot
from generator.notation.tokens import Token
from generator.notation.tree import (
    NEXT,
    Chain,
    Choice,
    Group,
    How,
    Join,
    Noun,
    Option,
    Picot,
    Remark,
    Repeat,
    Ring,
    Stated,
    Step,
    Target,
    Times,
    Work,
    Yarn,
)  # fmt: skip
from generator.source import Span
from generator.vocabulary.load import stitch


class Gathering:
    """A folder of steps, with what is stated and named on the way."""

    def __init__(self, c: Cursor, memory: Memory, inside: bool = False) -> None:
        self.c = c
        self.memory = memory
        self.inside = inside
        self.folder = Folder()
        self.stated: Stated | None = None
        self.lonely: list[Span] = []
        self.naming = ""
        self.sewn = False
        """The line tells a seam, so its count is not that of a course."""
        self.drawn: Target | None = None
        """Where loops were last drawn from, in a stitch told loop by loop."""

    def sub(self, inner: Cursor) -> "Gathering":
        """What stands inside a bracket, read (see `passage.Passage`)."""
        raise NotImplementedError

    def _put(self, steps: list[Step]) -> None:
        """Add steps; a stitch with its place may gather the bare ones before it into one place."""
        first = steps[0]
        if len(steps) == 1 and self._picot(first):
            return
        if (
            len(steps) == 1
            and isinstance(first, Work)
            and first.target.how is How.EACH
            and first.target.implied
            and not first.target.leave
        ) and self._list_around(first):
            return
        if len(steps) == 1 and isinstance(first, Work) and self._both_in_each(first):
            return
        closes = isinstance(first, Work) and first.stitch == "sl-st" and first.target.how is How.FIRST
        if len(steps) == 1 and isinstance(first, Work) and not first.target.implied and not closes:
            bare = self._bare_before() if one_place(first) or each_hole(first) else 0
            if bare and (one_place(first) or bare > 1 or isinstance(self.folder.items[-1], Chain)):
                self._gather(first, bare)
                return
        self.folder.add(steps)

    def _picot(self, closing: Step) -> bool:
        """`ch 5, sl st in top of sc for picot`: said to be one, whatever it is closed in."""
        chain = self.folder.items[-1] if self.folder.items else None
        if not (isinstance(closing, Work) and closing.each == 1 and closing.stitch in ("sl-st", "sc")):
            return False
        if not isinstance(chain, Chain) or chain.n < 2 or not for_picot(self.c):
            return False
        self.folder.items[-1] = Picot(chain.span.cover(closing.span), chain.n, closing.stitch, "top")
        return True

    def _both_in_each(self, second: Work) -> bool:
        """`FPdc around each st and dc in same st`: both in every place."""
        items = self.folder.items
        last = items[-1] if items else None
        if second.target.how is not How.SAME or not isinstance(last, Work) or last.target.how is not How.EACH:
            return False
        before = [t for t in self.c.tokens if t.end <= second.span.start]
        if not before or before[-1].value != "and":
            return False
        inner = (replace(last, target=replace(NEXT, loop=last.target.loop)), replace(second, target=NEXT))
        items[-1] = Group(last.span.cover(second.span), inner, last.target)
        return True

    def _list_around(self, last: Work) -> bool:
        """`2 sc, dec around`: the last one all the way round, or the whole list over and over."""
        items = self.folder.items
        at = len(items)
        while at > self.folder.segment and (bare_stitch(items[at - 1]) or next_stitch(items[at - 1])):
            at -= 1
        run = tuple(items[at:])
        if not run:
            return False
        each = Target(implied=True, loop=last.target.loop, count=2 if last.decrease else 1)
        whole = (*run, replace(last, target=each))
        span = run[0].span.cover(last.span)
        apart = Option((*run, last), "the last stitch all the way round")
        over = Option((Repeat(span, whole, Times(to_end=True), 0, ""),), "the whole list repeated round", 1)
        self.folder.items = [*items[:at], Choice(span, "list-around", (apart, over))]
        return True

    def _bare_before(self) -> int:
        """How many steps at the end stand bare (`3 dc, ch 2,`) and could share the place that follows."""
        items = self.folder.items
        at = len(items)
        stitches = False
        start = at
        while at > self.folder.segment:
            item = items[at - 1]
            if isinstance(item, Chain) and item.counts is None and not item.stands_for:
                pass
            elif bare_stitch(item):
                stitches = True
                start = at - 1
            else:
                break
            at -= 1
        return len(items) - start if stitches else 0

    def _gather(self, work: Work, bare: int) -> None:
        items = self.folder.items
        head, run = items[: len(items) - bare], tuple(items[len(items) - bare :])
        inner = (*tuple(in_one(step) for step in run), replace(work, target=NEXT))
        group = Group(run[0].span.cover(work.span), inner, work.target, self.naming)
        if self.naming:
            self.memory.specials[self.naming], self.naming = inner, ""
            self.folder.items = [*head, group]
            return
        if each_hole(work):
            self.folder.items = [*head, group]
            return
        apart = Option((*run, work), "each in its own place")
        together = Option((group,), "all in one place")
        space = work.target.noun in (Noun.SPACE, Noun.CORNER, Noun.RING)
        chained = any(isinstance(step, Chain) for step in run)
        if (
            not space
            and not chained
            and len({getattr(s, "stitch", "") for s in run}) < 2
            and work.stitch == getattr(run[0], "stitch", work.stitch)
        ):
            self.folder.add([work])
            return
        joined = len(run) == 1 and self._said_and(run[0].span, work.span) and not work.target.loop
        # `a treble and a double in the next`: both there; so are both halves of a shell, parted by its chain
        space = space or joined or _halves(inner)
        options = (replace(together, cost=0), replace(apart, cost=1)) if space else (apart, replace(together, cost=2))
        self.folder.items = [*head, Choice(group.span, "run-in-one", options)]

    def _said_and(self, before: Span, after: Span) -> bool:
        """Whether nothing but `and` stands between two stitches: `1 tr and 1 dc`."""
        between = [t for t in self.c.tokens if before.end <= t.start and t.end <= after.start]
        return not any(t.type == "sign" for t in between) and self._starts_with_and(after, between)

    def _starts_with_and(self, after: Span, between: list[Token]) -> bool:
        here = next((t for t in self.c.tokens if t.start >= after.start), None)
        return any(t.value == "and" for t in between) or (here is not None and here.value == "and")

    def take_place(self, target: Target, span: Span) -> bool:
        """A place that comes after its stitches and a comma or a name: `3 dc, ch 1, 3 dc (shell) in next loop`."""
        bare = self._bare_before()
        if not bare:
            return False
        items = self.folder.items
        run = items[len(items) - bare :]
        self.folder.items = items[: len(items) - bare]
        if len(run) == 1 and isinstance(run[0], (Work, Choice)):
            work = in_one(run[0])
            if isinstance(work, Work):
                self.folder.add([replace(work, target=target, span=work.span.cover(span))])
        else:
            parts = tuple(in_one(step) for step in run)
            self.folder.add([Group(run[0].span.cover(span), parts, target, self.naming)])
            if self.naming:
                self.memory.specials[self.naming] = parts
        self.naming = ""
        return True

    def _into_ring(self, ring: list[Step]) -> list[Step]:
        """The chain (and the slip stitch) before `to form a ring` are the ring; stitches made before it are joined."""
        items = self.folder.items
        made = [s for s in items if isinstance(s, Work) and s.stitch != "sl-st"]
        if made and stitch(made[0].stitch).family == "foundation":
            return [] if isinstance(items[-1], Join) else [Join(ring[0].span)]
        if (
            len(items) > 1
            and isinstance(items[-1], Work)
            and items[-1].stitch == "sl-st"
            and isinstance(items[-2], Chain)
        ):
            items.pop()
        at = len(items) - 1
        while at >= 0 and isinstance(items[at], (Remark, Yarn)):  # `ch 40, being careful not to twist, join …`
            at -= 1
        if at >= 0 and isinstance(last := items[at], Chain):
            ring[0] = Ring(last.span.cover(ring[0].span), last.n)
            del items[at]
        return ring

    def again_in(self, target: Target, span: Span) -> bool:
        """`dc in 3rd ch from hook (…) and in each ch to end`: the stitch before, in a further place."""
        last = self.folder.items[-1] if self.folder.items else None
        before = self.c.tokens[: self.c.i]
        said_and = any(t.value == "and" and t.start < span.start and span.start - t.end <= 1 for t in before[-14:])
        if not isinstance(last, Work) or last.target.implied or not said_and:
            return False
        self.folder.add([Work(span, last.stitch, last.each, target)])
        return True


def _halves(steps: tuple[Step, ...]) -> bool:
    """`2 dc, ch 2, 2 dc`: two like bunches with a chain between them."""
    if len(steps) != 3 or not isinstance(steps[1], Chain):
        return False
    first, last = steps[0], steps[2]
    like = isinstance(first, Work) and isinstance(last, Work) and first.stitch == last.stitch
    return like and first.each == last.each > 1  # type: ignore[attr-defined]
