"""Changed words read and worked again: what nothing is offered without.

The block is read anew from its first line, since what a line means can rest on the lines before it, and worked up to
the line after the changed one.
"""

from dataclasses import dataclass, replace

from generator.checks.product import At, Product
from generator.diagnostics.record import Fix
from generator.fabric.model import Status, WorkedLine
from generator.fabric.work import Settings, work
from generator.notation.parse import Context, infer_terms, read_lines
from generator.notation.pattern import Header
from generator.notation.tree import Line, Piece
from generator.source import Source, Span

BUDGET = 6000
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


def settings(header: Header) -> Settings:
    """What the worker needs to know about the pattern."""
    gauge = header.gauge
    rows = gauge.rows / gauge.over_mm if gauge and gauge.over_mm > 0 else 0.0
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
    last = piece.lines[min(at.index + AHEAD, len(piece.lines) - 1)]
    text, grown = product.source.text, 0
    for edit in sorted(edits, key=lambda e: -e.span.start):
        text = text[: edit.span.start] + edit.text + text[edit.span.end :]
        grown += len(edit.text) - (edit.span.end - edit.span.start)
    span = Span(piece.span.start, last.span.end + grown)
    lines = read_lines(Source(product.source.path, text), span, _context(product, piece)).value
    same = len(lines) == min(at.index + AHEAD, len(piece.lines) - 1) + 1
    return _worked(product, at, piece, lines) if same else None


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
    parts = work((*earlier, replace(piece, lines=lines)), settings(product.header)).parts
    worked = parts[-1].lines if parts else ()
    if len(worked) != len(lines):
        return None
    following = next((w for w in worked[at.index + 1 :] if w.status is not Status.REMARK), None)
    return Outcome(worked[at.index], following)


def proved(product: Product, at: At, edits: tuple[Fix, ...]) -> Outcome | None:
    """The line as changed, when it then works out."""
    found = outcome(product, at, edits)
    return found if found is not None and found.fine else None
