"""Photos made ready for a page. Encoding one takes a second, so the files of a photo that has not changed are read again."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path

from generator import library
from generator.diagnostics.record import Finding, Severity
from generator.notation.pattern import Header
from generator.pages import photos
from generator.pages.wanted import Wanted, names
from generator.publish import shelf
from generator.publish.finished import Shot


@dataclass(frozen=True, slots=True)
class Shown:
    """Photos by the name the text uses, how each is recognised next time, and what there is to say."""

    ready: Mapping[str, photos.Ready]
    shots: tuple[Shot, ...]
    findings: tuple[Finding, ...]


def prepare(
    pictures: Sequence[Wanted],
    folder: Path,
    content: Path,
    shared: Sequence[str] = (),
    before: Collection[Shot] = (),
    site: Path = Path(),
) -> Shown:
    """Make photos ready; those that are not there are left out. Gives `photo-unusable`.

    Args:
        folder: where the text lies, in `content`.
        shared: names of photos, the first of which that can be used is cut for sharing.
        before: photos of the last build, whose files lie in the folder `site`.
    """
    files = library.find_photos(pictures, folder, content).value
    known, named = {shot.print: shot for shot in before}, names(pictures)
    ready: dict[str, photos.Ready] = {}
    shots: list[Shot] = []
    findings: list[Finding] = []
    for one in pictures:
        if one.file not in files:
            continue
        cut = one.file in shared and not any(made.wide for made in ready.values())
        try:
            data = files[one.file].read_bytes()
            shot = Shot(f"{named[one.file]} {sha256(shelf.tool_print().encode() + data).hexdigest()}")
            made = photos.prepare(data, named[one.file], one.alt, _from(site, known.get(shot.print)), cut=cut)
        except (photos.NoPhoto, OSError) as fault:
            findings.append(unusable(one, fault))
            continue
        ready[one.file] = made
        cuts = {photos.WIDE: made.wide, photos.TALL: made.tall} if cut else {}
        shots.append(
            replace(shot, files=tuple((name, len(made)) for name, made in (*made.files.items(), *cuts.items())))
        )
    return Shown(ready, tuple(shots), tuple(findings))


def shared_of(header: Header) -> tuple[str, ...]:
    """Photos of the whole piece, the first of which stands for it."""
    return tuple(photo.file for photo in header.photos if not photo.round)


def _from(site: Path, shot: Shot | None) -> photos.Before:
    """Files of a photo as the last build made them, if they still have their sizes."""
    sizes = dict(shot.files) if shot else {}

    def before(name: str) -> bytes | None:
        if name not in sizes:
            return None
        try:
            data = (site / name).read_bytes()
        except OSError:
            return None
        return data if len(data) == sizes[name] else None

    return before


def unusable(one: Wanted, fault: photos.NoPhoto | OSError) -> Finding:
    """What there is to say of a file that can't be shown."""
    reason = f"read: {fault.strerror or fault}".lower() if isinstance(fault, OSError) else f"used: {fault}"
    message = f"the photo `{one.file}` can't be {reason}"
    return Finding("photo-unusable", Severity.ERROR, message, one.span, "a JPEG, PNG or WebP picture")
