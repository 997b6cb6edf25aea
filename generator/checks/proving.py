"""Changed words read and worked again: what nothing is offered without.

What is shown has been `proved`: the block is read anew from its first line, since what a line means can rest on the
lines before it, and worked up to the line after the changed one. `guessed` reads the changed line alone and is several
times quicker; it finds out which of many changes are worth proving.
"""

from dataclasses import dataclass, replace

from generator.checks.product import At, Product
from generator.diagnostics.record import Fix
from generator.fabric.model import Status, WorkedLine
from generator.fabric.work import Settings, work
from generator.notation.parse import Context, infer_terms, read_lines
from generator.notation.tree import Line, Piece
from generator.source import Source, Span

BUDGET = 3000
"""Lines read and worked to prove fixes in one run of the rules, at most."""
AHEAD = 2
"""Lines after the changed one that are worked too, to see whether the work can go on."""

_FINE = (Status.PROVED, Status.WORKED, Status.REMARK)


@dataclass(frozen=True, slots=True)
class Outcome:
    """The changed line as worked, and the next one that does anything; None at the end of the part."""

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
    piece = pieces[at.part_index]
    same = len(piece.lines) == len(at.part.lines) and piece.span.start <= at.span.start < piece.span.end
    return piece if same else None


def outcome(product: Product, at: At, edits: tuple[Fix, ...]) -> Outcome | None:
    """How the line goes with its words changed; None where it no longer is that one line, or the budget is used up."""
    piece = _piece(product, at)
    if piece is None:
        return None
    last = min(at.index + AHEAD, len(piece.lines) - 1)
    source, grown = _edited(product, edits)
    span = Span(piece.span.start, piece.lines[last].span.end + grown)
    lines = read_lines(source, span, _context(product, piece)).value
    return _worked(product, at, piece, lines) if len(lines) == last + 1 else None


def guessed(product: Product, at: At, edits: tuple[Fix, ...]) -> Outcome | None:
    """Like `outcome`, but with the changed line read alone: good enough to choose among many changes."""
    piece = _piece(product, at)
    if piece is None:
        return None
    source, grown = _edited(product, edits)
    read = read_lines(source, Span(at.span.start, at.span.end + grown), _context(product, piece)).value
    if len(read) != 1:
        return None
    ahead = piece.lines[at.index + 1 : at.index + 1 + AHEAD]
    return _worked(product, at, piece, (*piece.lines[: at.index], read[0], *ahead))


def _edited(product: Product, edits: tuple[Fix, ...]) -> tuple[Source, int]:
    """The source with edits made, and by how much it has grown."""
    text = product.source.text
    for edit in sorted(edits, key=lambda e: -e.span.start):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
    return Source(product.source.path, text), len(text) - len(product.source.text)


def without_count(product: Product, at: At) -> Outcome | None:
    """How the line and the next go when nothing is stated at its end; None when the budget is used up."""
    piece = _piece(product, at)
    if piece is None:
        return None
    lines = (*piece.lines[: at.index], replace(at.line, stated=None), *piece.lines[at.index + 1 : at.index + 1 + AHEAD])
    return _worked(product, at, piece, lines)


def _worked(product: Product, at: At, piece: Piece, lines: tuple[Line, ...]) -> Outcome | None:
    earlier = product.pieces()[: at.part_index]
    product.spent[0] += len(lines) + sum(len(p.lines) for p in earlier)
    parts = work((*earlier, replace(piece, lines=lines)), settings(product)).parts
    worked = parts[-1].lines if parts else ()
    if len(worked) != len(lines):
        return None
    following = next((w for w in worked[at.index + 1 :] if w.status is not Status.REMARK), None)
    return Outcome(worked[at.index], following)


def proved(product: Product, at: At, edits: tuple[Fix, ...]) -> Outcome | None:
    """The line as changed, when it then works out."""
    found = outcome(product, at, edits)
    return found if found is not None and found.fine else None
