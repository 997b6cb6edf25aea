"""Laying out a new site beside the last one, and putting it in its place.

The new site is built in a folder of its own; unchanged files are hard links to the old ones (copies where the disk
knows no links). The swap is two renames; should the power go between them, the next build finds the old site under
its waiting name and puts it back first.
"""

import contextlib
import os
import shutil
from collections.abc import Iterable, Mapping
from pathlib import Path

NEW, OLD = ".new", ".old"
KEPT = (".gitignore", ".gitkeep")
"""Files of the old folder that stay although no build makes them."""


def beside(site: Path, suffix: str) -> Path:
    """A name beside the site's, hidden, on the same disk."""
    return site.parent / f".{site.name}{suffix}"


def tidy(site: Path) -> None:
    """Put right what an interrupted build left."""
    if not site.exists() and beside(site, OLD).exists():
        beside(site, OLD).rename(site)
    for suffix in (NEW, OLD):
        if beside(site, suffix).exists():
            shutil.rmtree(beside(site, suffix))


def fresh(site: Path) -> Path:
    """A new empty folder to build in.

    Raises:
        OSError: there is no room or no permission.
    """
    site.parent.mkdir(parents=True, exist_ok=True)
    tidy(site)
    folder = beside(site, NEW)
    folder.mkdir()
    if site.exists() and not os.access(site, os.W_OK):
        folder.rmdir()
        raise PermissionError(13, "Permission denied", str(site))
    for name in KEPT:
        if (site / name).is_file():
            shutil.copy2(site / name, folder / name)
    return folder


def discard(site: Path) -> None:
    """Drop a half-made new site."""
    with contextlib.suppress(OSError):
        shutil.rmtree(beside(site, NEW))


def swap(site: Path) -> None:
    """Put the new site in the old one's place."""
    new, old = beside(site, NEW), beside(site, OLD)
    if site.exists():
        site.rename(old)
    try:
        new.rename(site)
    except OSError:
        if old.exists():
            old.rename(site)
        raise
    shutil.rmtree(old, ignore_errors=True)


def whole(site: Path, files: Mapping[str, int]) -> bool:
    """Whether all files of an entry are there, in their sizes."""
    try:
        return all((site / path).stat().st_size == size for path, size in files.items())
    except OSError:
        return False


def take_over(site: Path, folder: Path, files: Iterable[str]) -> None:
    """Bring files of the old site into the new one."""
    made: set[Path] = set()
    for path in files:
        place = folder / path
        if place.parent not in made:
            place.parent.mkdir(parents=True, exist_ok=True)
            made.add(place.parent)
        link(site / path, place)


def link(old: Path, new: Path) -> None:
    """One file under a second name; a copy where the disk has no links."""
    try:
        os.link(old, new)
    except OSError:
        shutil.copy2(old, new)


def put(old: Path, place: Path, data: bytes) -> None:
    """Write one file; one that has not changed keeps its old self (and its date)."""
    place.parent.mkdir(parents=True, exist_ok=True)
    try:
        if old.stat().st_size == len(data) and old.read_bytes() == data:
            link(old, place)
            return
    except OSError:
        pass
    place.write_bytes(data)


def listing(folder: Path) -> set[str]:
    """All files of a folder, relative to it."""
    found: set[str] = set()
    for base, _, names in os.walk(folder):
        inside = Path(base).relative_to(folder)
        found.update((inside / name).as_posix() for name in names)
    return found
