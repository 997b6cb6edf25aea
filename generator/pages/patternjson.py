"""The pattern as data: what other programs may build on. Version 1, described by `pattern.schema.json`.

Lengths in millimetres, yarn in metres and grams. Both dialects stand side by side; counts come from the fabric. Private notes have no field here.
"""

import json
from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from generator.fabric.model import Part
from generator.measures.summary import plain
from generator.pages.binding import newest_first
from generator.pages.leaflet import Entry, Leaflet
from generator.pipeline import Compiled

SCHEMA = "spiralbound-pattern/1"


def pattern_json(compiled: Compiled, leaflets: Mapping[str, Leaflet]) -> str:
    """The JSON text. `leaflets` are the short editions by language code; their lines must come from one fabric."""
    return json.dumps(_pattern(compiled, leaflets), ensure_ascii=False, indent=1) + "\n"


def _pattern(compiled: Compiled, leaflets: Mapping[str, Leaflet]) -> dict[str, Any]:
    header = compiled.pattern.header
    return {
        "schema": SCHEMA,
        "title": header.title,
        "slug": header.slug,
        "summary": header.summary,
        "published": header.published.isoformat() if header.published else None,
        "written_in": header.terms,
        "level": header.level,
        "kind": header.kind,
        "tags": list(header.tags),
        "hooks_mm": list(header.hooks_mm),
        "gauge": asdict(header.gauge) if header.gauge else None,
        "size_mm": _size(compiled),
        "yarns": _yarns(compiled),
        "notions": list(header.notions),
        "cautions": [caution.text for caution in compiled.measured.cautions] if compiled.measured else [],
        "measures": plain(compiled.measured) if compiled.measured else None,
        "abbreviations": {code: dict(leaflet.abbreviations) for code, leaflet in leaflets.items()},
        "parts": [_part(part, index, leaflets) for index, part in enumerate(compiled.fabric.parts)],
        "revisions": [
            {
                "date": revision.date.isoformat(),
                "note": revision.note,
                "part": revision.part,
                "rounds": list(revision.rounds),
                "was": revision.was,
                "now": revision.now,
                "changes_work": revision.changes_work,
            }
            for revision in newest_first(header.revisions)
        ],
    }


def _size(compiled: Compiled) -> dict[str, float]:
    stated = compiled.pattern.header.size
    if stated:
        return {name: value for name, value in asdict(stated).items() if value}
    return {}


def _yarns(compiled: Compiled) -> list[dict[str, Any]]:
    amounts = {amount.key: amount for amount in compiled.measured.yarns} if compiled.measured else {}
    made = []
    for yarn in compiled.pattern.header.yarns:
        amount = amounts.get(yarn.key)
        made.append(
            {
                "key": yarn.key,
                "colour": yarn.colour,
                "swatch": yarn.swatch,
                "weight": yarn.weight,
                "fibre": yarn.fibre,
                "metres": yarn.stated_metres or (round(amount.buy_metres, 1) if amount else None),
                "grams": yarn.stated_grams
                or (round(amount.buy_grams, 1) if amount and amount.buy_grams is not None else None),
                "stated": bool(yarn.stated_metres or yarn.stated_grams),
            }
        )
    return made


def _part(part: Part, index: int, leaflets: Mapping[str, Leaflet]) -> dict[str, Any]:
    texts = {code: [entry for entry in leaflet.entries() if entry.part == index] for code, leaflet in leaflets.items()}
    first = next(iter(texts.values()), [])
    return {
        "name": part.name,
        "make": part.make,
        "lines": [
            _line(entry, {code: entries[turn] for code, entries in texts.items() if turn < len(entries)}, part)
            for turn, entry in enumerate(first)
        ],
    }


def _line(entry: Entry, said: Mapping[str, Entry], part: Part) -> dict[str, Any]:
    worked = part.lines[entry.line]
    return {
        "kind": entry.kind,
        "numbers": list(entry.numbers),
        "label": {code: one.label for code, one in said.items()},
        "text": {code: one.text for code, one in said.items()},
        "count": {code: one.count for code, one in said.items()},
        "made": worked.made,
        "used": worked.used,
        "live": worked.live,
        "kinds": dict(worked.kinds),
    }
