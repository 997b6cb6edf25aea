"""Changed words read and worked again: what nothing is offered without.

What is shown has been `proved`: the block is read anew from its first line, since what a line means can rest on the
lines before it, and worked up to the line after the changed one. `guessed` reads the changed line alone and is several
times quicker; it finds out which of many changes are worth proving.
"""

from dataclasses import dataclass, replace

from generator.checks.product import At, Product
from generator.diagnostics.record import Fix
from generator.fabric.model import Status, WorkedLine
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.notation.dialect import infer_terms
from generator.notation.parse import Context, read_lines
from generator.notation.tree import Label, Line, Noun, Piece, Target, Word, Work
from generator.source import NOWHERE, Source, Span

LONGEST_MENDED = 1_500
"""Characters of a line that is worked anew with its words changed; the longest seen in print has 600."""
BUDGET = 800
"""Readings worked to prove fixes in one run of the rules, at most; about a second on a slow machine."""
LONG = 3
"""Lines before the changed one above which a guess does without them."""
AHEAD = 4
"""Lines after the changed one that are worked too, to see whether the work can go on."""

_FINE = (Status.PROVED, Status.WORKED, Status.REMARK)


@dataclass(frozen=True, slots=True)
class Outcome:
    """The changed line as worked, and the next round, row or problem; None where none is near."""

    line: WorkedLine
    following: WorkedLine | None

    @property
    def fine(self) -> bool:
        """Whether the line works out."""
        return fine(self.line)

    @property
    def goes_on(self) -> bool:
        """Whether the next line still works."""
        return self.following is None or fine(self.following)


def fine(worked: WorkedLine) -> bool:
    """Whether a line works out."""
    return worked.status in _FINE and worked.problem is None


def settings(product: Product) -> Settings:
    """What the header says about the whole work, as the first time."""
    header, measured = product.header, product.measured
    rows = 1 / measured.stitch_height_mm if measured and measured.stitch_height_mm > 0 else 0.0
    return Settings(rounds=header.rounds, start_chain=header.start_chain, rows_per_mm=rows)


def _context(product: Product, piece: Piece) -> Context:
    header = product.header
    return Context(
        terms=header.terms or product.terms or infer_terms(product.words(piece.span)),
        yarns=tuple((yarn.key, yarn.colour) for yarn in header.yarns),
        specials=header.stitches,
        bare=product.bare,
    )


def _piece(product: Product, at: At) -> Piece | None:
    """The part as written; None where written and worked parts don't go together, or the budget is used up."""
    pieces = product.pieces()
    if len(pieces) != len(product.fabric.parts) or product.spent[0] > BUDGET:
        return None
    if at.span.end - at.span.start > LONGEST_MENDED:
        return None
    piece = pieces[at.part_index]
    same = len(piece.lines) == len(at.part.lines) and piece.span.start <= at.span.start < piece.span.end
    return piece if same else None


def outcome(product: Product, at: At, edits: tuple[Fix, ...]) -> Outcome | None:
    """How the line goes with its words changed; None where it no longer is that one line, or the budget is used up."""
    piece = _piece(product, at)
    if piece is None:
        return None
    last = min(at.index + AHEAD, len(piece.lines) - 1)
    source = Source(product.source.path, _changed(product.source.text, edits))
    grown = len(source.text) - len(product.source.text)
    span = Span(piece.span.start, piece.lines[last].span.end + grown)
    lines = read_lines(source, span, _context(product, piece)).value
    return _worked(product, _earlier(product, at), piece, lines, at.index) if len(lines) == last + 1 else None


def guessed(product: Product, at: At, edits: tuple[Fix, ...]) -> Outcome | None:
    """Like `outcome`, but with the changed line read alone: good enough to choose among many changes."""
    piece = _piece(product, at)
    if piece is None:
        return None
    text = _changed(product.words(at.span), edits, at.span.start)
    read = read_lines(Source(product.source.path, text), Span(0, len(text)), _context(product, piece)).value
    if len(read) != 1:
        return None
    before = _before(at, piece)
    lines = (*before, read[0], *piece.lines[at.index + 1 : at.index + 1 + AHEAD])
    return _worked(product, _earlier(product, at), piece, lines, len(before))


def _before(at: At, piece: Piece) -> tuple[Line, ...]:
    """What is worked before a guess: all of it, or in long pieces one round with as many plain stitches
    as the line was worked on (after a wrong line that is its stated count)."""
    below = at.below
    plain = below is not None and at.worked.below > 0 and not any(kind.startswith("sp:") for kind, _n in below.kinds)
    if at.index < LONG or not plain:
        return piece.lines[: at.index]
    ring = Work(stitch="sc", each=at.worked.below, target=Target(noun=Noun.RING))
    return (Line(NOWHERE, Label(Word.ROUND, (1,)), (ring,)),)


def _changed(text: str, edits: tuple[Fix, ...], offset: int = 0) -> str:
    """A text that stands at `offset` of the source, with edits made."""
    for edit in sorted(edits, key=lambda e: -e.span.start):
        text = text[: edit.span.start - offset] + edit.text + text[edit.span.end - offset :]
    return text


def without_count(product: Product, at: At) -> Outcome | None:
    """How the line and the next go when nothing is stated at its end; None when the budget is used up."""
    return instead(product, at, replace(at.line, stated=None))


def instead(product: Product, at: At, line: Line) -> Outcome | None:
    """How another line goes in place of this one, and the next after it; None when the budget is used up."""
    piece = _piece(product, at)
    if piece is None:
        return None
    lines = (*piece.lines[: at.index], line, *piece.lines[at.index + 1 : at.index + 1 + AHEAD])
    return _worked(product, _earlier(product, at), piece, lines, at.index)


def _earlier(product: Product, at: At) -> tuple[Piece, ...]:
    """The parts before, which this one may be worked on to."""
    return product.pieces()[: at.part_index]


def _worked(
    product: Product, earlier: tuple[Piece, ...], piece: Piece, lines: tuple[Line, ...], index: int
) -> Outcome | None:
    """Line `index` of `lines`, worked as this piece after the earlier ones."""
    parts = work((*earlier, replace(piece, lines=lines)), settings(product)).parts
    worked = parts[-1].lines if parts else ()
    product.spent[0] += sum(max(line.alternatives, 1) for part in parts for line in part.lines)
    if len(worked) != len(lines):
        return None
    following = next((w for w in worked[index + 1 :] if w.problem or w.line.label.word is not Word.NONE), None)
    return Outcome(worked[index], following)


def proved(product: Product, at: At, edits: tuple[Fix, ...]) -> Outcome | None:
    """The line as changed, when it then works out."""
    found = outcome(product, at, edits)
    return found if found is not None and found.fine else None
