"""`preview`: write in any editor, and see the page as it will be, a blink after each save."""

import argparse
import webbrowser
from pathlib import Path

from generator.commands.console import DONE, USAGE, Console, NothingThere

HELP = "show the pages beside you while you write"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("--content", default="content", metavar="FOLDER", help="where the texts are (content)")
    parser.add_argument("--site", default="site", metavar="FOLDER", help="the published site, for its lists (site)")
    parser.add_argument("--port", type=int, default=0, metavar="N", help="port to use (any free one)")
    parser.add_argument("--no-browser", action="store_true", help="don't open a browser")
    parser.add_argument("--lan", action="store_true", help="let a phone in your network look too, with a token")


def run(options: argparse.Namespace, console: Console) -> int:
    """Serve until Ctrl-C."""
    from generator.commands.publish import today
    from generator.preview.session import Session

    content = Path(options.content)
    if not content.is_dir():
        raise NothingThere(f"there is no {content} here; `spiralbound begin FOLDER` starts a studio")
    try:
        session = Session(content, Path(options.site), today(), options.port, options.lan)
    except (OSError, OverflowError) as error:
        console.complain(f"port {options.port} can't be used: {error}; --port 0 takes any free one")
        return USAGE
    session.start()
    console.say(f"The preview is at {session.address}")
    if session.lan_address:
        console.say(f"For a phone in your network: {session.lan_address}")
    console.say("Save in your editor and look. Ctrl-C ends it.")
    console.out.flush()
    if not options.no_browser:
        webbrowser.open(session.address)
    try:
        session.wait()
    except KeyboardInterrupt:
        console.say()
    finally:
        session.stop()
    return DONE
