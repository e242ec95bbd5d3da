"""Two pieces of a layout exchanged: what always fits again, so that no part is ever left out by it.

A piece is one node of a row or column, or a run of its nodes of like breadth, cut together. Its room is what it may
grow to where it is. Two pieces may be exchanged when each finds room where the other is.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from typing import Final

from storyrod.sheets._tree import PART, Node, stacked

type Way = tuple[int, ...]
"""The numbers of the nodes that lead from the root to a row or column."""
type Piece = tuple[int, int, int, int, Node | None, Way, tuple[int, ...]]
"""Width, height, width and height of its room, its node (None for a run), the way to its row or column, its numbers
there."""
type Edit = tuple[Way, tuple[int, ...], Node]
"""The way to a row or column, the numbers of the nodes that go, and the node that comes in their stead."""

_RUNS: Final = (2, 3)  # nodes in a run: longer ones rarely find the same room elsewhere


def pieces_of(root: Node, width: int, height: int) -> list[Piece]:
    """Return every piece of a tree on a sheet; of equal nodes in one row or column only the first."""
    found: list[Piece] = []
    todo: list[tuple[Node, int, int, Way]] = [(root, width, height, ())]
    while todo:
        node, may_w, may_h, way = todo.pop()
        axis, kids = node[2], node[3]
        if axis == PART:
            continue
        spare = may_w - node[0] if axis == 0 else may_h - node[1]
        order = sorted(range(len(kids)), key=lambda i, kids=kids, side=1 - axis: kids[i][side])  # type: ignore[misc]
        seen: set[Node] = set()
        for i in order:
            kid = kids[i]
            room = (kid[0] + spare, may_h) if axis == 0 else (may_w, kid[1] + spare)
            if kid not in seen:
                seen.add(kid)
                found.append((kid[0], kid[1], *room, kid, way, (i,)))
            if kid[2] != PART:
                todo.append((kid, *room, (*way, i)))
        for many in _RUNS:
            if many >= len(order):  # All of them are one node of the row or column around.
                break
            for j in range(len(order) - many + 1):
                run = order[j : j + many]
                along = sum([kids[i][axis] for i in run])
                broad = kids[run[-1]][1 - axis]
                if axis == 0:
                    found.append((along, broad, along + spare, may_h, None, way, tuple(run)))
                else:
                    found.append((broad, along, may_w, along + spare, None, way, tuple(run)))
    return found


def fitting(piece: Piece, others: Sequence[Piece]) -> list[Piece]:
    """Return those of the others with which the piece may be exchanged, its like left out."""
    w, h, room_w, room_h, node = piece[:5]
    return [
        o
        for o in others
        if o[0] <= room_w and o[1] <= room_h and o[2] >= w and o[3] >= h and (o[4] != node or node is None)
    ]


def exchange(
    one: Node, other: Node, mine: Sequence[Piece], theirs: Sequence[Piece], chance: random.Random
) -> tuple[Edit, Edit] | None:
    """Return the edits to two trees, or to one that is given twice, which exchange two pieces taken by chance.

    None where the first piece finds no other, or its like, or one that lies within the same.
    """
    if not mine or not theirs:
        return None
    piece = mine[int(chance.random() * len(mine))]
    fits = fitting(piece, theirs)
    if not fits:
        return None
    its = fits[int(chance.random() * len(fits))]
    if one is other and not apart(piece, its):
        return None
    x, y = node_of(one, piece), node_of(other, its)
    return None if x == y else ((piece[5], piece[6], y), (its[5], its[6], x))


def apart(a: Piece, b: Piece) -> bool:
    """Tell whether two pieces of one tree lie in different rows or columns, and neither within the other."""
    return a[5] != b[5] and not _within(a, b) and not _within(b, a)


def _within(inner: Piece, outer: Piece) -> bool:
    way, around = inner[5], outer[5]
    return len(way) > len(around) and way[: len(around)] == around and way[len(around)] in outer[6]


def node_of(root: Node, piece: Piece) -> Node:
    """Return a piece of a tree as a node."""
    return node_at(root, (piece[5], piece[6], root)) if piece[4] is None else piece[4]


def node_at(root: Node, edit: Edit) -> Node:
    """Return what an edit takes out of a tree, as a node."""
    row = root
    for i in edit[0]:
        row = row[3][i]
    return stacked(row[2], [row[3][i] for i in edit[1]])


def edited(root: Node, edits: Sequence[Edit]) -> Node:
    """Return the tree with nodes replaced, in one or more of its rows and columns."""
    kids: list[Node | None] = list(root[3])
    deeper: dict[int, list[Edit]] = {}
    new: list[Node] = []
    for way, numbers, node in edits:
        if way:
            deeper.setdefault(way[0], []).append((way[1:], numbers, node))
            continue
        new.append(node)
        for i in numbers:
            kids[i] = None
    for i, within in deeper.items():
        kids[i] = edited(root[3][i], within)
    return stacked(root[2], [*(kid for kid in kids if kid is not None), *new])
