"""A text taken through reader, worker and measures, as the rules see it; and everything that is said of it."""

from generator.checks.product import Product
from generator.checks.proving import settings
from generator.checks.run import run
from generator.diagnostics.record import Finding, Fix
from generator.fabric.work import work
from generator.measures.measure import measure
from generator.notation.document import read_document
from generator.notation.parse import Context, read_lines
from generator.notation.pattern import Header, Pattern, Working
from generator.notation.tree import Piece
from generator.source import Source, Span


def made(text: str) -> tuple[Product, tuple[Finding, ...]]:
    """A text as a product, and what reading it found; a text without a header is bare working lines."""
    source = Source("example.md", text)
    if text.startswith("---\n"):
        read = read_document(source)
        pattern, findings, bare = read.value, read.findings, False
    else:
        whole = Span(0, len(text))
        lines = read_lines(source, whole, Context(bare=True))
        piece = Piece(lines=lines.value, span=whole)
        pattern, findings, bare = Pattern(source, Header(), (Working(piece),)), lines.findings, True
    fabric = work(pattern.pieces(), settings(pattern.header))
    return Product(pattern, fabric, measure(pattern, fabric), bare), findings


def findings_of(text: str) -> tuple[Finding, ...]:
    """Everything said about a text: by the reader and by the rules."""
    product, read = made(text)
    return (*read, *run(product))


def applied(text: str, fix: Fix) -> str:
    """The text with a fix made."""
    return text[: fix.span.start] + fix.text + text[fix.span.end :]
