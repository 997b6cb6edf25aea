"""A hand that moves along the live edge and takes places from it: stitches one by one, spaces whole."""

from bisect import bisect_left

from generator.fabric.edge import Item, Taken
from generator.source import named


class Hand:
    """Moves along an edge. `i` is the item under the hand, `off` how many of its stitches are taken already."""

    __slots__ = ("_known", "i", "items", "jumped", "off", "spaces_used", "used")

    def __init__(self, items: list[Item]) -> None:
        self.items = items
        self.i = 0
        self.off = 0
        self.used = 0
        self.jumped = False
        self.spaces_used = False
        self._known: tuple[list[Item], list[int], dict[int, list[int]]] | None = None

    def copy(self) -> "Hand":
        """A hand at the same place of the same edge."""
        other = Hand(self.items)  # the list itself is never changed, only replaced
        other.i, other.off, other.used = self.i, self.off, self.used
        other.jumped, other.spaces_used, other._known = self.jumped, self.spaces_used, self._known
        return other

    def _ahead(self) -> tuple[list[int], dict[int, list[int]]]:
        """Counted stitches from every item of the edge to its end, and where its spaces are, by their size (0: all of
        them). Every pass of a repeat asks, and no edge changes while a hand moves on it."""
        if self._known is None or self._known[0] is not self.items:
            stitches, spaces = [0], dict[int, list[int]]()
            for item in reversed(self.items):
                stitches.append(stitches[-1] + (item.n if item.counted else 0))
            for at, item in enumerate(self.items):
                if item.space:
                    spaces.setdefault(0, []).append(at)
                    spaces.setdefault(item.n, []).append(at)
            self._known = (self.items, stitches[::-1], spaces)
        return self._known[1], self._known[2]

    @property
    def lace(self) -> bool:
        """Whether there is a space anywhere on the edge."""
        return bool(self._ahead()[1])

    def stitches_left(self) -> int:
        """Counted stitches ahead of the hand."""
        if self.i >= len(self.items):
            return 0
        return self._ahead()[0][self.i] - (self.off if self.items[self.i].counted else 0)

    def spaces_left(self, size: int = 0) -> int:
        """Spaces ahead of the hand (of that size, if given)."""
        there = self._ahead()[1].get(size, ())
        return len(there) - bisect_left(there, self.i)

    def _advance(self, taken: int) -> None:
        item = self.items[self.i]
        self.off += taken
        if self.off >= item.n or item.space:
            self.i += 1
            self.off = 0

    def pass_spaces(self) -> None:
        """Move past spaces right under the hand."""
        while self.i < len(self.items) and self.items[self.i].space:
            self.i += 1
            self.off = 0

    def stitches(self, k: int, kind: str = "") -> list[Taken] | None:
        """Take the next k stitches, passing spaces over; with `kind`, stitches of that kind where the edge has them.
        None (nothing taken) when there are not so many."""
        if kind:
            return self._of_kind(k, kind)
        i, off, left, items = self.i, self.off, k, self.items
        out: list[Taken] = []
        while left > 0:
            if i >= len(items):
                return None
            item = items[i]
            if item.kind == "ch" and not item.counted:
                i, off = i + 1, 0
                continue
            n = min(left, item.n - off)
            out.append(named(Taken, (item.first + item.step * off, n, item.step, False, item.group, item.kind)))
            left -= n
            off += n
            if off >= item.n:
                i, off = i + 1, 0
        self.i, self.off = i, off
        self.used += k
        return out

    def _of_kind(self, k: int, kind: str) -> list[Taken] | None:
        """Take the next k stitches, of that kind where the edge has them."""
        begin = (self.i, self.off, self.used, self.jumped)
        out: list[Taken] = []
        while k > 0:
            self.pass_spaces()
            self._to_kind(kind)
            if self.i >= len(self.items):
                self.i, self.off, self.used, self.jumped = begin
                return None
            item = self.items[self.i]
            n = min(k, item.n - self.off)
            if not _is(item, kind):
                n = min(n, 1) if k == 1 else n
            out.append(Taken(item.first + item.step * self.off, n, item.step, group=item.group, kind=item.kind))
            self.used += n
            k -= n
            self._advance(n)
        return out

    def _to_kind(self, kind: str) -> None:
        """Pass stitches of other kinds to reach one of this kind, when one is near."""
        if self.i < len(self.items) and _is(self.items[self.i], kind):
            return
        for at in range(self.i, len(self.items)):
            if _is(self.items[at], kind):
                passed = sum(x.n for x in self.items[self.i : at] if x.counted) - self.off
                if passed > 0:
                    self.jumped = True
                self.i, self.off = at, 0
                return

    def chains(self, k: int) -> list[Taken] | None:
        """Take single chains: of a foundation, or of the space under or before the hand."""
        if self.i < len(self.items) and not self.items[self.i].space and self.items[self.i].kind == "ch":
            return self.stitches(k)
        begin = (self.i, self.off, self.used, self.jumped)
        at = self.i
        while at < len(self.items) and self.items[at].kind != "ch":
            at += 1
        if at >= len(self.items):
            return self.stitches(k)
        if at > self.i:
            self.jumped = True
            self.i, self.off = at, 0
        item = self.items[self.i]
        if not item.space:
            return self.stitches(k)
        n = min(k, item.n - self.off)
        out = [Taken(item.first + item.step * self.off, n, item.step, kind="ch")]
        self.spaces_used = True
        self.off += n
        if self.off >= item.n:
            self.i, self.off = self.i + 1, 0
        if n < k:
            rest = self.chains(k - n)
            if rest is None:
                self.i, self.off, self.used, self.jumped = begin
                return None
            out += rest
        return out

    def space(self, size: int = 0, group: bool = False) -> Taken | None:
        """Take the next space (of that size, where the edge has one), passing what lies before it."""
        exact = size and any(self.items[at].space and self.items[at].n == size for at in range(self.i, len(self.items)))
        for at in range(self.i, len(self.items)):
            item = self.items[at]
            if item.space and (not exact or item.n == size):
                if any(x.counted for x in self.items[self.i : at]) and (self.off or at > self.i):
                    self.jumped = True
                self.i, self.off = at + 1, 0
                self.spaces_used = True
                return Taken(item.first, item.n, item.step, space=True, group=item.group, kind="ch")
        return None

    def middle(self) -> Taken | None:
        """Take the middle of the next group (shell, fan, cluster): its space, else its middle stitch. Single stitches in a
        space are groups only where there are no others."""
        return self._middle(2) or (None if any(self._heaped(at) for at in range(len(self.items))) else self._middle(1))

    def _heaped(self, at: int) -> bool:
        """Whether item `at` is of a group of more than one stitch."""
        item, items = self.items[at], self.items
        return item.group >= 0 and (item.n > 1 or (at + 1 < len(items) and items[at + 1].group == item.group))

    def _middle(self, least: int) -> Taken | None:
        for at in range(self.i, len(self.items)):
            group = self.items[at].group
            if group < 0:
                continue
            if at == self.i and self.off:
                continue
            if at and self._other_half(at):
                continue
            end = at
            while end < len(self.items) and self.items[end].group == group:
                end += 1
            members = self.items[at:end]
            if least > 1 and len(members) == 1 and members[0].n == 1:
                continue
            self.i, self.off = end, 0
            self.jumped = self.spaces_used = True
            spaces = [m for m in members if m.space]
            if spaces:
                m = spaces[len(spaces) // 2]
                return Taken(m.first, m.n, m.step, space=True, group=group, kind="ch")
            total = sum(m.n for m in members)
            m = members[len(members) // 2]
            return Taken(m.first + m.step * (min(m.n, total) // 2), 1, m.step, group=group, kind=m.kind)
        return None

    def _other_half(self, at: int) -> bool:
        """Whether item `at` is of a group whose space lies behind the hand: the rest of one that was worked, or that half
        of the first one which lies before the beginning of the round."""
        items, group = self.items, self.items[at].group
        begin = end = at
        while begin and items[begin - 1].group == group:
            begin -= 1
        if items[0].group == group and (begin or items[-1].group == group):
            return True
        while end < len(items) and items[end].group == group:
            end += 1
        return any(item.space for item in items[begin:at]) and not any(item.space for item in items[at:end])

    def gap(self) -> Taken | None:
        """Take the next gap between two groups; without groups, the gap after the next stitch."""
        for at in range(self.i, len(self.items)):
            if (
                at + 1 < len(self.items)
                and self.items[at].group != self.items[at + 1].group
                and not self.items[at].space
            ):
                following = self.items[at + 1]
                last = self.items[at]
                self.i, self.off = at + 1, 0
                self.jumped = self.spaces_used = True
                return Taken(
                    last.first + last.step * (last.n - 1),
                    2,
                    following.first - (last.first + last.step * (last.n - 1)),
                    group=-1,
                    kind="gap",
                )
        return None

    def gap_at_the_end(self) -> Taken | None:
        """The gap between the last group and the first one, which closes the round."""
        if self.i >= len(self.items) or len(self.items) < 2 or self.items[-1].group < 0:
            return None
        last, first = self.items[-1], self.items[0]
        self.i, self.off = len(self.items), 0
        self.jumped = self.spaces_used = True
        number = last.first + last.step * (last.n - 1)
        return Taken(number, 2, (first.first - number) or 1, kind="gap")

    def last(self) -> Taken | None:
        """Take the last stitch (or space) of the edge."""
        at = len(self.items) - 1
        while at >= self.i and self.items[at].space:
            at -= 1
        if at < self.i:
            return None
        item = self.items[at]
        if at > self.i or item.n - 1 > self.off:
            self.jumped = True
        self.i, self.off = len(self.items), 0
        self.used += 1
        return Taken(item.first + item.step * (item.n - 1), 1, item.step, group=item.group, kind=item.kind)


def _is(item: Item, kind: str) -> bool:
    if item.space:
        return False
    if item.kind == kind or item.start:
        return True
    if kind == "cluster" and ("-cluster-" in item.kind or item.kind.endswith("tog")):
        return True
    return (item.kind.startswith(kind) and not item.kind[len(kind) : len(kind) + 1].isalpha()) or (
        item.kind.endswith(kind) and item.kind[:2] in ("fp", "bp")
    )  # fmt: skip
