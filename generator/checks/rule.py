"""What a rule is: a module of `rules/`, read into a record with its help page."""

import re
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Protocol

from generator.checks.product import Product
from generator.diagnostics.record import Finding, Severity

HEADINGS = ("What it finds", "Why it matters", "Example", "Write instead", "Source")
"""The sections every rule's docstring has, in this order."""

_HEADING = re.compile(r"^(" + "|".join(HEADINGS) + r")\n-+\n", re.MULTILINE)


class RuleModule(Protocol):
    """What a module of `rules/` offers."""

    @property
    def __doc__(self) -> str | None: ...  # type: ignore[override]
    @property
    def RULE(self) -> str: ...
    @property
    def SEVERITY(self) -> Severity: ...
    @property
    def BARE(self) -> Severity | None: ...
    @property
    def BAD(self) -> str: ...
    @property
    def GOOD(self) -> str: ...
    def check(self, product: Product) -> Iterator[Finding]: ...


@dataclass(frozen=True, slots=True)
class Rule:
    """One proofreading rule."""

    name: str
    """The fault, kebab-case."""
    severity: Severity
    bare: Severity | None
    """How much it weighs in pasted text without a header; None: it doesn't run there."""
    module: RuleModule
    title: str
    """The docstring's first line."""
    help: tuple[tuple[str, str], ...]
    """Heading and text of each section, in the order of `HEADINGS`."""
    bad: str
    """A text it speaks up about: a whole pattern, or bare working lines."""
    good: str
    """The same put right."""


def sections(docstring: str) -> tuple[tuple[str, str], ...]:
    """The headed sections of a docstring, in order."""
    text = textwrap.dedent("    " + docstring.lstrip()) if docstring.startswith("    ") else docstring
    pieces = _HEADING.split(text)
    return tuple((pieces[i], pieces[i + 1].strip()) for i in range(1, len(pieces) - 1, 2))


def from_module(module: RuleModule) -> Rule:
    """Reads a rule module into its record."""
    docstring = module.__doc__ or ""
    return Rule(
        name=module.RULE,
        severity=module.SEVERITY,
        bare=module.BARE,
        module=module,
        title=docstring.strip().split("\n", 1)[0],
        help=sections(docstring),
        bad=module.BAD,
        good=module.GOOD,
    )
