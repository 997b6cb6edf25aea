"""Binds a compiled pattern into a leaflet: one language, one style, in printing order.

Facts first, then the work with the prose that stands between its parts, then corrections, proof and, last, the story.
"""

import re
from collections import deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from itertools import chain

from generator.fabric.model import Part
from generator.notation.pattern import Header, Prose, Revision, Working
from generator.pages import materials, supplies
from generator.pages.checked import how_checked
from generator.pages.leaflet import Change, Entry, Figure, Leaflet, Passage, Section
from generator.pages.manuscript import passages, without_heading
from generator.pages.prose import anchor
from generator.pages.studio import Studio
from generator.pages.testreport import Report
from generator.pipeline import Compiled
from generator.vocabulary import load
from generator.vocabulary.records import Language
from generator.wording.instructions import Written, write_part
from generator.wording.numbers import day, number_list
from generator.wording.reference import abbreviations, own_stitches, unnamed
from generator.wording.remarks import move
from generator.wording.voice import Style, Voice

_CHAIN_OF = re.compile(r"\b[Cc]h-(?=\d)")
"""`ch-2` in prose: a name of a space, which a remark's own translation leaves alone."""


def bind(
    compiled: Compiled,
    studio: Studio,
    language: Language,
    style: Style,
    figures: Mapping[int, tuple[Figure, ...]],
    test: Report | None = None,
    left: bool = False,
) -> Leaflet:
    """The leaflet of a pattern.

    Args:
        compiled: the pattern with what was made of it.
        studio: who publishes; its `units` stand first.
        language: the terms to print.
        style: how much is written out.
        figures: drawings by index of their part; may be empty.
        test: what a test brought, when filled sheets were merged.
        left: whether its rounds are worded for the left hand; `figures` are to be mirrored then.
    """
    header = compiled.pattern.header
    voice = Voice(language, style, author=author_language(header))
    said = [written(compiled, part, language, style, left) for part in compiled.fabric.parts]
    sections, about = _sections(compiled, said, language.code, figures)
    changes = tuple(_change(revision, voice) for revision in newest_first(header.revisions))
    return Leaflet(
        title=header.title or header.slug,
        slug=header.slug,
        language=language.code,
        terms=language.title,
        style=style.value,
        summary=moved(header.summary, voice),
        level=header.level,
        published=day(header.published, language.code) if header.published else "",
        revised=changes[0].day if changes else "",
        address=f"{studio.address}patterns/{header.slug}/" if studio.address else "",
        studio=studio.title,
        author=studio.author,
        facts=supplies.facts(header, compiled.measured, studio, voice),
        threads=supplies.threads(header, compiled.measured, studio, test),
        notions=tuple(moved(notion, voice) for notion in header.notions),
        cautions=materials.cautions(compiled.measured),
        abbreviations=_words_used(compiled, said, language, style),
        sections=tuple(replace(section, prose=_moved(section.prose, voice)) for section in sections),
        about=_moved(about, voice),
        changes=changes,
        checked=how_checked(compiled.fabric, bool(figures), test),
    )


def author_language(header: Header) -> Language:
    """The language the source is written in."""
    return load.language("en-GB" if header.terms == "UK" else "en-US")


def moved(text: str, voice: Voice) -> str:
    """The author's prose in the reader's terms; spelled out where the style is. Spaces and points are kept."""
    inner = text.strip().rstrip(".;,")
    if not inner or not (voice.whole or (voice.author and voice.author.code != voice.language.code)):
        return text
    start = text.index(inner)
    told = move(inner, voice)
    if voice.whole:
        told = _CHAIN_OF.sub(f"{voice.chains()}-", told)
    return text[:start] + told + text[start + len(inner) :]


def _moved(blocks: tuple[Passage, ...], voice: Voice) -> tuple[Passage, ...]:
    return tuple(
        replace(block, runs=tuple(replace(run, text=moved(run.text, voice)) for run in block.runs)) for block in blocks
    )


def newest_first(revisions: Sequence[Revision]) -> tuple[Revision, ...]:
    """Revisions as readers look for them; those of one day keep the author's order."""
    return tuple(sorted(revisions, key=lambda revision: revision.date, reverse=True))


def _sections(
    compiled: Compiled, said: Sequence[tuple[Written, ...]], code: str, figures: Mapping[int, tuple[Figure, ...]]
) -> tuple[tuple[Section, ...], tuple[Passage, ...]]:
    """The work in the author's order, and the story that stands before it.

    A part that goes on in a second block after some prose becomes two sections; its lines are dealt out in order.
    """
    parts = compiled.fabric.parts
    waiting = [deque(_entries(compiled, index, lines, code)) for index, lines in enumerate(said)]
    dealt = [0] * len(parts)
    sections: list[Section] = []
    about: tuple[Passage, ...] = ()
    for block in compiled.pattern.blocks:
        if isinstance(block, Prose):
            text = passages(block.text)
            if sections:
                sections.append(Section(prose=text))
            else:
                about += text
        elif isinstance(block, Working) and block.part < len(parts):
            part, first = parts[block.part], dealt[block.part] == 0
            if sections and not sections[-1].lines:
                sections[-1] = replace(sections[-1], prose=without_heading(sections[-1].prose, part.name))
            about = about if sections else without_heading(about, part.name)
            dealt[block.part] += len(block.piece.lines)
            lines = tuple(_deal(waiting[block.part], dealt[block.part]))
            drawn = figures.get(block.part, ()) if first else ()
            sections.append(Section(part.name if first else "", part.make, lines, drawn, goes_on=not first))
    return tuple(section for section in sections if section.lines or section.prose or section.name), about


def written(
    compiled: Compiled, part: Part, language: Language, style: Style, left: bool = False
) -> tuple[Written, ...]:
    """A part's lines in words, with the pattern's own yarns and stitches."""
    header = compiled.pattern.header
    author = author_language(header)
    yarns = {yarn.key: yarn.colour for yarn in header.yarns}
    own = {special.key: special.name for special in header.stitches}
    return write_part(part, language, style, yarns, left, author, own)


def _words_used(
    compiled: Compiled, said: Sequence[tuple[Written, ...]], language: Language, style: Style
) -> tuple[tuple[str, str], ...]:
    """The pattern's own stitches, and the abbreviations where the style has any."""
    own = {special.key: special.name for special in compiled.pattern.header.stitches}
    explained = own_stitches(compiled.fabric, language, own, style)
    if style is Style.SPELLED:
        return explained
    yarns = {yarn.key: yarn.colour for yarn in compiled.pattern.header.yarns}
    lines = unnamed(chain.from_iterable(said), language, yarns)
    return (*explained, *abbreviations(compiled.fabric, language, lines))


def _deal(entries: "deque[tuple[int, Entry]]", before: int) -> Iterator[Entry]:
    """Takes the entries of the lines that come before line number `before` of their part."""
    while entries and entries[0][0] < before:
        yield entries.popleft()[1]


def _entries(compiled: Compiled, index: int, written: Sequence[Written], code: str) -> Iterator[tuple[int, Entry]]:
    """One entry for every written line, with the index of the line it was written from."""
    part = compiled.fabric.parts[index]
    name = anchor(part.name) or f"part-{index + 1}"
    seen: dict[str, int] = {}
    for said in written:
        courses = part.courses[slice(*part.lines[said.line].courses)] if 0 <= said.line < len(part.lines) else ()
        key = (
            f"{name}-r" + "-".join(str(n) for n in sorted({said.numbers[0], said.numbers[-1]}))
            if said.numbers
            else name
        )
        seen[key] = seen.get(key, 0) + 1
        yield (
            said.line,
            Entry(
                anchor=key if seen[key] == 1 and said.numbers else f"{key}-{seen[key]}",
                label=said.label,
                text=said.text,
                count=said.count,
                kind=said.kind,
                steps=said.steps,
                numbers=said.numbers,
                boxes=len(said.numbers) or int(bool(courses) and bool(said.label)),
                part=index,
                line=said.line,
                live=courses[-1].live if courses else 0,
                made=courses[-1].made if courses else 0,
                corrected=_corrected(compiled.pattern.header.revisions, part, said.numbers, code),
            ),
        )


def _corrected(revisions: Sequence[Revision], part: Part, numbers: tuple[int, ...], code: str) -> str:
    """When a round was last corrected, in words; empty when it never was."""
    dates: list[date] = [
        revision.date
        for revision in revisions
        if set(revision.rounds) & set(numbers) and revision.part.casefold() in ("", part.name.casefold())
    ]
    return f"corrected {day(max(dates), code)}" if dates else ""


def _change(revision: Revision, voice: Voice) -> Change:
    where = revision.part
    if revision.rounds:
        word = voice.term("round", len(revision.rounds)).capitalize()
        listed = number_list(revision.rounds, voice.say("and"), voice.say("to") if voice.whole else "–")
        where = f"{where}, {word} {listed}".lstrip(", ")
    return Change(
        date=revision.date.isoformat(),
        day=day(revision.date, voice.language.code),
        where=where,
        note=moved(revision.note, voice),
        was=moved(revision.was, voice),
        now=moved(revision.now, voice),
        changes_work=revision.changes_work,
    )
