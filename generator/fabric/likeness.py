"""A group that is spelled out where a round begins (`ch 3, dc in same sp, ch 2, 2 dc in same sp`), known by the named or
bracketed ones that follow it: it is one of them, and the next round will treat it so."""

from generator.fabric.edge import Item

_Shape = list[tuple[str, int, bool]]


def begun_alike(edge: list[Item], group: int) -> bool:
    """Give the stitches a round begins with the number `group` where they are shaped like the first group behind them,
    all of them at the beginning or one half of them at the round's end; whether they were."""
    if not edge or not edge[0].start or edge[0].group >= 0:
        return False
    members = _first_group(edge)
    if len(members) < 3:
        return False
    shape = _shape(members)
    for before in range(len(shape)):
        alike = _alike(edge, shape, before)
        if alike:
            for item in alike:
                item.group = group
            return True
    return False


def _first_group(edge: list[Item]) -> list[Item]:
    begin = next((k for k, item in enumerate(edge) if item.group >= 0), len(edge))
    end = begin
    while end < len(edge) and edge[end].group == edge[begin].group:
        end += 1
    return edge[begin:end]


def _shape(items: list[Item]) -> _Shape:
    """Stitches and chains of a group, the beginning chain taken together with the stitches it stands before."""
    out: _Shape = []
    for item in items:
        if out and not item.space and out[-1][0] == item.kind and not out[-1][2]:
            out[-1] = (item.kind, out[-1][1] + item.n, False)
        else:
            out.append((item.kind, item.n, item.space))
    return out


def _alike(edge: list[Item], shape: _Shape, before: int) -> list[Item]:
    """The items of the edge that have this shape, its first `before` parts at the edge's end and the others at its
    beginning; empty where they differ or are of another group."""
    last = edge[len(edge) - before :] if before else []
    for many in range(len(shape) - before, len(shape) - before + 2):
        items = [*last, *edge[:many]]
        if all(item.group < 0 for item in items) and _shape(items) == shape:
            return items
    return []
