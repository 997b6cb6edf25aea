"""The bindery's disk: booklet templates, the ledger of what was published, the designer's packs.

`pages` decides what is in a booklet or a pack; here it is only read and written. A file is replaced whole or not at all.
"""

import glob
import os
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from generator.diagnostics.record import Checked, Finding, Severity
from generator.ledger import Ledger, read_ledger, write_ledger
from generator.source import NOWHERE, Source

_HERE = Path(__file__).resolve().parent
THEMES = next((place for place in (_HERE / "themes", _HERE.parent / "themes") if place.is_dir()), _HERE / "themes")
"""The tool's own themes: inside the package where it was installed, beside it in a checkout."""
GROUND = "_ground"
LARGEST = 4 * 1024 * 1024
"""Bytes of a filled test sheet; one of 500 rows has about 40,000."""
LEDGER = "published.json"
"""The ledger's file, in content/: it belongs to the texts and travels with them."""


def booklet_templates(theme: str, content: Path | None = None) -> Mapping[str, str]:
    """Booklet templates by file name: the ground's, over them the theme's, over them the studio's own."""
    found: dict[str, str] = {}
    folders = [THEMES / GROUND / "booklet", THEMES / "quire" / "booklet", THEMES / theme / "booklet"]
    folders += [content / "templates" / "booklet"] if content else []
    for folder in folders:
        if folder.is_dir():
            found |= {path.name: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.typ"))}
    return found


def load_ledger(content: Path) -> tuple[Source, Checked[Ledger | None]]:
    """The ledger and its text; a missing file is a new ledger, an unreadable one is left alone."""
    place = content / LEDGER
    try:
        text = place.read_text(encoding="utf-8") if place.exists() else ""
    except (OSError, UnicodeDecodeError):
        text = "unreadable"
    source = Source(f"{content.name}/{LEDGER}", text)
    return source, read_ledger(source)


def save_ledger(content: Path, ledger: Ledger) -> tuple[Finding, ...]:
    """Write the ledger, when it says something new.

    Gives `ledger-not-written`, a warning: the site is well without it.
    """
    failed = write_whole(content / LEDGER, write_ledger(ledger).encode(), "ledger-not-written")
    return tuple(replace(finding, severity=Severity.WARNING) for finding in failed)


def write_whole(place: Path, content: bytes, rule: str = "file-not-written") -> tuple[Finding, ...]:
    """Write a file so that it is never half there; untouched when it already says the same."""
    try:
        if place.exists() and place.read_bytes() == content:
            return ()
        place.parent.mkdir(parents=True, exist_ok=True)
        fresh = place.with_name(f".{place.name}.{os.getpid()}")
        fresh.write_bytes(content)
        fresh.replace(place)
    except OSError as error:
        message = f"`{place}` could not be written: {error.strerror or error}"
        return (Finding(rule, Severity.ERROR, message, NOWHERE, "room on the disk and the right to write there"),)
    return ()


def filled_sheets(source: Path) -> tuple[tuple[str, bytes], ...]:
    """Filled test sheets kept beside a pattern: `NAME-test*.csv` for `NAME.md`, by name; too large ones left out."""
    found = sorted(source.parent.glob(f"{glob.escape(source.stem)}-test*.csv"))
    return tuple((path.name, path.read_bytes()) for path in found if path.is_file() and path.stat().st_size < LARGEST)


def write_pack(folder: Path, files: Mapping[str, bytes]) -> tuple[Finding, ...]:
    """Write a pattern's pack; files that are not part of it any more stay where they are, for they may be filled in."""
    findings: tuple[Finding, ...] = ()
    for name, content in files.items():
        findings += write_whole(folder / name, content)
    return findings
