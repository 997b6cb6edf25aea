"""Standing in chain spaces: side by side along the arch, and under an arch that several rounds share."""

import itertools
import math

from generator.charts.arches import Arch, Arches
from generator.charts.closers import chains_of
from generator.charts.frames import Point
from generator.charts.nodes import CHAIN, LOW, Node

BESIDE = 0.42
"""Feet in one space stand this far apart at most, crosses as far as their heads do."""
MOST = 0.6
"""Who is worked into this share of an arch is worked into all of it."""
OUTSIDE = 0.3
"""How far outside the line of the chains a foot stands."""


class Spaces(Arches):
    """Places in the chain spaces of a layout."""

    def in_arch(self, node: Node, p: int) -> Point:
        """Where in a chain space a stitch stands, just outside its chains."""
        guests, arch = self._guests_with(node, p), self.arch(p)
        middle, share = self._stretch_of(node, p)
        span, widest = self._room_for(guests, arch, p)
        step = min(widest, share * span / max(len(guests), 1))
        place = guests.index(node.index) if node.index in guests else 0
        if self.layout.direction[node.course] != self.layout.direction[self.layout.graph.nodes[p].course]:
            place = len(guests) - 1 - place
        t = middle + (place - (len(guests) - 1) / 2) * step / max(arch.length, 0.5)
        (x, y), turn = arch.at(t)
        nx, ny = math.sin(math.radians(turn)), -math.cos(math.radians(turn))
        ox, oy = self._out_of(p, arch)
        side = 1.0 if nx * ox + ny * oy >= 0 else -1.0
        return (x + nx * side * OUTSIDE, y + ny * side * OUTSIDE)

    def _room_for(self, guests: list[int], arch: Arch, p: int) -> tuple[float, float]:
        """Length of the arch that may be stood on, and how far apart; crosses stand upright as far as it goes."""
        graph, head = self.layout.graph, self.layout.head
        span = min(arch.length * 0.8, chains_of(graph, graph.nodes[p]) * CHAIN)
        if any(graph.nodes[g].height > LOW for g in guests):
            return span, BESIDE
        apart = math.dist(head(guests[0]), head(guests[-1])) / max(len(guests) - 1, 1)
        return max(span, min(apart * len(guests), arch.length * 0.9)), max(0.95, apart)

    def _stretch_of(self, node: Node, p: int) -> tuple[float, float]:
        """Middle and share of the part of an arch that is stood in: a picot parts one arch into two spaces."""
        graph = self.layout.graph
        stood, chains = graph.stitches[node.stitches[0]].parents, graph.nodes[p].stitches
        own = [i for i, s in enumerate(chains) if s in stood]
        if len(own) > MOST * len(chains) or not own:  # a space told round its picot is counted short by the picot
            return 0.5, 1.0
        return (own[0] + own[-1] + 1) / 2 / len(chains), len(own) / len(chains)

    def _guests_with(self, node: Node, p: int) -> list[int]:
        """Who stands in a space with a stitch, in order: those of its course, and where a round ended in a loop of its
        own those of the next as well."""
        nodes, all_of_them = self.layout.graph.nodes, self._guests.get(p, [])
        if any(nodes[g].course == nodes[p].course for g in all_of_them):
            return all_of_them if node.index in all_of_them else [node.index]
        stood = self._stood_in(node)
        here = (g for g in all_of_them if nodes[g].course == node.course and self._stood_in(nodes[g]) == stood)
        guests = list(here) or [node.index]
        for i, (a, b) in enumerate(itertools.pairwise(guests), 1):
            if any(nodes[n].parents not in ((), (p,)) for n in range(a, b)):  # the round ends where it began
                return guests[i:] + guests[:i]
        return guests

    def _stood_in(self, node: Node) -> tuple[int, ...]:
        """The chains a stitch is worked round, however they were counted."""
        return tuple(sorted(self.layout.graph.stitches[node.stitches[0]].parents))
