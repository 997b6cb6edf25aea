"""Which of the open or folded signs of a line a repeat sentence names."""

from generator.notation.cursor import Cursor
from generator.notation.folding import Folder, Mark
from generator.notation.tree import Chain, Choice, Repeat, Step


def missing_mark(c: Cursor, folder: Folder, sign: str) -> None:
    """`** … , ch 6, sc in next loop, repeat from * 3 times, repeat from ** 4 times`: the inner sign was left out. It
    belongs before the last chain, for the outer sign has its own repeat still to come."""
    outer = folder.first_mark()
    if not sign or folder.last_mark(sign) is not None or outer is None:
        return
    mark = folder.items[outer]
    assert isinstance(mark, Mark)
    follows = any(t.type == "sign" and t.value == mark.sign for t in c.tokens[c.i : c.end])
    at = next((k for k in range(len(folder.items) - 1, outer, -1) if isinstance(folder.items[k], Chain)), 0)
    if follows and at > outer + 1 and len(folder.items) > at + 1:
        folder.items.insert(at, Mark(mark.span, sign))


def open_sign(folder: Folder) -> str:
    """The sign of the open mark that `repeat from` with no sign behind it means; empty where none is open."""
    for item in reversed(folder.items):
        if isinstance(item, Mark) and not item.sign.startswith("/"):
            return item.sign
    return ""


def target_mark(folder: Folder, sign: str) -> int | None:
    if sign == "^":
        first = folder.first_mark()
        return None if first is None or first > 0 else first
    at = folder.last_mark(sign)
    if at is None and sign:
        at = folder.first_mark()
        if at is not None and isinstance(mark := folder.items[at], Mark) and mark.sign.startswith("/"):
            return None
    return at


def closer_of(folder: Folder, at: int, sign: str) -> int | None:
    for index in range(len(folder.items) - 1, at, -1):
        item = folder.items[index]
        if isinstance(item, Mark) and item.sign in ("/" + sign, sign) and item.sign.startswith("/"):
            return index
    for index in range(len(folder.items) - 1, at, -1):
        item = folder.items[index]
        if isinstance(item, Mark) and item.sign == sign and index != at:
            return index
    return None


def drop_closers(folder: Folder) -> bool:
    """Forget the signs that closed a repeat; whether there were any."""
    kept = [i for i in folder.items if not (isinstance(i, Mark) and i.sign.startswith("/"))]
    closed = len(kept) < len(folder.items)
    folder.items = kept
    return closed


def drop_closing(folder: Folder, sign: str) -> bool:
    """`… **, repeat from ** to **`: a mark with nothing behind it that a repeat follows only closes. True when there
    was one."""
    closed = False
    while folder.items and isinstance(last := folder.items[-1], Mark) and last.sign == sign:
        folder.items.pop()
        closed = True
    return closed


def reopened(folder: Folder, sign: str) -> int | None:
    """The mark named was folded already and more was worked since: all from there on is worked again. None where
    nothing stands between."""
    for index, item in enumerate(folder.items[:-1]):
        if marked(item) == sign:
            folder.items.insert(index, Mark(item.span, sign))
            return index
    return None


def marked(item: Step) -> str:
    """The sign a repeat began at, also where it is open how often it is worked; empty for other steps."""
    if isinstance(item, Choice) and item.kind in ("rep-n", "rep-closed") and item.options[0].steps:
        item = item.options[0].steps[0]
    return item.mark if isinstance(item, Repeat) else ""


def last_repeat(folder: Folder) -> int | None:
    for index in range(len(folder.items) - 1, -1, -1):
        item = folder.items[index]
        if isinstance(item, Choice) and item.kind in ("rep-n", "rep-closed"):
            item = item.options[0].steps[0]
        if isinstance(item, Repeat):
            return index
    return None
