"""The pictures of a preview: named as `publish` names them, made only when the browser asks for one.

Making all sizes and kinds of one photo takes a second; a page shows one of them.
"""

from collections.abc import Sequence
from pathlib import Path

from generator import library
from generator.diagnostics.record import Finding
from generator.pages import photos
from generator.pages.records import Picture
from generator.pages.wanted import Wanted, names
from generator.publish.build import unusable

Mark = tuple[str, int, int]
"""A file with its size and date: another photo under the same name is another."""
MOST = 64
"""Files kept ready."""


class Album:
    """Pictures that pages show, by the folder of the site they lie in. Used by one thread at a time."""

    def __init__(self, content: Path) -> None:
        self.content = content
        self.placed: dict[str, dict[str, Path]] = {}
        """By folder of the site: name of the photo to its file."""
        self.foreseen: dict[tuple[Mark, str, str], Picture] = {}
        self.made: dict[tuple[Mark, str], bytes] = {}

    def place(
        self, pictures: Sequence[Wanted], folder: Path, where: str
    ) -> tuple[dict[str, Picture], tuple[Finding, ...]]:
        """The pictures of a text, whose files will be asked for under `where`. Gives `photo-unusable`."""
        files, called = library.find_photos(pictures, folder, self.content).value, names(pictures)
        shown: dict[str, Picture] = {}
        findings = []
        for one in pictures:
            if one.file in files:
                try:
                    shown[one.file] = self._foreseen(files[one.file], called[one.file], one.alt)
                except (photos.NoPhoto, OSError) as fault:
                    findings.append(unusable(one, fault))
        self.placed[where] = {called[name]: files[name] for name in shown}
        return shown, tuple(findings)

    def _foreseen(self, file: Path, name: str, alt: str) -> Picture:
        key = (_mark(file), name, alt)
        if key not in self.foreseen:
            self.foreseen[key] = photos.foresee(file.read_bytes(), name, alt)
        return self.foreseen[key]

    def file(self, where: str, name: str) -> bytes | None:
        """One file of a picture shown under `where`; None where no picture has such a file."""
        for photo, file in self.placed.get(where, {}).items():
            try:
                if (data := self._made(file, photo, name)) is not None:
                    return data
            except (photos.NoPhoto, OSError):
                continue
        return None

    def _made(self, file: Path, photo: str, name: str) -> bytes | None:
        key = (_mark(file), name)
        if key not in self.made:
            data = photos.single(file.read_bytes(), photo, name)
            if data is None:
                return None
            while len(self.made) >= MOST:
                del self.made[next(iter(self.made))]
            self.made[key] = data
        return self.made[key]


def _mark(file: Path) -> Mark:
    status = file.stat()
    return str(file), status.st_size, status.st_mtime_ns
