"""A finding is a value: what is wrong, where, and what would fit.

Voice: lower case, no full stop, the author's words in backticks, expected and found with the direction of the
difference. Findings never blame and never reach a person as an exception.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Generic, TypeVar

from generator.source import Span

T = TypeVar("T")


class Severity(StrEnum):
    """How much a finding weighs: an error stops publishing, a warning asks, a note tells."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Label:
    """A further place that a finding points at, with what to say about it."""

    span: Span
    message: str


@dataclass(frozen=True, slots=True)
class Fix:
    """A replacement for the text at `span`. Offered only after it has itself been worked and proved."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to tell the writer.

    `rule` names the fault (kebab-case, the name of its help page); `fits` says what would fit, or is empty.
    `span` is the primary place in the source the finding travels with.
    """

    rule: str
    severity: Severity
    message: str
    span: Span
    fits: str = ""
    labels: tuple[Label, ...] = ()
    fix: Fix | None = None


@dataclass(frozen=True, slots=True)
class Checked(Generic[T]):
    """A stage's product together with what there is to say about it. The product is always there, if partial."""

    value: T
    findings: tuple[Finding, ...] = ()
