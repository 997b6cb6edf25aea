"""Where a text that was written out comes from: places in it, told as places in the file the author sees.

A shape block becomes rounds before it is worked; whatever is said of those rounds is said of the block.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from generator.diagnostics.record import Finding
from generator.source import Source, Span

FENCE = "```"


@dataclass(frozen=True, slots=True)
class Origin:
    """The author's own text, and which stretches of the written-out one stand for which of it.

    `stretches` are (place written out, place in the file), in order; between them both texts are alike.
    """

    source: Source
    stretches: tuple[tuple[Span, Span], ...] = ()

    def span(self, span: Span) -> Span:
        """A place of the written-out text in the author's."""
        moved = 0
        for new, old in self.stretches:
            if span.end <= new.start:
                break
            if span.start < new.end:
                return old
            moved = old.end - new.end
        return Span(span.start + moved, span.end + moved)

    def finding(self, finding: Finding) -> Finding:
        """A finding about the written-out text, at its place in the author's."""
        labels = tuple(replace(label, span=self.span(label.span)) for label in finding.labels)
        fix = replace(finding.fix, span=self.span(finding.fix.span)) if finding.fix else None
        return replace(finding, span=self.span(finding.span), labels=labels, fix=fix)


def origin(source: Source, written: str, blocks: Iterable[Span]) -> Origin:
    """What became of a source whose fenced `blocks` were all written out: `written` has other lines in their places."""
    stretches: list[tuple[Span, Span]] = []
    moved = 0
    for old in blocks:
        opens = source.text.rfind("\n", 0, old.start - 1) + 1 + moved  # the fence's own line, alike up to its word
        start = written.find("\n", opens) + 1
        end = written.find(FENCE, start)
        end = len(written) if end < 0 else end
        stretches.append((Span(start, end), old))
        moved = end - old.end
    return Origin(source, tuple(stretches))
