"""Building from the parts up where every part may turn: two nodes go together by any two sides of theirs."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.sheets._blocks import Joiner
from storyrod.sheets._fill import Filler
from storyrod.sheets._tree import PART, Node, joined


def turned(node: Node) -> Node:
    """Return a node turned by 90 degrees, with all that is in it."""
    w, h, axis, body = node
    if axis == PART:
        return node if w == h else (h, w, PART, body ^ 1)
    return (h, w, 1 - axis, tuple(turned(child) for child in body))


class _Grove:
    """Nodes found by either of their sides."""

    def __init__(self, nodes: Sequence[Node]) -> None:
        self.live: dict[int, Node] = {}
        self.by: dict[int, dict[int, None]] = {}
        self._next = 0
        for node in nodes:
            self.add(node)

    def add(self, node: Node) -> None:
        self.live[self._next] = node
        for side in {node[0], node[1]}:
            self.by.setdefault(side, {})[self._next] = None
        self._next += 1

    def take(self, number: int) -> Node:
        node = self.live.pop(number)
        for side in {node[0], node[1]}:
            same = self.by[side]
            del same[number]
            if not same:
                del self.by[side]
        return node

    def other(self, number: int, side: int) -> int:
        """Return the side across from one."""
        w, h = self.live[number][:2]
        return h if w == side else w


class TurningJoiner(Joiner):
    """Joins nodes exactly, turned as they must be."""

    def __init__(self, filler: Filler) -> None:
        super().__init__(filler)
        self._laid = frozenset(self.whole)
        self.whole |= {(h, w) for w, h in self.whole}
        self._sides = self.edges[0] | self.edges[1]

    def join(self, nodes: Sequence[Node], tries: int) -> tuple[list[Node], list[Node]]:
        """Return the nodes that fill a sheet exactly, lying as it does, and the others, after joining what can be."""
        grove = _Grove(nodes)
        done: list[Node] = []
        while True:
            alike = [(side, same) for side, same in grove.by.items() if len(same) > 1]
            pick = self._pair(grove, alike, tries) if alike else None
            if pick is None:
                return done, list(grove.live.values())
            side, i, j = pick
            a, b = (n if n[0] == side else turned(n) for n in (grove.take(i), grove.take(j)))
            node = joined(a, b, 1)
            if (node[0], node[1]) in self.whole:
                done.append(node if (node[0], node[1]) in self._laid else turned(node))
            else:
                grove.add(node)

    def _pair(self, grove: _Grove, alike: list[tuple[int, dict[int, None]]], tries: int) -> tuple[int, int, int] | None:
        """Return the most telling of some pairs taken at random: the side they have in common, and both numbers."""
        roll = self.chance.random
        best = 0.0
        found: tuple[int, int, int] | None = None
        for _ in range(tries):
            side, same = alike[int(roll() * len(alike))]
            i, j = tuple(same) if len(same) == 2 else self.chance.sample(tuple(same), 2)
            score = self._worth(grove, side, i, j) * (0.3 + roll())
            if score > best:
                best, found = score, (side, i, j)
        return found

    def _worth(self, grove: _Grove, side: int, i: int, j: int) -> float:
        """Return how much speaks for a join, as where nothing turns; nothing where no sheet holds it."""
        one, other = grove.other(i, side), grove.other(j, side)
        length = one + other
        if not any(length <= w and side <= h for w, h in self.whole):
            return 0.0
        by = grove.by
        score = 1.0 + 12 * (length in by) + 12 * (length in self._sides) + 4 * (side in self._sides)
        score += len(by[side]) == 2
        return score + 1.5 * (len(by[one]) == 1) + 1.5 * (len(by[other]) == 1)
