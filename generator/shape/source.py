"""Shape blocks in a pattern's source: their rounds written out in place, as text to edit by hand."""

from dataclasses import dataclass, replace

from generator.diagnostics.record import Checked, Finding
from generator.notation.pattern import Pattern, ShapeBlock
from generator.shape.design import Design, design
from generator.shape.draw import caption, draw
from generator.source import Source, Span


def designs(pattern: Pattern) -> Checked[tuple[tuple[ShapeBlock, Design | None], ...]]:
    """Every shape block with what came of it; findings stand at their places in the pattern's source."""
    found, findings = [], []
    for block in pattern.blocks:
        if isinstance(block, ShapeBlock):
            made = design(Source(pattern.source.path, block.text), pattern.header.gauge, pattern.header.terms)
            found.append((block, made.value))
            findings += [_moved(finding, block.span.start) for finding in made.findings]
    return Checked(tuple(found), tuple(findings))


def written_out(pattern: Pattern) -> Checked[str]:
    """The source with every shape block that can be made replaced by its rounds."""
    made = designs(pattern)
    text = pattern.source.text
    for block, plan in reversed(made.value):
        if plan is not None:
            start = text.rfind("shape", 0, block.span.start)
            text = text[:start] + "rounds\n" + plan.lines + text[block.span.end :]
    return Checked(text, made.findings)


def _moved(finding: Finding, by: int) -> Finding:
    span = Span(finding.span.start + by, finding.span.end + by)
    labels = tuple(
        replace(label, span=Span(label.span.start + by, label.span.end + by)) for label in finding.labels
    )  # fmt: skip
    return replace(finding, span=span, labels=labels)


@dataclass(frozen=True, slots=True)
class Comparison:
    """One shape block drawn: its part, the picture, and what it shows in a sentence."""

    part: str
    svg: str
    caption: str


def comparisons(pattern: Pattern) -> tuple[Comparison, ...]:
    """Wish and worked outline of every shape block that can be made, for whoever is still drawing it."""
    colours = {yarn.key: yarn.swatch for yarn in pattern.header.yarns if yarn.swatch}
    return tuple(
        Comparison(block.part, draw(made.plan, made.yarns, colours, block.part, made.down), caption(made.plan))
        for block, made in designs(pattern).value
        if made is not None
    )
