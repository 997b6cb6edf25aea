"""The compiler on one screen: text → pattern → fabric → measures → findings. Pure: no file, clock or network.

Publishing, preview and the command line call the same functions, so what one says the others say.
"""

from dataclasses import dataclass, replace

from generator.checks.product import Product
from generator.checks.run import Override, overrides, run
from generator.diagnostics.record import Finding
from generator.fabric.model import Fabric
from generator.fabric.state import Settings
from generator.fabric.work import work
from generator.measures.measure import measure, scale_for
from generator.measures.measured import Measured
from generator.notation.dialect import infer_terms
from generator.notation.document import read_document, unreadable
from generator.notation.origin import Origin, origin
from generator.notation.parse import Context, read_lines
from generator.notation.pattern import Header, Pattern, ShapeBlock, Working
from generator.notation.tree import Piece
from generator.source import Source, Span


@dataclass(frozen=True, slots=True)
class Compiled:
    """A pattern, read, worked, measured and judged. Everything published of it comes from here."""

    pattern: Pattern
    fabric: Fabric
    measured: Measured | None
    findings: tuple[Finding, ...] = ()
    """Their places are in `source`."""
    origin: Origin | None = None
    """Set where shape blocks were written out: then `pattern` has another text than the file."""
    answers: tuple[Override, ...] = ()
    """The author's `intended:` answers, with what each silenced. Their places are in `source`."""

    @property
    def source(self) -> Source:
        """The file's own text."""
        return self.origin.source if self.origin else self.pattern.source


def compile_pattern(source: Source) -> Compiled:
    """Compile one pattern file. Partial input gives a partial product and findings; it never raises for a text."""
    read = read_document(source)
    pattern, findings = read.value, read.findings
    if any(isinstance(block, ShapeBlock) for block in pattern.blocks):
        from generator.shape.source import written_out  # brings numpy, which few patterns need

        grown = written_out(pattern)
        if not grown.findings:
            blocks = [block.span for block in pattern.blocks if isinstance(block, ShapeBlock)]
            home = origin(source, grown.value, blocks)
            again = read_document(Source(source.path, grown.value))
            judged = _judged(again.value, again.findings, bare=False)
            answers = tuple(replace(answer, span=home.span(answer.span)) for answer in judged.answers)
            return replace(judged, findings=tuple(map(home.finding, judged.findings)), origin=home, answers=answers)
        findings += grown.findings
    return _judged(pattern, findings, bare=False)


def compile_bare(source: Source, terms: str = "") -> Compiled:
    """Compile pasted working text: every line of it is a working line, nothing is a header."""
    if fault := unreadable(source):
        return Compiled(Pattern(source, Header()), Fabric(()), None, (fault,))
    span = Span(0, len(source.text))
    known = terms or infer_terms(source.text)
    read = read_lines(source, span, Context(terms=known, bare=True))
    pattern = Pattern(source, Header(terms=known), (Working(Piece(lines=read.value, span=span)),))
    return _judged(pattern, read.findings, bare=True)


def settings_of(pattern: Pattern) -> Settings:
    """What the header says about the whole work."""
    scale = scale_for(pattern)
    gauge = pattern.header.gauge
    height = scale.height(gauge.stitch if gauge else "sc", bool(gauge and gauge.in_round))
    return Settings(pattern.header.rounds, pattern.header.start_chain, 1 / height if height > 0 else 0.0)


HEADERLESS = frozenset({"header-missing", "header-not-closed", "empty-file", "not-text", "too-long"})
"""Rules that say there is no header; what a header ought to state is then no further mistake."""


def _judged(pattern: Pattern, findings: tuple[Finding, ...], bare: bool) -> Compiled:
    bare = bare or any(finding.rule in HEADERLESS for finding in findings)
    fabric = work(pattern.pieces(), settings_of(pattern))
    measured = measure(pattern, fabric)
    product = Product(pattern, fabric, measured, bare, pattern.header.terms)
    return Compiled(pattern, fabric, measured, findings + run(product), answers=overrides(product))
