"""A command line that tells wrong use in the voice of the findings: what was found, what fits, where more stands."""

import argparse
import re
from difflib import get_close_matches
from typing import NoReturn

from generator.commands.console import USAGE

_WHOLE = re.compile(r"argument (?P<name>\S+): invalid int value: '(?P<word>.*)'")
_CHOICE = re.compile(r"argument (?P<name>\S+): invalid choice: '(?P<word>.*)' \(choose from (?P<all>.*)\)")
_VALUES = re.compile(r"argument (?P<name>\S+): expected (?P<n>.+) arguments?")
_MISSING = re.compile(r"the following arguments are required: (?P<name>.*)")
_STRANGE = re.compile(r"unrecognized arguments: (?P<word>.*)")


class Parser(argparse.ArgumentParser):
    """The standard parser with words of our own for what a person has mistyped."""

    def error(self, message: str) -> NoReturn:
        """Says it in two lines and ends the run as wrong use."""
        options = [option for action in self._actions for option in action.option_strings]
        self.exit(USAGE, f"{told(message, options)}\n`{self.prog} --help` tells what there is\n")


def told(message: str, options: list[str]) -> str:
    """The standard library's sentence in our own; one it may yet invent is passed on as it is.

    Args:
        options: all options of the command, to name the one that was probably meant.
    """
    if found := _WHOLE.fullmatch(message):
        return f"{_plain(found['name'])} takes a whole number, not `{found['word']}`"
    if found := _CHOICE.fullmatch(message):
        words = re.findall(r"'(.*?)'", found["all"])
        what = "there is no command" if found["name"] == "COMMAND" else f"{_plain(found['name'])} can't be"
        return f"{what} `{found['word']}`; fits: {_fitting(found['word'], words)}"
    if found := _VALUES.fullmatch(message):
        n = found["n"]
        return f"{_plain(found['name'])} needs {'a value' if n in ('one', '1') else f'{n} values'} after it"
    if found := _MISSING.fullmatch(message):
        return f"a {found['name']} is missing"
    if found := _STRANGE.fullmatch(message):
        near = get_close_matches(found["word"].split()[0].split("=")[0], options, n=1)
        return f"`{found['word']}` is not known here" + (f"; fits: {near[0]}" if near else "")
    return message


def _plain(name: str) -> str:
    """An option with several names by its longest, one without dashes by what the help calls it."""
    return max(name.split("/"), key=len)


def _fitting(word: str, words: list[str]) -> str:
    near = get_close_matches(word, words, n=1)
    return near[0] if near else f"one of {', '.join(words)}"
