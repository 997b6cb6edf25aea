"""Rounds that keep their words at another size: windows, ribs, scallops. The worker says on which counts they come out."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.fabric.model import Part, Status, WorkedLine
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation.parse import Context, read_lines
from generator.notation.pattern import Pattern
from generator.notation.tree import Piece
from generator.shape.sorting import Group, courses_of, sort_of
from generator.shape.write import LIFT
from generator.source import Source, Span
from generator.vocabulary.load import language, stitch
from generator.vocabulary.records import Language

SHARE, LEAST = 0.15, 8
"""How far from the wished count a round of its own may be put: a share of it, or so many stitches."""


def wrong(line: WorkedLine) -> bool:
    """Whether a line did not come out."""
    return line.problem is not None or line.status not in (Status.PROVED, Status.WORKED, Status.REMARK)


@dataclass(frozen=True, slots=True)
class Own:
    """The rounds of their own of one part. `grow` is the wished share of new stitches to old ones."""

    pattern: Pattern
    part: Part
    kind: str
    joined: bool
    grow: float

    @property
    def language(self) -> Language:
        """The writer's."""
        return language("en-GB" if self.pattern.header.terms == "UK" else "en-US")

    @property
    def word(self) -> str:
        """What the writer calls the part's stitch."""
        return self.language.stitches[self.kind].abbreviation

    def said(self, line: WorkedLine) -> str:
        """A line's own words."""
        return self.pattern.source.words(line.line.span).strip()

    def lifted(self, words: str, first: bool) -> str:
        """A round's words with its lift and its join, where rounds are joined."""
        if not self.joined:
            return words
        lift = LIFT[self.kind] + (
            " (does not count as a st here and throughout)" if first and self.kind != "sc" else ""
        )
        start = "" if words.startswith("standing") else lift + ", "
        return f"{start}{words}, join with sl st to first {self.word}"

    def places(self, found: Sequence[Group]) -> dict[int, int]:
        """The count that each group of them stands on, by its index; 0 where none is near enough.

        Groups with nothing but walls between them stood on one count, and do so again if there is one for all.
        """
        places: dict[int, int] = {}
        for i, group in enumerate(found):
            if group.sort == "own" and i not in places:
                chain = [i, *self._linked(found, i)]
                count = self._place([found[j] for j in chain])
                places |= dict.fromkeys(chain, count) if count else {i: self._place([group])}
        return places

    def _linked(self, found: Sequence[Group], i: int) -> Iterator[int]:
        below = courses_of(self.part, found[i].lines)[0].below
        for j in range(i + 1, len(found)):
            courses = courses_of(self.part, found[j].lines)
            if found[j].sort == "own":
                if courses[0].below != below:
                    return
                yield j
            elif found[j].sort == "plain" and {course.live for course in courses} != {below}:
                return

    def _place(self, together: Sequence[Group]) -> int:
        """The count nearest to the wish on which all of them come out; 0 for none."""
        wish = courses_of(self.part, together[0].lines)[0].below * self.grow
        reach = max(LEAST, round(wish * SHARE))
        near = sorted(range(max(4, round(wish) - reach), round(wish) + reach + 1), key=lambda n: (abs(n - wish), n))
        return next((n for n in near if all(self._fits(group, n) for group in together)), 0)

    def _fits(self, group: Group, count: int) -> bool:
        """Whether the group comes out on that count, with the same kinds of stitches as before."""
        tried = self.tried(group, count).lines[-len(group.lines) :]
        kinds = [{kind for kind, _ in line.kinds} for line in tried]
        return not any(map(wrong, tried)) and kinds == [{kind for kind, _ in line.kinds} for line in group.lines]

    def rows(self, group: Group, number: int) -> Iterator[tuple[str, str, WorkedLine]]:
        """Label, words and line of every line of a group, its rounds numbered from `number`; no label for what is said."""
        for line in group.lines:
            rounds = line.courses[1] - line.courses[0]
            if sort_of(self.part, line, self.kind) == "said":
                yield "", self.said(line), line
                continue
            yield (f"Rnd {number}" if rounds == 1 else f"Rnds {number}-{number + rounds - 1}"), self._body(line), line
            number += rounds

    def _body(self, line: WorkedLine) -> str:
        """The line's words without its name and its count."""
        text, span, stated = self.pattern.source.text, line.line.span, line.line.stated
        start = max(span.start, line.line.label.span.end)
        words = text[start : span.end]
        if stated is not None and stated.span.start >= start:
            words = text[start : stated.span.start] + text[stated.span.end : span.end]
        return re.sub(r"^[\s:.–-]+|[\s.]+$", "", words)

    def tried(self, group: Group, count: int) -> Part:
        """The group worked on a plain round of that many stitches."""
        ground = self.lifted(f"{self.word} in each ch around", first=True)
        how = "" if self.joined else "Work in a spiral; do not join rounds\n"
        begin = f"{how}Ch {count}, join with sl st to form ring\nRnd 1: {ground}. ({count})\n"
        rows = (f"{label}: {words}" if label else words for label, words, _ in self.rows(group, 2))
        return self.work(begin + "\n".join(rows) + "\n")

    def work(self, lines: str) -> Part:
        """Lines worked in the pattern's terms, with its yarns."""
        header = self.pattern.header
        yarns = tuple((yarn.key, yarn.colour) for yarn in header.yarns)
        context = Context(terms=header.terms, yarns=yarns, specials=header.stitches)
        read = read_lines(Source("<rescaled>", lines), Span(0, len(lines)), context).value
        return work((Piece(lines=read),), Settings(header.rounds, header.start_chain)).parts[0]

    def count(self, line: WorkedLine) -> str:
        """A count in the writer's words: a number, or kinds where there are several."""
        if len(line.kinds) < 2:
            return str(line.live)
        return ", ".join(f"{n} {self._kind_word(kind)}" for kind, n in line.kinds)

    def _kind_word(self, kind: str) -> str:
        if kind.startswith("sp:"):
            return f"ch-{kind[3:]} sps"
        return self.language.stitches[kind].abbreviation if kind in self.language.stitches else stitch(kind).identity
