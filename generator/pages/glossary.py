"""The glossary: stitches the patterns use, in both dialects, with their signs and where they occur."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from generator.charts.marks import trace
from generator.charts.paths import shape_paths
from generator.charts.symbols import sample
from generator.notation.tree import Loop
from generator.pages.records import Card
from generator.pages.studio import Studio
from generator.vocabulary.load import is_stitch, language, stitch
from generator.wording.voice import words_for


@dataclass(frozen=True, slots=True)
class Word:
    """One row of the glossary."""

    identity: str
    us_short: str
    us_name: str
    uk_short: str
    uk_name: str
    turning: str
    symbol: Markup | str
    patterns: tuple[tuple[str, str], ...]
    more: int


MOST_NAMED = 6


def glossary(cards: Sequence[Card], studio: Studio) -> tuple[Word, ...]:
    """The stitches the patterns use, lowest first."""
    users: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for card in sorted(cards, key=lambda card: card.title.lower()):
        for identity in card.stitches:
            if is_stitch(identity):
                users[identity].append((card.slug, card.title))
    order = sorted(users, key=lambda identity: (stitch(identity).height, stitch(identity).base, identity))
    return tuple(_word(identity, users[identity], studio) for identity in order)


def _word(identity: str, users: list[tuple[str, str]], studio: Studio) -> Word:
    us, uk = (words_for(identity, language(code)) for code in ("en-US", "en-GB"))
    record = stitch(identity)
    turning = str(record.turning_chain) if record.turning_chain and record.counts else "–"
    return Word(
        identity, us.abbreviation, us.name, uk.abbreviation, uk.name, turning, symbol(identity, studio.sc_sign),
        tuple(users[:MOST_NAMED]), max(len(users) - MOST_NAMED, 0),
    )  # fmt: skip


def symbol(identity: str, sc_sign: str) -> Markup | str:
    """The stitch's sign as a small drawing, named for its stitch."""
    shape = sample(identity, Loop.BOTH, sc_sign)
    points = [point for stroke in shape for point in trace(stroke)]
    if not points:
        return ""
    left, right = min(x for x, _ in points) * 32 - 8, max(x for x, _ in points) * 32 + 8
    top, bottom = min(y for _, y in points) * 32 - 8, max(y for _, y in points) * 32 + 8
    edge = max(right - left, bottom - top, 72)
    x, y = (left + right - edge) / 2, (top + bottom - edge) / 2
    name = words_for(identity, language("en-US")).name
    return Markup(
        '<svg viewBox="{:.0f} {:.0f} {:.0f} {:.0f}" width="48" height="48" role="img" aria-label="{}" fill="none" '
        'stroke="currentColor" stroke-width="3.4" stroke-linecap="round" stroke-linejoin="round">{}</svg>'
    ).format(x, y, edge, edge, f"sign for {name}", Markup(shape_paths(shape)))
