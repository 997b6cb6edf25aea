"""Full-text search for a site that is served: an index of every page's words, made by the pagefind library.

The small index of titles, tags and stitches always works; this one looks into the words too, but a browser fetches its
pieces, which it refuses to do from a folder on disk. Its file names differ from run to run: the one thing in a site
that does. Without the library the site is whole all the same.
"""

import importlib.util
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path

from generator.diagnostics.record import Finding, Severity
from generator.publish import folders
from generator.publish.record import Entry
from generator.publish.steps import print_of
from generator.source import NOWHERE

FOLDER = "pagefind"
MARK = ".made-from"
NEEDED = ("pagefind.js", "pagefind-worker.js", "pagefind-entry.json")
"""What our own search page uses beside the index itself; ready-made widgets of the library are left out."""


def available() -> bool:
    """Whether the library is installed."""
    return all(importlib.util.find_spec(name) is not None for name in ("pagefind", "pagefind_bin"))


def lay_index(site: Path, entries: Iterable[Entry]) -> tuple[Finding, ...]:
    """Index the pages of a finished site, unless it has an index of the very same pages.

    Gives `search-not-made`.
    """
    mark = print_of(sorted((name, step.key) for entry in entries for name, step in entry.steps.items()))
    old = site / FOLDER
    if (old / MARK).is_file() and (old / MARK).read_text() == mark:
        return ()
    try:
        made = folders.fresh(site) / FOLDER
        if (failed := _index(site, made)) is not None:
            return (_not_made(failed),)
        (made / MARK).write_text(mark)
        gone = (folders.listing(old).keys() if old.is_dir() else set()) - folders.listing(made).keys()
        folders.take_place(site, [f"{FOLDER}/{name}" for name in gone])
    except OSError as error:
        return (_not_made(error.strerror or str(error)),)
    finally:
        folders.discard(site)
    return ()


def _index(site: Path, made: Path) -> str | None:
    """Run the library; gives what went wrong, None where nothing did."""
    command = [sys.executable, "-m", "pagefind", "--site", str(site), "--output-path", str(made), "--quiet"]
    try:
        done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=600)
    except subprocess.TimeoutExpired as error:
        return str(error)
    if done.returncode or not (made / NEEDED[0]).exists():
        return next(iter((done.stderr or done.stdout).strip().splitlines()[-1:]), "no reason given")
    for name in folders.listing(made):
        if "/" not in name and name not in NEEDED and not name.endswith((".pf_meta", ".pagefind")):
            (made / name).unlink()
    return None


def _not_made(reason: str) -> Finding:
    message = f"full-text search could not be made ({reason[:160]}); searching titles, tags and stitches works"
    return Finding("search-not-made", Severity.WARNING, message, NOWHERE)
