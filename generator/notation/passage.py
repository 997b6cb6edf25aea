"""Reads clauses from a cursor into a folder until the cursor is done."""

from functools import cached_property

from generator.notation.bare import bare_stitch, in_one
from generator.notation.between import spaced
from generator.notation.brackets import read_bracket
from generator.notation.chaining import chains, skips
from generator.notation.colourwork import coloured, taken_up
from generator.notation.commencing import commences, knots
from generator.notation.courses import again, edging
from generator.notation.cursor import Cursor
from generator.notation.directions import direction
from generator.notation.groups import as_parts, place_first
from generator.notation.heaped import completed, made_here, shell_of
from generator.notation.held import dropped, held_after, held_back
from generator.notation.joining import joins, rings
from generator.notation.lastheap import last_heap
from generator.notation.loops_drawn import worked_there
from generator.notation.named import named
from generator.notation.netting import meshes, total_of_squares
from generator.notation.openings import joined_at_opening
from generator.notation.phrases import is_technique, purpose
from generator.notation.pieces import joins_piece
from generator.notation.places import read_place, starts_place
from generator.notation.prose import convention
from generator.notation.repeats import read_mark, read_repeat
from generator.notation.seams import LAYERED, seam, taken_along, through_layers
from generator.notation.shaping import extra
from generator.notation.spelled import closed_later, closes, gathered, read_leg
from generator.notation.stitching import stitches
from generator.notation.straight import evenly, to_length
from generator.notation.telling import Telling
from generator.notation.times import read_times
from generator.notation.tokens import Token
from generator.notation.tree import (
    Chain,
    Group,
    How,
    Remark,
    Repeat,
    Ring,
    Step,
    Times,
    Yarn,
)  # fmt: skip
from generator.notation.turning import other_side, turns
from generator.notation.units import over_units, whole_course
from generator.notation.yarns import yarn


class Passage(Telling):
    """Reads clauses from a cursor into a folder until the cursor is done."""

    def sub(self, inner: Cursor) -> "Passage":
        """What stands inside a bracket, read."""
        self._in_hand(any(token.value == "shell" for token in inner.tokens[inner.i : inner.end]))
        passage = Passage(inner, self.memory, inside=True)
        passage.read()
        return passage

    @cached_property
    def starred(self) -> bool:
        """Whether there is an asterisk at all."""
        return any(token.type == "sign" and token.value in ("*", "**", "×") for token in self.c.tokens)

    @cached_property
    def layered(self) -> bool:
        """Whether a word says that something is put together with something else."""
        return any(token.value in LAYERED for token in self.c.tokens)

    def _at_opening(self) -> bool:
        """Yarn joined at an opening of the work."""
        joined = joined_at_opening(self.c)
        self.folder.add(joined or [])
        return joined is not None

    def _seam(self) -> bool:
        """A seam, which is no course of the piece; a count behind it is that of the seam."""
        closed = seam(self.c) or through_layers(self.c)
        self.folder.add(closed or [])
        self.sewn = self.sewn or closed is not None
        return closed is not None

    def _in_hand(self, shell: bool) -> None:
        """What a shell named here is, where nobody said so: the group worked last."""
        if shell and "shell" not in self.memory.specials:
            self.memory.heap = last_heap(self.folder.items) or self.memory.heap

    def read(self) -> None:
        """Take everything."""
        c = self.c
        while not c.done():
            before = c.i
            self._one()
            if c.i == before:  # every branch takes something; this keeps a slip of ours from hanging
                c.take()

    def _one(self) -> None:
        c = self.c
        token = c.peek()
        if token.type == "sign":
            self._sign(token)
            return
        self._in_hand(token.value == "shell" or c.word("shell", ahead=1))
        if token.value == "inc" and c.peek(1).type == "number" and (grown := meshes(c, self.memory)):
            self._put(grown)
            return
        if token.value == "join" and (taken_along(c) or self._at_opening()):
            return
        if (token.value == "join" or token.type == "stitch") and (bridge := joins_piece(c, self.folder.items)):
            self.folder.add(bridge)
            return
        if self.layered and (token.type == "stitch" or token.value in ("join", "work")) and self._seam():
            return
        if (token.type == "stitch" and not c.word("evenly", ahead=1)) or (
            token.type == "word" and token.value in ("inc", "dec")
        ):
            steps = stitches(c, self.memory)  # most clauses begin so, and nothing else does
            if steps:
                self._put(taken_up(c, self.memory, steps))
                return
        if total_of_squares(c):
            self._put(meshes(c, self.memory) or [])
            return
        if self._count_here() or made_here(self) or self._heap_of():
            return
        if held := held_back(c):
            self._put(held)
            return
        last = self.folder.items[-1] if self.folder.items else None
        if last is not None and (closed := held_after(c, last) or dropped(c, self.folder.items)) is not None:
            self.folder.items[-1] = closed
            return
        if rest := completed(self):
            self.folder.add(rest)
            return
        if self._commencing() or self._define_sentence() or self._lead_in():
            return
        if token.value in ("insert", "inserting") and (there := worked_there(c)):
            self._put(there)
            return
        if is_technique(c):
            if not self._spelled():
                self._technique()
            return
        begin = c.i
        if purpose(c):
            self.folder.add([Remark(c.span(begin), "", "note")])
            return
        if (c.word("and") and not c.word("repeat", ahead=1)) or (c.word("work") and c.sign("(", "[", "*", ahead=1)):
            c.take()
            return
        if self.folder.items and (spread := spaced(c, self.folder.items[-1])):
            self.folder.items[-1] = spread
            return
        if c.peek().type == "number" and c.word("times", ahead=1) and (self._times_in_place() or self._times_of_mark()):
            return
        if c.peek().value == "all" and starts_place(c, 1) and self._all_in_place():
            return
        if more := extra(c, self.memory, self.folder.items):
            self.folder.items[-1:] = more
            return
        begin = c.i
        self.memory.open_mark = self.starred and self.folder.first_mark() is not None
        if convention_steps := convention(c):
            self.folder.add(convention_steps)
            return
        if read_repeat(c, self.folder, self.memory):
            return
        for reader in _CLAUSES:
            steps = reader(c, self.memory)
            if steps:
                self._put(taken_up(c, self.memory, steps))
                return
            c.i = begin
        joined = joins(c, self.memory, self.folder.items[-3:])
        if joined:
            if isinstance(joined[0], Ring):
                joined = self._into_ring(joined)
            self.folder.add(joined)
            self.folder.segment = len(self.folder.items)
            return
        if placed := self._place_first():
            self.folder.add(placed)
            return
        self._words()

    def _commencing(self) -> bool:
        """A foundation told in a sentence, or a whole course told in figures, before anything is worked."""
        if not self.inside and not self.folder.items and (whole := whole_course(self.c, self.memory)):
            self.folder.add([whole[0]])
            self.stated = whole[1]
            return True
        if self.inside or any(not isinstance(s, (Remark, Yarn)) for s in self.folder.items[:3]):
            return False
        led = commences(self.c)
        self.folder.add(led or [])
        return led is not None

    def _heap_of(self) -> bool:
        """`a shell of 2 dc, ch 1, 2 dc in next st`: what follows is one group and has that name."""
        if not (name := shell_of(self.c)):
            return False
        self.naming = name
        self.folder.segment = len(self.folder.items)
        return True

    def _sign(self, token: Token) -> None:
        c = self.c
        if token.value in ("(", "[", "{"):
            read_bracket(self)
            return
        if set(token.value) <= set("*†‡#+§•") and len(set(token.value)) == 1 and token.value != "+":
            read_mark(c, self.folder, self.memory)
            return
        if token.value in ("=", "-", "–", "—", "→", ":") and self._count_after_sign():
            return
        if token.value in (".", ";", ":"):
            self.folder.segment = len(self.folder.items)
        c.take()

    def _spelled(self) -> bool:
        """A stitch spelled out in the middle of a line: its legs, and what closes them."""
        c = self.c
        begin = c.i
        c.skip_words("and", "the")
        if self.folder.items and closed_later(c) and (leg := read_leg(c)) is not None:
            self.memory.legs = True
            self.folder.add([leg])
            return True
        if self.memory.legs and closes(c) and (items := gathered(self.folder.items, c, begin)) is not None:
            self.folder.items = items
            return True
        c.i = begin
        return False

    def _times_of_mark(self) -> bool:
        """`* 4 chain, miss 1, 1 plain on the next -- 8 times`: what stands behind the sign, so often in all."""
        c = self.c
        at = self.folder.last_mark("*")
        if at is None or not c.i or c.tokens[c.i - 1].type != "sign" or at == len(self.folder.items) - 1:
            return False
        begin = c.i
        said = read_times(c)
        if said is None:
            return False
        self.folder.fold(at, said.times, c.span(begin), more=said.more)
        return True

    def _times_in_place(self) -> bool:
        """`1 treble, 2 chain, 8 times in the ring`: the list before it, so often in one place."""
        c = self.c
        mark = c.i
        run = self.folder.items[self.folder.segment :]
        n = c.take().n
        c.take()
        target = read_place(c) if starts_place(c) and not c.word("of", "to") else None
        bare = all(isinstance(s, Chain) or bare_stitch(s) for s in run)
        if target is None or not run or not bare or isinstance(run[0], Chain) or target.count > 1:
            c.i = mark
            return False
        span = run[0].span.cover(c.span(mark))
        steps = as_parts(tuple(in_one(s) for s in run))
        self.folder.items[self.folder.segment :] = [Group(span, (Repeat(span, steps, Times(n), 0, ""),), target)]
        return True

    def _all_in_place(self) -> bool:
        """`3 dc, ch 2, 3 dc, all in ring`: the list before it in one place, but for the chain that begins the course."""
        c = self.c
        mark = c.i
        c.take()
        target = read_place(c)
        run = self.folder.items[self.folder.segment :]
        lifts = isinstance(run[0], Chain) if run else False
        parts = run[1:] if lifts else run
        bare = all(isinstance(s, Chain) or bare_stitch(s) for s in parts)
        if target is None or target.how is How.EACH or len(parts) < 2 or not bare:
            c.i = mark
            return False
        steps = as_parts(tuple(in_one(s) for s in parts))
        span = parts[0].span.cover(c.span(mark))
        self.folder.items[len(self.folder.items) - len(parts) :] = [Group(span, steps, target)]
        return True

    def _place_first(self) -> list[Step] | None:
        """`in next sp make tr, ch 3 and tr`; `in back loops only, …`."""
        return place_first(self)


_CLAUSES = (
    knots, coloured, named, direction, over_units, turns, skips, meshes, other_side, rings, evenly, to_length, again, edging, stitches, chains,
    yarn,
)  # fmt: skip
