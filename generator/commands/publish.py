"""`publish`: content/ becomes a site in a folder that any web server can show."""

import argparse
import os
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path

from generator.commands.console import DONE, FAULTS, Console, NothingThere, errors, several

HELP = "make the site from content/"
LONG = 20
"""Patterns to be made before their progress is shown."""


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--content", default="content", metavar="FOLDER", help="where the texts are (content)")
    parser.add_argument("--out", default="site", metavar="FOLDER", help="where the site goes (site)")
    parser.add_argument("--fresh", action="store_true", help="make every page again, changed or not")
    parser.add_argument(
        "--pages-only", action="store_true", help="leave out booklets, editions and pictures for sharing"
    )
    parser.add_argument("--today", type=date.fromisoformat, metavar="DATE", help="patterns dated later wait (today)")
    parser.add_argument(
        "--jobs", type=int, default=0, metavar="N", help="how many patterns side by side (one per core)"
    )
    parser.add_argument("--lines", action="store_true", help="one finding a line, for editors")


def today() -> date:
    """The day to publish on: SOURCE_DATE_EPOCH where a build must come out the same again, else by the clock."""
    fixed = os.environ.get("SOURCE_DATE_EPOCH", "")
    return datetime.fromtimestamp(int(fixed), UTC).date() if fixed.isdecimal() else date.today()


def run(options: argparse.Namespace, console: Console) -> int:
    """Publish; 1 when something stayed behind."""
    from generator.publish import publish

    content, site = Path(options.content), Path(options.out)
    if not content.is_dir():
        raise NothingThere(f"there is no {content} here; `spiralbound begin FOLDER` starts a studio")
    full = not options.pages_only
    try:
        report = publish(
            content,
            site,
            today=options.today or today(),
            jobs=options.jobs,
            fresh=options.fresh,
            editions=full,
            pictures=full,
            full_text=full,
            progress=_bar(console),
        )
    except KeyboardInterrupt:
        console.complain("stopped; the site is whole as it stands")
        raise
    for said in report.said:
        console.show(said.source, said.findings, options.lines)
    found = tuple(finding for _, finding in report.findings)
    if report.swapped:
        console.say(_summary(report.made, report.kept, report.held, site))
    if errors(found):
        console.say(f"{several(errors(found), 'error')}; what is faulty kept its last good page, if it had one")
    return DONE if report.ok else FAULTS


def _bar(console: Console) -> Callable[[int, int, str], None] | None:
    """A line that counts patterns, on a terminal only; a build of a few needs none."""
    if not console.err.isatty():
        return None

    def count(done: int, of: int, name: str) -> None:
        if of < LONG:
            return
        filled = 30 * done // of
        end = "\r" if done < of else "\r\033[K"
        print(f"\r[{'#' * filled}{'.' * (30 - filled)}] {done} of {of}", end=end, file=console.err, flush=True)

    return count


def _summary(made: int, kept: int, held: int, site: Path) -> str:
    parts = [
        several(made, "pattern") + " made",
        f"{kept} unchanged" if kept else "",
        f"{held} held back" if held else "",
    ]
    return f"{', '.join(part for part in parts if part)}; the site is in {site.as_posix()}"
