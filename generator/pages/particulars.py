"""The smaller things a pattern's page says: dates, tags, corrections, film, conventions, and how it was checked."""

from collections import Counter
from collections.abc import Iterable
from datetime import date

from generator.fabric.model import Fabric, Make, Status
from generator.notation.pattern import Film, Revision
from generator.pages.prose import anchor
from generator.pages.records import Correction, FilmView, Said, Tag
from generator.pages.studio import Studio
from generator.wording import numbers


def shown(when: date | None, studio: Studio) -> str:
    """A date in words, as the studio's first readers write it."""
    return numbers.day(when, "en-GB" if studio.terms == "UK" else "en-US") if when else ""


def tags(labels: Iterable[str]) -> tuple[Tag, ...]:
    """Tags with the names of their pages."""
    return tuple(Tag(label, anchor(label)) for label in dict.fromkeys(labels))


def clock(seconds: int) -> str:
    """`1:05`, `1:02:05`."""
    hours, rest = divmod(seconds, 3600)
    minutes, left = divmod(rest, 60)
    return f"{hours}:{minutes:02}:{left:02}" if hours else f"{minutes}:{left:02}"


def film_link(film: Film | None, seconds: int) -> str:
    """The film's address at a moment, by the open standard for media fragments (W3C Media Fragments URI, `#t=`)."""
    if film is None or not film.address.startswith(("https://", "http://")):
        return ""
    return f"{film.address}#t={seconds}" if seconds and "#" not in film.address else film.address


def film_view(film: Film | None) -> FilmView | None:
    """The film for the page; None without one."""
    if film is None or not (film.address or film.marks):
        return None
    marks = tuple((clock(mark.seconds), mark.title, film_link(film, mark.seconds)) for mark in film.marks)
    length = clock(film.seconds) if film.seconds else ""
    return FilmView(film_link(film, 0), length, f"PT{film.seconds}S" if film.seconds else "", marks)


def corrections(revisions: Iterable[Revision], studio: Studio) -> tuple[Correction, ...]:
    """Open corrections, newest first."""
    ordered = sorted(revisions, key=lambda revision: revision.date, reverse=True)
    return tuple(
        Correction(one.date.isoformat(), shown(one.date, studio), _where(one), one.note, one.was, one.now)
        for one in ordered
    )


def _where(revision: Revision) -> str:
    word = "round" if len(revision.rounds) == 1 else "rounds"
    where = [revision.part] if revision.part else []
    if revision.rounds:
        where.append(f"{word} {numbers.number_list(tuple(revision.rounds))}")
    return ", ".join(where)


def conventions(fabric: Fabric) -> tuple[Said, ...]:
    """The agreements the counts rest on, read off the fabric."""
    makes = Counter(
        course.make for part in fabric.parts for course in part.courses if course.make is not Make.FOUNDATION
    )
    said = []
    if makes[Make.SPIRAL] and not makes[Make.JOINED]:
        said.append(Said("Worked in a spiral: rounds are not joined, so mark the first stitch of each."))
    if makes[Make.JOINED] and not makes[Make.SPIRAL]:
        said.append(Said("Every round is closed with a slip stitch, which is never counted."))
    rows = [part for part in fabric.parts if sum(c.make is Make.ROW for c in part.courses) > 1]
    if rows and (makes[Make.SPIRAL] or makes[Make.JOINED]):
        said.extend(
            Said(f"{part.name or 'Part'}: worked in rows where it says so; turn at the end of each.") for part in rows
        )
    elif rows:
        said.append(Said("Worked in rows; turn at the end of each."))
    counts = {part.start_chain_counts for part in fabric.parts} - {None}
    if counts == {True}:
        said.append(Said("The chain that begins a round or row of tall stitches counts as a stitch."))
    elif counts == {False}:
        said.append(Said("The chain that begins a round or row is not counted as a stitch."))
    said.append(Said("The number in brackets is what is left round the edge when the round is done."))
    return tuple(said)


def _courses(fabric: Fabric) -> str:
    """What the fabric is made of: `rounds`, `rows`, or both."""
    makes = {course.make for part in fabric.parts for course in part.courses}
    names = [name for name, of in (("rounds", {Make.SPIRAL, Make.JOINED}), ("rows", {Make.ROW})) if of & makes]
    return " and ".join(names) or "rounds and rows"


def _open(fabric: Fabric) -> bool:
    """Whether it has chain spaces: of lace, stitches are passed over on purpose."""
    return any(kind.startswith("sp") for part in fabric.parts for course in part.courses for kind, _n in course.kinds)


def proved(fabric: Fabric) -> str:
    """What was checked, from the record of the work alone."""
    lines = [line for part in fabric.parts for line in part.lines if line.courses[0] < line.courses[1]]
    stated = sum(line.status is Status.PROVED for line in lines)
    courses = sum(len(part.courses) for part in fabric.parts)
    stitches = sum(course.made for part in fabric.parts for course in part.courses)
    if any(line.status not in (Status.PROVED, Status.WORKED) for line in lines) or not lines:
        return "This pattern has not been proved."
    agree, carry = "all" if stated == len(lines) else str(stated), "carries" if stated == 1 else "carry"
    return (
        f"All {courses} {_courses(fabric)} were worked by machine, {stitches:,} stitches one after the other. "
        f"{'Each is worked into' if _open(fabric) else 'Each uses up'} the one before it. Of the {len(lines)} instructions, {agree} {carry} a count by the designer, "
        "and every such count is the number of stitches that were left."
    )
