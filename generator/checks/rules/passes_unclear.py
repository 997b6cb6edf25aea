"""`rep from * 5 times` can mean five passes or six.

What it finds
-------------
A repeat whose number leaves open whether the first pass is counted.

Why it matters
--------------
Houses differ. Some mean five in all, others five more after the first; only the count at the end tells.

Example
-------
On 24 stitches: `*Sc in next 3 sts, inc; rep from * 5 times (30)` means five more.

Write instead
-------------
`rep from * 5 more times`, or `(sc in next 3 sts, inc) 6 times`.

Source
------
common practice, no source
"""

import re
from collections.abc import Iterator

from generator.checks import proving, say, steps, texts
from generator.checks.pairing import broken
from generator.checks.product import At, Product
from generator.diagnostics.record import Finding, Fix, Severity
from generator.notation.tree import Repeat
from generator.source import Span

RULE = "passes-unclear"
SEVERITY = Severity.WARNING
BARE: Severity | None = Severity.NOTE
BAD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *Sc in next st, inc; rep from * 5 times (18)
"""
GOOD = """\
Rnd 1: 6 sc in magic ring (6)
Rnd 2: 2 sc in each st around (12)
Rnd 3: *Sc in next st, inc; rep from * 5 more times (18)
"""

_WORDS = {
    "twice": 2,
    "once": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
}
_PASSES = re.compile(
    r"\brep(?:eat)?\b[^.;()]{0,30}?(?:\*|†|\bonce\b)?[^.;()\w]{0,4}\s(?:(?P<n>\d+|two|three|four|five|six|seven|eight|nine|ten)\s+times?|(?P<w>twice))\b(?P<after>[^.;()]{0,12})",
    re.IGNORECASE,
)


def check(product: Product) -> Iterator[Finding]:
    """Speaks at the number of times, and says which reading was taken."""
    for at, match in texts.in_lines(product, _PASSES, "time", "twice"):
        if at.problem is not None or broken(product.words(at.span), product.bare):
            continue
        said = (match["n"] or match["w"]).lower()
        number = int(said) if said.isdigit() else _WORDS[said]
        settled = _settled(at, number)
        clear = re.search(r"\bmore\b|\bin all\b|\btotal\b|altogether", match[0] + match["after"], re.IGNORECASE)
        if settled and not clear and "*" in match[0]:
            yield _finding(product, at, match, number, settled)


def _settled(at: At, number: int) -> int:
    """How many passes were taken; 0 when no repeat on the line goes with the number."""
    for repeat in steps.find(Repeat, at.worked.steps):
        if not repeat.times.to_end and repeat.times.n in (number, number + 1):
            return repeat.times.n
    return 0


def _finding(product: Product, at: At, match: "re.Match[str]", number: int, settled: int) -> Finding:
    group = "n" if match["n"] else "w"
    start, end = match.span(group)
    span = Span(at.span.start + start, at.span.start + end)
    if group == "n":
        end = match.end("n") + len(re.match(r"\s+times?", match.string[match.end("n") :], re.IGNORECASE)[0])  # type: ignore[index]
        span = Span(span.start, at.span.start + end)
    text = f"{number} more times" if settled == number + 1 else f"for a total of {settled} times"
    fix = Fix(span, text)
    proved = proving.proved(product, at, (fix,)) is not None
    message = f"{say.quote(product.words(span))} can be {number} or {number + 1} passes; {settled} in all were taken"
    return Finding(RULE, SEVERITY, message, span, fits=f"`{text}`" if proved else "", fix=fix if proved else None)
