"""A text taken through the compiler, as the rules see it; and everything that is said of it."""

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Fix
from generator.pipeline import Compiled, compile_bare, compile_pattern
from generator.source import Source


def compiled(text: str) -> tuple[Compiled, bool]:
    """A text compiled, and whether it is bare working lines (no header)."""
    source = Source("example.md", text)
    bare = not text.startswith("---\n")
    return (compile_bare(source) if bare else compile_pattern(source)), bare


def made(text: str) -> Product:
    """A text as the product the rules look at."""
    found, bare = compiled(text)
    return Product(found.pattern, found.fabric, found.measured, bare, found.pattern.header.terms)


def findings_of(text: str) -> tuple[Finding, ...]:
    """Everything said about a text: by the reader and by the rules."""
    return compiled(text)[0].findings


def applied(text: str, fix: Fix) -> str:
    """The text with a fix made."""
    return text[: fix.span.start] + fix.text + text[fix.span.end :]
