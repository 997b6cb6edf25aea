"""What is said of the last pass of a repeat: where it stops, what it ends with, what it is without."""

from dataclasses import replace

from generator.notation.cursor import Cursor
from generator.notation.folding import REPLACED, Folder
from generator.notation.phrases import rest_of_clause
from generator.notation.tree import Choice, Option, Repeat


def ends_at_mark(c: Cursor) -> bool:
    """`ending last rep at **` follows."""
    at = 0
    while c.peek(at).type == "sign" and c.peek(at).value in ",;.":
        at += 1
    if not (c.word("ending", ahead=at) or c.peek(at).value in ("stopping", "ending")):
        return False
    for k in range(at, at + 8):
        if c.peek(k).type == "sign" and set(c.peek(k).value) <= set("*†#+") and c.peek(k).value:
            return True
        if c.peek(k).type == "end":
            return False
    return False


def ending(c: Cursor, folder: Folder) -> None:
    """`ending last rep at **`, `ending with …`, `ending to correspond`: what stays of the phrase is read on."""
    begin = c.i
    if _leaves_out(c):
        _partial(folder)
        return
    while c.sign(",", ";") or (c.sign(".") and c.word("ending", ahead=1)):
        c.take()
    if not (c.word("ending") or c.peek().value in ("stopping",)):
        c.i = begin
        return
    c.take()
    c.skip_words("row", "round", "the")
    if c.word("to", "as") and c.peek(1).value in ("correspond", "before"):
        c.i += 2
        _partial(folder)
        return
    if c.word("last") and c.word("repeat", ahead=1):
        c.i += 2
        if c.word("at", "in", "on") or c.peek().value in ("at", "after", "before"):
            c.take()
            if c.peek().type == "sign":
                c.take()
            _partial(folder, stop=True)
            return
        if c.word("with", "in"):
            c.take()
        return
    if c.peek().value == "at" and c.peek(1).type == "sign":
        c.i += 2
        _partial(folder, stop=True)
        return
    if c.word("with") and folder.items and isinstance(last := folder.items[-1], Repeat) and last.times.to_end:
        folder.items[-1] = replace(last, stop_at=last.stop_at or REPLACED)
    c.skip_words("with", "a", "by")
    c.skip_words("work")


def _leaves_out(c: Cursor) -> bool:
    """Take `, omitting last dc on last repeat`, `leaving out final ch-3`: what the last pass is without."""
    at = 0
    while c.sign(",", ";", "(", ahead=at):
        at += 1
    if c.peek(at).value not in ("omitting", "omit") and not (
        c.peek(at).value in ("leaving", "leave") and c.peek(at + 1).value == "out"
    ):
        return False
    c.i += at
    rest_of_clause(c)
    if c.sign(")"):
        c.take()
    return True


def _partial(folder: Folder, stop: bool = False) -> None:
    """The last pass is cut short where the arithmetic says (`ending to correspond`)."""
    if not folder.items:
        return
    last = folder.items[-1]
    if isinstance(last, Repeat):
        if stop and last.stop_at:
            return
        folder.items[-1] = replace(last, stop_at=-1)
    elif isinstance(last, Choice) and last.kind in ("rep-n", "rep-closed", "rep-from"):
        options = tuple(
            Option(
                tuple(replace(s, stop_at=s.stop_at or -1) if isinstance(s, Repeat) else s for s in o.steps),
                o.reason,
                o.cost,
            )
            for o in last.options
        )
        folder.items[-1] = replace(last, options=options)
