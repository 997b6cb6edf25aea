"""What one build shares: where it reads and writes, what it remembers, what it has to say."""

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from generator import library
from generator.publish import folders, shelf
from generator.publish.build import Setting
from generator.publish.record import Entry, Report

Progress = Callable[[int, int, str], None]
"""Told after each pattern: how many are done, of how many, and which."""


@dataclass(frozen=True, slots=True)
class Laying:
    """One build on its way. `report` and `entries` grow; everything else stays."""

    setting: Setting
    site: Path
    """The last site, where there is one."""
    folder: Path
    """Where the new one is laid out."""
    before: dict[str, Entry]
    base: str
    """Fingerprint of everything that all patterns share."""
    report: Report
    entries: dict[str, Entry] = field(default_factory=dict)

    def unchanged(self, path: str, key: str) -> Entry | None:
        """What the last build made of a text, if all it was made from is the same and all files are there."""
        old = self.before.get(path)
        return old if old and old.key == key and folders.whole(self.site, old.files) else None

    def keep(self, path: str, old: Entry) -> None:
        """Take over what the last build made."""
        folders.take_over(self.site, self.folder, old.files)
        self.entries[path] = old

    def key(self, text: library.Text) -> str:
        """Fingerprint of one text: its words, the files beside it (by name, size and date), and what all share."""
        words = (self.base, text.source.path, text.source.text)
        digest = sha256("\0".join(words).encode("utf-8", "replace"))
        for entry in sorted(os.scandir(text.folder), key=lambda one: one.name) if text.folder.is_dir() else ():
            if not entry.name.endswith((".md", ".markdown")) and entry.is_file():
                status = entry.stat()
                digest.update(f"\0{entry.name}\0{status.st_size}\0{status.st_mtime_ns}".encode("utf-8", "replace"))
        return digest.hexdigest()


def base_of(setting: Setting) -> str:
    """Fingerprint of everything that all patterns share."""
    studio = setting.studio
    values = (studio.title, studio.tagline, studio.address, studio.author, studio.language, studio.sc_sign, studio.terms,
              studio.units, studio.links, studio.howto, sorted(studio.colours.items()), sorted(studio.templates.items()))  # fmt: skip
    shared = (values, setting.menu, setting.editions, setting.pictures, sorted(setting.shelved.booklet.items()))
    text = "\0".join((shelf.tool_print(), setting.shelved.theme.print, repr(shared)))
    return sha256(text.encode()).hexdigest()
