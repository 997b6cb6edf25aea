"""`explain`: what a rule finds, why it matters, and what to write instead; or the list of all rules."""

import argparse
from difflib import get_close_matches

from generator.commands.console import DONE, Console, NothingThere, several

HELP = "tell what a finding means and what to write instead"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What the command takes."""
    parser.add_argument("rule", nargs="*", help="the rule's name as the finding shows it; none for the list")


def run(options: argparse.Namespace, console: Console) -> int:
    """Print the help page."""
    from generator.checks.run import RULES, rule

    name = "-".join(options.rule).lower()
    if not name:
        for one in sorted(RULES, key=lambda one: one.name):
            console.say(f"{one.name:<28} {one.severity:<8} {one.title}")
        console.say(several(len(RULES), "rule"))
        return DONE
    found = rule(name)
    if found is None:
        names = [one.name for one in RULES]
        near = [one for one in names if name in one] or get_close_matches(name, names, n=1)
        hint = f"; there is {', '.join(near[:4])}" if near else "; `spiralbound explain` lists them"
        raise NothingThere(f"there is no rule {name}{hint}")
    console.say(f"{found.name} ({found.severity})")
    console.say()
    console.say(found.title)
    for title, text in found.help:
        console.say()
        console.say(title)
        console.say(text)
    return DONE
