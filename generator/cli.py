"""The `spiralbound` command: names of the commands, and a plain sentence for whatever goes wrong."""

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from importlib import import_module

from generator import __version__
from generator.commands.console import USAGE, Console, NothingThere, of_process
from generator.commands.parser import Parser

BROKEN = 3
"""Exit status when the fault is the program's own."""

COMMANDS = ("proof", "publish", "preview", "chart", "shape", "pack", "explain", "begin")
"""Each is a module of `commands` with HELP, `arguments(parser)` and `run(options, console)`."""


@dataclass(frozen=True, slots=True)
class Command:
    """One command, ready to run."""

    parser: argparse.ArgumentParser
    run: Callable[[argparse.Namespace, Console], int]


def _parser(wanted: str) -> argparse.ArgumentParser:
    """Arguments of all commands. Only the wanted one's module is imported, for the sake of a quick start."""
    parser = Parser(prog="spiralbound", description="Crochet patterns, worked stitch by stitch, proved and published.")
    parser.add_argument("--version", action="version", version=f"spiralbound {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    for name in COMMANDS:
        if wanted in COMMANDS and wanted != name:
            commands.add_parser(name)
            continue
        module = import_module(f"generator.commands.{name}")
        inner = commands.add_parser(name, help=module.HELP, description=module.HELP[0].upper() + module.HELP[1:] + ".")
        module.arguments(inner)
        inner.set_defaults(command=Command(inner, module.run))
    return parser


def main(arguments: Sequence[str] | None = None, console: Console | None = None) -> int:
    """Run one command and give its exit status: 0 well, 1 findings, 2 wrong use, 3 a fault of our own."""
    arguments = sys.argv[1:] if arguments is None else arguments
    console = console or of_process()
    wanted = next((word for word in arguments if not word.startswith("-")), "")
    try:
        parser = _parser(wanted)
        if not arguments:
            console.complain(parser.format_help().rstrip())
            return USAGE
        options, strange = parser.parse_known_args(arguments)
        if strange:  # of the command, which knows what may have been meant
            options.command.parser.error(f"unrecognized arguments: {' '.join(strange)}")
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else USAGE
    return _run(options, console)


def _run(options: argparse.Namespace, console: Console) -> int:
    try:
        status: int = options.command.run(options, console)
        console.out.flush()
        return status
    except NothingThere as nothing:
        console.complain(str(nothing))
        return USAGE
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        # Whoever read the output has seen enough (`| head`); nothing is wrong. Keep the exit quiet too.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as fault:
        if os.environ.get("SPIRALBOUND_TRACE"):
            raise
        console.complain(f"spiralbound has a fault of its own here ({type(fault).__name__}: {fault})")
        console.complain("SPIRALBOUND_TRACE=1 shows where it stands, for a report")
        return BROKEN


if __name__ == "__main__":
    sys.exit(main())
