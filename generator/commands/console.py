"""Where commands print to, and how: to a terminal in colour, to a file without, in UTF-8 either way."""

import os
import sys
from dataclasses import dataclass
from io import TextIOWrapper
from typing import BinaryIO, TextIO

from generator.diagnostics import lines, terminal
from generator.diagnostics.placing import ordered, printable
from generator.diagnostics.record import Finding, Severity
from generator.source import Source

DONE, FAULTS, USAGE = 0, 1, 2
"""Exit statuses: all well; findings that are errors; asked for something that can't be done."""


class NothingThere(Exception):
    """What a person named doesn't exist or is of no use here; the message is for her."""


@dataclass(frozen=True, slots=True)
class Console:
    """The streams of one run."""

    out: TextIO
    err: TextIO
    stdin: BinaryIO
    colour: bool = False

    def say(self, text: str = "") -> None:
        """A line for the person."""
        print(text, file=self.out)

    def complain(self, text: str) -> None:
        """A line beside the output proper."""
        print(printable(text), file=self.err)

    def show(self, source: Source, findings: tuple[Finding, ...], one_a_line: bool = False) -> None:
        """Findings of one source, in the order of its text."""
        for finding in ordered(findings):
            if one_a_line:
                self.say(lines.render(source, finding))
            else:
                self.say(terminal.render(source, finding, self.colour))
                self.say()


def of_process() -> Console:
    """The console of this process."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")
    colour = terminal.wants_colour(sys.stdout.isatty(), os.environ)
    return Console(sys.stdout, sys.stderr, sys.stdin.buffer, colour)


def errors(findings: tuple[Finding, ...]) -> int:
    """How many of them stop publishing."""
    return sum(finding.severity is Severity.ERROR for finding in findings)


def several(n: int, noun: str, many: str = "") -> str:
    """A number with its noun: `1 error`, `3 errors`."""
    return f"{n} {noun if n == 1 else many or noun + 's'}"
