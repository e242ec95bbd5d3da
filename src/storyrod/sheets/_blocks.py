"""Building from the parts up: nodes with a side in common are joined without waste, until whole sheets stand.

Where parts were once cut from full sheets, or a job's parts share their sizes, few joins fit exactly, and most of
those are right. So a forest of exact joins is grown, broken in places at random and grown again, keeping the
forest with the fewest trees. The same ruin-and-recreate idea as the main search, from the other end.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Callable, Sequence
from typing import Final

from storyrod.sheets._fill import NO_LIMIT, Filled, Filler, Fit, Opening
from storyrod.sheets._tree import PART, Node, gather, joined

_HISTORY: Final = 30
_TRIES: Final = (3, 8, 20)


class _Grove:
    """Nodes found by their width and by their height."""

    def __init__(self, nodes: Sequence[Node]) -> None:
        self.live: dict[int, Node] = {}
        self.by: tuple[dict[int, dict[int, None]], dict[int, dict[int, None]]] = ({}, {})
        self._next = 0
        for node in nodes:
            self.add(node)

    def add(self, node: Node) -> None:
        self.live[self._next] = node
        for axis in (0, 1):
            self.by[axis].setdefault(node[axis], {})[self._next] = None
        self._next += 1

    def take(self, number: int) -> Node:
        node = self.live.pop(number)
        for axis in (0, 1):
            same = self.by[axis][node[axis]]
            del same[number]
            if not same:
                del self.by[axis][node[axis]]
        return node


class Joiner:
    """Joins nodes exactly for one task."""

    def __init__(self, filler: Filler) -> None:
        sizes = filler.sizes
        self.filler = filler
        self.chance = filler.chance
        self.whole = {(s.w, s.h) for s in sizes}
        self.most = (max(s.w for s in sizes), max(s.h for s in sizes))
        self.edges = ({s.w for s in sizes}, {s.h for s in sizes})

    def join(self, nodes: Sequence[Node], tries: int) -> tuple[list[Node], list[Node]]:
        """Return the nodes that fill a sheet exactly, and the others, after joining all that can be joined."""
        grove = _Grove(nodes)
        done: list[Node] = []
        while True:
            pairs = [(1 - a, s) for a in (1, 0) for s in grove.by[a].values() if len(s) > 1]
            pick = self._pick(grove, pairs, tries) if pairs else None
            if pick is None:
                return done, list(grove.live.values())
            a, b, axis = pick
            node = joined(grove.take(a), grove.take(b), axis)
            if (node[0], node[1]) in self.whole:
                done.append(node)
            else:
                grove.add(node)

    def _pick(self, grove: _Grove, pairs: list[tuple[int, dict[int, None]]], tries: int) -> tuple[int, int, int] | None:
        """Return the most telling of some pairs taken at random: numbers of both nodes, and the axis to join along."""
        roll = self.chance.random
        best = 0.0
        found: tuple[int, int, int] | None = None
        for _ in range(tries):
            axis, same = pairs[int(roll() * len(pairs))]
            i, j = tuple(same) if len(same) == 2 else self.chance.sample(tuple(same), 2)
            score = self._score(grove, i, j, axis) * (0.3 + roll())
            if score > best:
                best, found = score, (i, j, axis)
        return found

    def _score(self, grove: _Grove, i: int, j: int, axis: int) -> float:
        """Return how much speaks for a join: most of all, that its new side meets another node's or a sheet's."""
        a, b = grove.live[i], grove.live[j]
        side = a[axis] + b[axis]
        if side > self.most[axis]:
            return 0.0
        cross = a[1 - axis]
        along, across = grove.by[axis], grove.by[1 - axis]
        score = 1.0
        score += 12 * (side in along) + 12 * (side in self.edges[axis]) + 4 * (cross in self.edges[1 - axis])
        score += len(across[cross]) == 2
        return score + 1.5 * (len(along[a[axis]]) == 1) + 1.5 * (len(along[b[axis]]) == 1)


def grow_forest(
    joiner: Joiner, rounds: int, go_on: Callable[[], bool], *, stale: int | None = None
) -> tuple[list[Node], int]:
    """Return the smallest forest found, and how many of its trees are not whole sheets.

    After `stale` rounds in which it got no smaller another is grown from the parts.
    """
    chance = joiner.chance
    nodes = [ways[0] for k in joiner.filler.task.wanted for ways in (joiner.filler.ways[k],)]
    done, rest = min((joiner.join(nodes, 12) for _ in range(6)), key=lambda f: len(f[1]))
    now, trees = done + rest, len(rest)
    best, least = now, trees
    history = [trees] * _HISTORY
    since, own = 0, trees  # when, and to what, the forest at hand last got smaller
    for n in range(rounds):
        if not least or (n % 16 == 0 and not go_on()):
            break
        if stale is not None and n - since >= stale:
            done, rest = joiner.join(nodes, 12)
            now, trees, since, own = done + rest, len(rest), n, len(rest)
            history = [trees] * _HISTORY
        keep, loose = _broken(now, joiner, chance)
        done, rest = joiner.join(loose, _TRIES[int(chance.random() * 3)])
        if len(rest) <= max(trees, history[n % _HISTORY]):
            now, trees = keep + done + rest, len(rest)
        history[n % _HISTORY] = trees
        if trees < own:
            own, since = trees, n
        if trees < least:
            best, least = now, trees
    return best, least


def _broken(trees: list[Node], joiner: Joiner, chance: random.Random) -> tuple[list[Node], list[Node]]:
    """Return the whole sheets left alone, and the loose nodes, a few trees broken."""
    hit = set(chance.sample(range(len(trees)), min(2 + int(chance.random() * 4), len(trees))))
    keep: list[Node] = []
    loose: list[Node] = []
    for i, tree in enumerate(trees):
        if i in hit and tree[2] != PART:
            _break(tree, chance, loose)
        elif i not in hit and (tree[0], tree[1]) in joiner.whole:
            keep.append(tree)
        else:
            loose.append(tree)
    return keep, loose


def _break(tree: Node, chance: random.Random, loose: list[Node]) -> None:
    depth = 0.0 if chance.random() < 0.5 else chance.random()
    todo = list(tree[3])
    while todo:
        node = todo.pop()
        if node[2] != PART and chance.random() < depth:
            todo.extend(node[3])
        else:
            loose.append(node)


def sheets_of_forest(filler: Filler, trees: Sequence[Node]) -> tuple[list[Filled], list[int]]:
    """Return sheets filled with the trees, big ones first, a tree that fits nowhere taken apart; and what is left."""
    sheets: list[Filled] = []
    loose: list[int] = []
    left = filler.left(())
    for tree in sorted(trees, key=lambda t: -t[0] * t[1]):
        size = _snug(filler, tree, left)
        if size is None or tree[0] * tree[1] < 0.3 * filler.sizes[size].w * filler.sizes[size].h:
            gather(tree, loose)
            continue
        sheets.append(filler.filled(size, tree))
        left[size] -= 1
    by_size: dict[int, list[int]] = defaultdict(list)
    for kind in loose:
        by_size[filler.area[kind]].append(kind)
    ordered = [k for area in sorted(by_size, reverse=True) for k in by_size[area]]
    rest = filler.fill(sheets, ordered, budget=NO_LIMIT, left=left, fit=Fit.SHORT_SIDE, opening=Opening.VALUE)
    return sheets, rest


def _snug(filler: Filler, tree: Node, left: list[int]) -> int | None:
    fits = [i for i, s in enumerate(filler.sizes) if left[i] > 0 and tree[0] <= s.w and tree[1] <= s.h]
    return min(fits, key=lambda i: filler.sizes[i].w * filler.sizes[i].h) if fits else None
