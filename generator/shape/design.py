"""A shape block from words to rounds: read, checked, planned, written. Pure; the gauge may come from the pattern."""

from dataclasses import dataclass
from functools import lru_cache

from generator.diagnostics.record import Checked, Finding, Severity
from generator.measures.gauge import Scale, from_gauge, usual_hook_mm, width_from_hook
from generator.measures.measured import Basis
from generator.notation.pattern import Gauge
from generator.shape.bands import Band, turned, yarns
from generator.shape.frill import grown
from generator.shape.hand import Hand, hand_of
from generator.shape.plan import Plan, plain, plan
from generator.shape.possible import profile_of, too_small_or_large
from generator.shape.profile import Profile
from generator.shape.request import STITCHES, WHERE, Request, read_request
from generator.shape.write import Manner, write
from generator.source import Source, Span

SHARP = 8
"""Radius in stitches from which on the half-round promise holds; smaller rounds can't be told apart from their steps."""


@dataclass(frozen=True, slots=True)
class Design:
    """What came of a request. `plain` is the same wish rounded round by round, for comparison."""

    request: Request
    plan: Plan
    plain: Plan
    bands: tuple[Band, ...]
    """Zones from the beginning of the work, however they were given."""
    yarns: tuple[str, ...]
    lines: str
    down: bool
    """The work goes downwards: it begins at the top of the finished piece."""


def expand(text: str, gauge: Gauge | None, terms: str = "") -> Checked[str]:
    """The working lines for the text of a shape block; empty where it can't be made.

    Spans of the findings count from the beginning of `text`. `gauge` is the pattern's, for a block without its own.
    """
    made = design(Source("<shape>", text), gauge, terms)
    return Checked(made.value.lines if made.value else "", made.findings)


@lru_cache(maxsize=32)
def design(source: Source, gauge: Gauge | None = None, terms: str = "") -> Checked[Design | None]:
    """A request read, planned and written, in US terms unless `terms` is `UK`. Kept for a while, since a preview asks for the same one again and again."""
    read = read_request(source, terms)
    request, findings = read.value, read.findings
    shaped = profile_of(request)
    findings += shaped.findings
    hand, missing = _hand(request, gauge)
    if missing:
        findings += (missing,)
    if shaped.value is None or hand is None or any(f.severity is Severity.ERROR for f in findings):
        return Checked(None, findings)
    if wrong := too_small_or_large(request, shaped.value, hand):
        return Checked(None, (*findings, wrong))
    made = _design(request, shaped.value, hand, terms)
    if far := _out_of_reach(request, made.plan):
        findings += (far,)
    return Checked(made, findings)


def _hand(request: Request, gauge: Gauge | None) -> tuple[Hand | None, Finding | None]:
    """The hand at work: gauge of the block, gauge of the pattern, or hook and yarn."""
    given = request.gauge or gauge
    repeat = request.repeat
    if given and given.stitches > 0:
        scale = from_gauge(given)
        stitch = request.stitch or (scale.stitch if scale.stitch in ("sc", "hdc", "dc") else "sc")
        return hand_of(scale, stitch, repeat), None
    if request.weight is not None or request.hook:
        hook = request.hook or usual_hook_mm(request.weight or 4)
        scale = Scale(width_from_hook(hook, request.weight), Basis.HOOK)
        return hand_of(scale, request.stitch or "sc", repeat), None
    if any(f"{WHERE}.{name}" in request.spans for name in ("gauge", "hook", "weight")):
        return None, None  # it was there and wrong, which is told already
    where = request.spans.get(f"{WHERE}.form", Span(0, 0))
    fits = "gauge: 20 sc x 21 rounds = 10 cm, or hook: 3.5 mm with weight: 3"
    return None, Finding("shape-without-gauge", Severity.ERROR, "without a gauge no size can be worked", where, fits)


def _design(request: Request, profile: Profile, hand: Hand, terms: str) -> Design:
    high = profile.levels()[1] - profile.levels()[0]
    down = request.form in ("bell", "hat")  # their usual beginning is the top
    flip = request.top_first != down if f"{WHERE}.top_first" in request.spans else False
    bands = request.bands
    if bands and (flip != down):
        bands = turned(bands, high)
    if flip:
        profile = profile.turned()
    steps = (0, hand.base, -hand.base) if profile.straight_mm else ()
    best = grown(profile, hand, request.grow) if request.form == "frill" else plan(profile, hand, steps)
    colours = yarns(best, bands)
    lines = write(best, Manner(request.joined, request.corners, colours, word_for(hand.stitch, terms)))
    return Design(request, best, plain(profile, hand), bands, colours, lines, flip != down)


def word_for(stitch: str, terms: str) -> str:
    """What a writer in those terms calls a stitch that rounds are planned in."""
    return next(word for word, identity in STITCHES[terms or "US"].items() if identity == stitch)


def _out_of_reach(request: Request, best: Plan) -> Finding | None:
    """A warning where the rounds can't keep to the wish."""
    hand, off = best.hand, best.deviation
    if off.mm <= hand.height / 2 or hand.stitches(best.profile.widest()) < 6.2831853 * SHARP:
        return None
    where = request.spans.get(f"{WHERE}.points", request.spans.get(f"{WHERE}.form", Span(0, 0)))
    message = f"the outline turns faster than rounds of {hand.stitch} can; the worked piece is {off.mm:.0f} mm off at round {off.round}"
    lower = {"dc": "hdc or sc", "hdc": "sc", "sc": "a finer yarn"}[hand.stitch]
    return Finding("shape-out-of-reach", Severity.WARNING, message, where, f"{lower}, or a softer curve there")
