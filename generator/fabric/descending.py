"""Stitches of a course that go down into an earlier one than that below."""

from dataclasses import replace

from generator.fabric.edge import Taken
from generator.fabric.edging import Edger
from generator.fabric.hand import Hand
from generator.notation.tree import How, Target
from generator.source import Span


class Descender(Edger):
    """Goes down to earlier courses, with a hand on the edge of each."""

    def find(self, target: Target, consumes: int, span: Span) -> list[Taken] | None:
        """The places of a target (see `seek.Seeker`)."""
        raise NotImplementedError

    def deeper(self, number: int) -> Hand | None:
        """The hand on the edge of an earlier course; None when that is the edge at hand."""
        if number not in self.lower and (edge := self.earlier(number)):
            self.lower[number] = Hand(edge)
        return self.lower.get(number)

    def in_lower(self, low: Hand, target: Target, consumes: int, span: Span) -> list[Taken] | None:
        """Places of an earlier course: none of the course below is taken."""
        if target.how is How.SAME:
            return [self.place] if self.place is not None else None
        kept, self.hand = self.hand, low
        found = self.find(replace(target, course=0, below=0), consumes, span)
        self.hand = kept
        return found
