"""`begin`: a new studio in an empty folder, with one small pattern, that publishes as it stands."""

import argparse
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path

from generator.commands.console import DONE, USAGE, Console

HELP = "start a studio of your own in a new folder"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("folder", metavar="FOLDER", help="a folder that does not exist yet, or is empty")


def run(options: argparse.Namespace, console: Console) -> int:
    """Make the studio; nothing that exists is overwritten."""
    folder = Path(options.folder)
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        console.complain(f"{folder} is not empty; a new studio needs a folder of its own")
        return USAGE
    try:
        _copy(resources.files("generator").joinpath("starter"), folder)
    except OSError as error:
        console.complain(f"{folder} can't be written: {(error.strerror or 'no reason given').lower()}")
        return USAGE
    console.say(f"A studio is in {folder}. Now:")
    console.say(f'  cd "{folder}"' if " " in str(folder) else f"  cd {folder}")
    console.say("  spiralbound preview    to write with the page beside you")
    console.say("  spiralbound publish    to make the site in site/")
    return DONE


def _copy(source: Traversable, target: Path) -> None:
    target.mkdir(parents=True, exist_ok=True)
    for entry in sorted(source.iterdir(), key=lambda item: item.name):
        if entry.is_dir():
            _copy(entry, target / entry.name)
        elif not entry.name.endswith((".py", ".pyc")):
            (target / entry.name).write_bytes(entry.read_bytes())
