"""Hooks: labels for millimetres, candidates for a label, and whether a hook suits a yarn.

A letter or number never becomes one size where tables disagree; the millimetre is the measurement.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.measures.measured import HookMeasure
from generator.measures.published import rows

NEAR = 0.005
"""mm; two decimals are all the trade prints."""
UNDER, ABOVE = 0.5, 1.6
"""How far below and above the council's range a hook is still plausible: toys are worked far firmer, shawls far looser
than the table's plain swatch (published practice sits at or under the range). Own choice."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One size a label may mean."""

    mm: float
    system: str
    """`US`, `UK`, `steel` or `mm`."""
    certain: bool
    """Tables agree on this label for this size."""


def row_for(mm: float) -> Mapping[str, Any] | None:
    """The table's row for a size; None when it isn't listed."""
    return next((row for row in rows("hooks") if abs(float(row["mm"]) - mm) < NEAR), None)


def neighbours(mm: float) -> tuple[float, ...]:
    """The listed sizes just below and above an unlisted one; the one there is at either end."""
    sizes = [float(row["mm"]) for row in rows("hooks")]
    below, above = [s for s in sizes if s < mm - NEAR], [s for s in sizes if s > mm + NEAR]
    return (*below[-1:], *above[:1])


def _note(status: str, also: list[str]) -> str:
    if status == "contested":
        return "tables disagree: " + (", ".join(also) if also else "some give no label")
    if also:
        return "also seen: " + ", ".join(also)
    return ""


def measure_hook(mm: float, category: int | None) -> HookMeasure:
    """A hook with its labels. A contested label is given only in the note, with what else was seen."""
    row = row_for(mm)
    if row is None:
        return HookMeasure(mm, "", "", "", "", False, neighbours(mm), plausible(mm, category))
    us_also, uk_also = list(row["us_also"]), list(row["uk_also"])
    return HookMeasure(
        mm=mm,
        us=row["us"] if row["us_status"] != "contested" else "",
        us_note=_note(
            row["us_status"], ([row["us"]] if row["us"] and row["us_status"] == "contested" else []) + us_also
        ),
        uk=row["uk"] if row["uk_status"] == "agreed" else "",
        uk_note=_note(
            row["uk_status"], ([row["uk"]] if row["uk"] and row["uk_status"] == "contested" else []) + uk_also
        ),
        listed=True,
        neighbours_mm=(),
        plausible=plausible(mm, category),
    )


def _plain(label: str) -> str:
    label = label.strip().upper().replace("10 1/2", "10½").replace("10.5", "10½").replace("10-1/2", "10½")
    return re.sub(r"[\s.]+$", "", label)


def _forms(label: str) -> set[str]:
    """Ways one council label is written: `H-8` as `H-8`, `H/8`, `H8`, `H`, `8`; `M/N-13` also by each letter."""
    label = _plain(label)
    letters, dash, number = label.partition("-")
    if not dash:
        return {label} | (set(label.split("/")) if "/" in label and not any(c.isdigit() for c in label) else set())
    each = [letters, *letters.split("/")]
    written = {join.join((letter, number)) for letter in each for join in ("-", "/", "", " ")}
    return written | set(each) | {number}


_SYSTEM = re.compile(r"^(US|U\.S\.|UK|U\.K\.|STEEL)?\s*(?:SIZE|NO\.?|#)?\s*(.+)$")
_MM = re.compile(r"^([0-9]+(?:[.,][0-9]+)?)\s*MM$")


def candidates(label: str) -> tuple[Candidate, ...]:
    """Every size a label may mean, smallest first, each system's certain ones marked.

    `H-8`, `H/8`, `US 8`, `UK 6`, `steel 7`, `4 mm`. A bare number is looked for everywhere (`7` is US 4.5 mm, UK
    4.5 mm and two steel sizes). Empty when nothing fits.
    """
    text = _plain(label)
    if match := _MM.match(text):
        return (Candidate(float(match[1].replace(",", ".")), "mm", True),)
    match = _SYSTEM.match(text)
    if not match:
        return ()
    system, word = (match[1] or "").replace(".", ""), _plain(match[2])
    found = {c for c in _all(word) if not system or c.system.upper() == system}
    return tuple(sorted(found, key=lambda c: (c.mm, c.system)))


def _all(word: str) -> Iterator[Candidate]:
    for row in rows("hooks"):
        mm = float(row["mm"])
        if row["us"] and word in _forms(row["us"]):
            yield Candidate(mm, "US", row["us_status"] == "agreed")
        elif any(word in _forms(other.replace("/", "-")) for other in row["us_also"]):
            yield Candidate(mm, "US", False)
        if row["uk"] == word:
            yield Candidate(mm, "UK", row["uk_status"] == "agreed")
        elif word in row["uk_also"]:
            yield Candidate(mm, "UK", False)
    for row in rows("steel-hooks"):
        if row["us"] == word:
            for series in (row["series_a_mm"], row["series_b_mm"]):
                yield from (Candidate(float(mm), "steel", False) for mm in series)


def label_fits(label: str, mm: float) -> bool | None:
    """Whether a label may stand beside a size: some table has both in one row. None for a label nobody knows."""
    found = candidates(label)
    if not found:
        return None
    return any(abs(c.mm - mm) < NEAR for c in found)


def hooks_for(category: int) -> tuple[float, float | None] | None:
    """The council's hooks for a yarn weight, mm; no upper end for jumbo; None for a weight it doesn't have."""
    for row in rows("yarn-weights"):
        if row["category"] == category:
            high = row.get("hook_high_mm")
            return float(row["hook_low_mm"]), None if high is None else float(high)
    return None


def plausible(mm: float, category: int | None) -> bool | None:
    """Whether a hook suits a yarn weight at all (see UNDER and ABOVE); None when the weight is unknown."""
    span = hooks_for(category) if category is not None else None
    if span is None:
        return None
    low, high = span
    return low * UNDER <= mm and (high is None or mm <= high * ABOVE)
