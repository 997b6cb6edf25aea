"""Full-text search for a site that is served: an index of every page's words, made by the pagefind library.

The small index of titles, tags and stitches always works; this one looks into the words too, but a browser fetches its
pieces, which it refuses to do from a folder on disk. Its file names differ from run to run: the one thing in a site
that does. Without the library the site is whole all the same.
"""

import importlib.util
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

from generator.diagnostics.record import Finding, Severity
from generator.publish import folders
from generator.source import NOWHERE

FOLDER = "pagefind"
MARK = ".made-from"
NEEDED = ("pagefind.js", "pagefind-worker.js", "pagefind-entry.json")
"""What our own search page uses beside the index itself; ready-made widgets of the library are left out."""


def available() -> bool:
    """Whether the library is installed."""
    return all(importlib.util.find_spec(name) is not None for name in ("pagefind", "pagefind_bin"))


def lay_index(site: Path, folder: Path) -> tuple[Finding, ...]:
    """Index the pages laid out in `folder`; an index of the very same pages is taken over.

    Gives `search-not-made`.
    """
    mark = _fingerprint(folder)
    old = site / FOLDER
    if (old / MARK).is_file() and (old / MARK).read_text() == mark:
        folders.take_over(site, folder, [f"{FOLDER}/{name}" for name in sorted(folders.listing(old))])
        return ()
    command = [sys.executable, "-m", "pagefind", "--site", str(folder), "--output-subdir", FOLDER, "--quiet"]
    try:
        done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=600)
    except (OSError, subprocess.TimeoutExpired) as error:
        return (_not_made(str(error)),)
    if done.returncode or not (folder / FOLDER / NEEDED[0]).exists():
        return (_not_made((done.stderr or done.stdout).strip().splitlines()[-1:] or ["no reason given"]),)
    for name in folders.listing(folder / FOLDER):
        if "/" not in name and name not in NEEDED and not name.endswith((".pf_meta", ".pagefind")):
            (folder / FOLDER / name).unlink()
    (folder / FOLDER / MARK).write_text(mark)
    return ()


def _fingerprint(folder: Path) -> str:
    """Of all pages that are indexed."""
    digest = sha256()
    for page in sorted([*folder.glob("patterns/*/index.html"), *folder.glob("journal/*.html")]):
        digest.update(page.relative_to(folder).as_posix().encode() + b"\0" + sha256(page.read_bytes()).digest())
    return digest.hexdigest()


def _not_made(reason: object) -> Finding:
    words = reason[0] if isinstance(reason, list) else reason
    message = f"full-text search could not be made ({str(words)[:160]}); searching titles, tags and stitches works"
    return Finding("search-not-made", Severity.WARNING, message, NOWHERE)
