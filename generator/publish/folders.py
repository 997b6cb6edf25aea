"""Laying out what is new beside the last site, and putting it in its place; what has not changed is not touched.

The new files lie in a folder of their own until they are whole. Then each takes its place by a rename, and what it
replaces is moved aside: all of it can be undone should one fail. Should the power go in the middle, the next build
finds the list of what was to be done and does the rest. A first site is one rename.
"""

import contextlib
import json
import os
import shutil
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

NEW, OLD = ".new", ".old"
KEPT = (".gitignore", ".gitkeep")
"""Files of a site's folder that stay although no build makes them."""
PLAN = ".taking-its-place"
"""In the new folder: the files that are to go. While it is there, the change is on its way."""


def beside(site: Path, suffix: str) -> Path:
    """A hidden name on the same disk: beside the site, or in it where the site is a disk or a folder of another's."""
    real = site.resolve()
    return real / f".site{suffix}" if _apart(real) else real.parent / f".{real.name}{suffix}"


def _apart(site: Path) -> bool:
    """Whether nothing can be moved, or laid, from beside a site into it."""
    if not site.is_dir():
        return False
    return site.stat().st_dev != site.parent.stat().st_dev or not os.access(site.parent, os.W_OK)


def tidy(site: Path) -> None:
    """Put right what an interrupted build left."""
    new, old = beside(site, NEW), beside(site, OLD)
    if (new / PLAN).exists():
        shutil.rmtree(old, ignore_errors=True)
        _change(site, json.loads((new / PLAN).read_text(encoding="utf-8")), [])
    elif not site.exists() and old.exists():
        old.rename(site)
    _sweep(site)


def _sweep(site: Path) -> None:
    for suffix in (OLD, NEW):
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
    return folder


def discard(site: Path) -> None:
    """Drop a half-made new site; one that could be neither finished nor undone waits for the next build."""
    if not (beside(site, NEW) / PLAN).exists():
        with contextlib.suppress(OSError):
            _sweep(site)


def take_place(site: Path, gone: Iterable[str]) -> None:
    """Put the new files in their places, and take away those that are `gone`, relative to the site's top.

    Raises:
        OSError: something could not be moved; then everything is as it was.
    """
    new, listed = beside(site, NEW), sorted(gone)
    if not site.exists():
        new.rename(site)
        return
    plan = new / f"{PLAN}.part"
    plan.write_text(json.dumps(listed), encoding="utf-8")
    plan = plan.rename(new / PLAN)
    done: list[Move] = []
    try:
        _change(site, listed, done)
    except BaseException:
        for source, target in reversed(done):
            if _there(target) and not _there(source):
                target.rename(source)
        plan.unlink()
        raise
    plan.unlink()
    discard(site)


Move = tuple[Path, Path]


def _change(site: Path, gone: Sequence[str], done: list[Move]) -> None:
    """Every move, put down in `done` before it is made; of moves made before an interruption nothing is left to do."""
    old = beside(site, OLD)
    old.mkdir(exist_ok=True)

    def move(source: Path, target: Path) -> None:
        done.append((source, target))
        source.rename(target)

    def aside(place: Path) -> None:
        move(place, old / str(len(done)))

    for path in gone:
        if _there(site / path):
            aside(site / path)
    _into(beside(site, NEW), site, move, aside)
    _drop_empty(site, {(site / path).parent for path in gone})


def _there(place: Path) -> bool:
    return place.exists() or place.is_symlink()


def _into(new: Path, site: Path, move: Callable[[Path, Path], None], aside: Callable[[Path], None]) -> None:
    """Move what lies in one folder into another; whole folders at once where there are none yet."""
    for place in sorted(new.iterdir()):
        if place.name.startswith(PLAN):
            continue
        target = site / place.name
        if place.is_dir() and target.is_dir() and not target.is_symlink():
            _into(place, target, move, aside)
            continue
        if _there(target):
            aside(target)
        move(place, target)


def _drop_empty(site: Path, places: Iterable[Path]) -> None:
    """Folders that nothing is left in, and those above them."""
    for place in sorted(places, reverse=True):
        with contextlib.suppress(OSError):
            while place != site:
                place.rmdir()
                place = place.parent


def whole(there: Mapping[str, int], files: Mapping[str, int]) -> bool:
    """Whether all files of an entry are among those of the site, in their sizes."""
    return all(there.get(path) == size for path, size in files.items())


def put(old: Path, place: Path, data: bytes) -> None:
    """Write one file, unless the site has the very same: it stays as it is, with its date."""
    with contextlib.suppress(OSError):
        if old.stat().st_size == len(data) and old.read_bytes() == data:
            return
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_bytes(data)


def listing(folder: Path) -> dict[str, int]:
    """All files of a folder, relative to it, with their sizes."""
    found: dict[str, int] = {}
    waiting = [("", str(folder))]
    while waiting:
        base, place = waiting.pop()
        with contextlib.suppress(FileNotFoundError), os.scandir(place) as entries:
            for entry in entries:
                if entry.is_dir(follow_symlinks=False):
                    waiting.append((f"{base}{entry.name}/", entry.path))
                else:
                    found[base + entry.name] = entry.stat(follow_symlinks=False).st_size
    return found
