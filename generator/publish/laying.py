"""What one build shares: where it reads and writes, what it remembers, what it has to say."""

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path

from generator import library
from generator.publish import folders, shelf
from generator.publish.record import Entry, Report
from generator.publish.setting import Setting
from generator.publish.steps import EDITIONS, PAGE, WORK, Step, print_of, seen_by

Progress = Callable[[int, int, str], None]
"""Told after each pattern: how many are done, of how many, and which."""


@dataclass(frozen=True, slots=True)
class Laying:
    """One build on its way. `report` and `entries` grow; everything else stays."""

    setting: Setting
    site: Path
    """The last site, where there is one."""
    folder: Path
    """Where the new files are laid out."""
    there: Mapping[str, int]
    """Files of the last site with their sizes."""
    before: dict[str, Entry]
    bases: Mapping[str, str]
    """Fingerprint of everything that all patterns share, by step."""
    report: Report
    entries: dict[str, Entry] = field(default_factory=dict)

    def unchanged(self, path: str, key: str) -> Entry | None:
        """What the last build made at once, in one step, if all it was made from is the same and all files are there."""
        old = self.before.get(path)
        return old if old and self.kept(path, {WORK: key}) else None

    def kept(self, path: str, keys: Mapping[str, str]) -> dict[str, Step]:
        """The steps of a pattern that the last build made from the very same, as far as their files are there."""
        old = self.before.get(path)
        steps = old.steps.items() if old else ()
        return {
            name: step for name, step in steps if step.key == keys.get(name) and folders.whole(self.there, step.files)
        }

    def text_print(self, text: library.Text) -> str:
        """Fingerprint of one text: its words, and the files beside it by name, size and date."""
        digest = sha256(f"{text.source.path}\0{text.source.text}".encode("utf-8", "replace"))
        for entry in sorted(os.scandir(text.folder), key=lambda one: one.name) if text.folder.is_dir() else ():
            if not entry.name.endswith((".md", ".markdown")) and entry.is_file():
                status = entry.stat()
                digest.update(f"\0{entry.name}\0{status.st_size}\0{status.st_mtime_ns}".encode("utf-8", "replace"))
        return digest.hexdigest()


def bases(setting: Setting) -> dict[str, str]:
    """Fingerprint of everything that all patterns share, by step."""
    more = {
        WORK: setting.pictures,
        EDITIONS: sorted(setting.shelved.booklet.items()),
        PAGE: (setting.shelved.theme.pages_print, setting.menu, setting.editions, setting.pictures),
    }
    tool, studio = shelf.tool_print(), setting.studio
    return {step: print_of(tool, seen_by(step, studio), more.get(step)) for step in setting.steps()}
