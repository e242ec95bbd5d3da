"""The cutting tree: tight, persistent, in whole units.

A *node* is (width, height, axis, body). Axis 2 is a part, its body the part's kind times two, plus one where it is
turned. Axis 0 is a row of nodes side by side along x, axis 1 a column of nodes along y; the body is the tuple of
its nodes, none of which has the same axis. Sizes are tight: a row is as wide as the sum of its nodes and as high as
the highest. What a node may grow to is worked out from the top down, so free room is never tied to one place:
room that a removal leaves can serve any other node of the same row.

The kerf is folded in: every part is one kerf longer and wider than it is, and so is the usable part of every sheet
(a part at the far edge needs no cut). Nodes are plain tuples that are never changed: a rejected attempt costs nothing.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from operator import itemgetter
from typing import Any, Final

type Node = tuple[int, int, int, Any]
type Path = tuple[Path, int] | None
"""The way from the root to a node: the way to its parent, and its number there; None for the root."""
type Slot = tuple[int, int, Path, int]
"""Room for one more node: its width and height, the path to the node that grows, and along which axis.

Twice a number n is added to the axis where only n nodes of a row or column grow, the lowest ones of the row or the
narrowest of the column: they are gathered, and the new node goes on top of all of them.
"""

PART: Final = 2
_SIDE: Final = (itemgetter(0), itemgetter(1))


def leaf(width: int, height: int, kind: int, *, turned: bool = False) -> Node:
    """Return the node of one part."""
    return (width, height, PART, kind * 2 + turned)


def stacked(axis: int, nodes: Sequence[Node]) -> Node:
    """Return the nodes in a row (axis 0) or column (axis 1); nodes of the same axis are taken apart into it."""
    flat: list[Node] = []
    for node in nodes:
        if node[2] == axis:
            flat.extend(node[3])
        else:
            flat.append(node)
    if len(flat) == 1:
        return flat[0]
    if axis == 0:
        return (sum([n[0] for n in flat]), max([n[1] for n in flat]), 0, tuple(flat))
    return (max([n[0] for n in flat]), sum([n[1] for n in flat]), 1, tuple(flat))


def kinds_in(node: Node) -> list[int]:
    """Return the kind of every part in the tree."""
    found: list[int] = []
    gather(node, found)
    return found


def gather(node: Node, out: list[int]) -> None:
    """Append the kind of every part in the tree to `out`."""
    if node[2] == PART:
        out.append(node[3] >> 1)
    else:
        for child in node[3]:
            gather(child, out)


def count(node: Node) -> int:
    """Return how many parts the tree holds."""
    if node[2] == PART:
        return 1
    return sum([count(child) for child in node[3]])


def slots_of(root: Node, width: int, height: int, least_w: int, least_h: int, *, gathered: bool = True) -> list[Slot]:
    """Return every place where a node of at least `least_w` x `least_h` can be added without moving another.

    A place is told twice where it can be had without making its row higher (or column wider): first the whole
    room, then the tight one, so that a snug fit scores better than a loose one. Places on top of some nodes of a row,
    which are gathered for it, are told too, unless they are not wanted.
    """
    out: list[Slot] = []
    w, h, axis = root[0], root[1], root[2]
    if axis != 0:
        _add_beside(out, (width - w, height, h), least_w, least_h)
    if axis != 1:
        _add_above(out, (width, w, height - h), least_w, least_h)
    if axis == PART:
        return out
    _visit(root, (width, height), (least_w, least_h), out, gathered=gathered)
    return out


def _add_beside(out: list[Slot], room: tuple[int, int, int], least_w: int, least_h: int) -> None:
    w, h, tight = room
    if w >= least_w:
        out.append((w, h, None, 0))
        if least_h <= tight < h:
            out.append((w, tight, None, 0))


def _add_above(out: list[Slot], room: tuple[int, int, int], least_w: int, least_h: int) -> None:
    w, tight, h = room
    if h >= least_h:
        out.append((w, h, None, 1))
        if least_w <= tight < w:
            out.append((tight, h, None, 1))


def _visit(  # noqa: C901, PLR0912 - the innermost loop of the search: one piece, for speed
    root: Node, may: tuple[int, int], least: tuple[int, int], out: list[Slot], *, gathered: bool
) -> None:
    """Append the places inside a row or column, rows and columns written out apart."""
    add = out.append
    least_w, least_h = least
    todo: list[tuple[Node, int, int, Path]] = [(root, *may, None)]
    while todo:
        node, may_w, may_h, path = todo.pop()
        w, h, axis, kids = node
        i = 0
        if axis == 0:
            spare = may_w - w
            if spare >= least_w:
                add((spare, may_h, path, 0))
                if least_h <= h < may_h:
                    add((spare, h, path, 0))
            for child in kids:
                cw, ch, kind, _ = child
                if kind != PART:
                    todo.append((child, cw + spare, may_h, (path, i)))
                elif may_h - ch >= least_h and cw + spare >= least_w:
                    add((cw + spare, may_h - ch, (path, i), 1))
                    if spare and cw >= least_w:
                        add((cw, may_h - ch, (path, i), 1))
                i += 1
            if gathered and i > 2:
                _add_over_some(out, node, path, (spare, may_h, may_h - least_h))
        else:
            spare = may_h - h
            if spare >= least_h:
                add((may_w, spare, path, 1))
                if least_w <= w < may_w:
                    add((w, spare, path, 1))
            for child in kids:
                cw, ch, kind, _ = child
                if kind != PART:
                    todo.append((child, may_w, ch + spare, (path, i)))
                elif may_w - cw >= least_w and ch + spare >= least_h:
                    add((may_w - cw, ch + spare, (path, i), 0))
                    if spare and ch >= least_h:
                        add((may_w - cw, ch, (path, i), 0))
                i += 1
            if gathered and i > 2:
                _add_over_some(out, node, path, (spare, may_w, may_w - least_w))


def _add_over_some(out: list[Slot], node: Node, path: Path, room: tuple[int, int, int]) -> None:
    """Append the places on top of some nodes of a row (beside some of a column): the lowest two, three and so on.

    `room` is what the row may grow along itself, how high it may be, and how high its nodes may be for such a place.
    Nodes of one height are taken together, and never all nodes: that place is told elsewhere.
    """
    axis, kids = node[2], node[3]
    spare, may, most = room
    across = 1 - axis
    low = sorted(kids, key=_SIDE[across])
    if low[1][across] > most:
        return
    run = low[0][axis] + spare
    for n in range(2, len(low)):
        kid = low[n - 1]
        over = kid[across]
        if over > most:
            return
        run += kid[axis]
        if low[n][across] == over:
            continue
        grows = across + 2 * n
        out.append((run, may - over, path, grows) if axis == 0 else (may - over, run, path, grows))
        if spare:
            out.append((run - spare, may - over, path, grows) if axis == 0 else (may - over, run - spare, path, grows))


def gathers(grows: int) -> bool:
    """Tell whether a place with this last entry is one on top of some nodes, which must be gathered first."""
    return grows > 1


def put_in(node: Node, slot: Slot, new: Node) -> Node:
    """Return the tree with `new` put into the slot."""
    steps: list[int] = []
    path = slot[2]
    while path is not None:
        path, i = path
        steps.append(i)
    return _put(node, steps, new, slot[3])


def _put(node: Node, steps: list[int], new: Node, axis: int) -> Node:
    if not steps:
        return _over_some(node, new, axis) if gathers(axis) else _joined(node, new, axis)
    i = steps.pop()
    kids = node[3]
    old = kids[i]
    grown = _put(old, steps, new, axis)
    if grown[2] == node[2]:
        return stacked(node[2], (*kids[:i], grown, *kids[i + 1 :]))
    kids = (*kids[:i], grown, *kids[i + 1 :])
    if node[2] == 0:
        return (node[0] + grown[0] - old[0], max(node[1], grown[1]), 0, kids)
    return (max(node[0], grown[0]), node[1] + grown[1] - old[1], 1, kids)


def _over_some(node: Node, new: Node, grows: int) -> Node:
    """Return the row or column with some of its nodes gathered and the new one on top of them."""
    n, axis = grows >> 1, grows & 1
    low = sorted(node[3], key=_SIDE[axis])
    return stacked(1 - axis, (*low[n:], _joined(stacked(1 - axis, low[:n]), new, axis)))


def _joined(a: Node, b: Node, axis: int) -> Node:
    kids = (*(a[3] if a[2] == axis else (a,)), *(b[3] if b[2] == axis else (b,)))
    if axis == 0:
        return (a[0] + b[0], max(a[1], b[1]), 0, kids)
    return (max(a[0], b[0]), a[1] + b[1], 1, kids)


def joined(a: Node, b: Node, axis: int) -> Node:
    """Return two nodes side by side (axis 0) or one above the other (axis 1)."""
    return _joined(a, b, axis)


def without_some(node: Node, share: float, chance: random.Random, gone: list[int]) -> Node | None:
    """Return the tree with each part dropped by the given chance, whole branches by a third of it.

    The kinds of what is dropped are appended to `gone`; None when nothing is left.
    """
    if node[2] == PART:
        if chance.random() < share:
            gone.append(node[3] >> 1)
            return None
        return node
    keep: list[Node] = []
    changed = False
    for child in node[3]:
        if child[2] != PART and chance.random() < share * 0.3:
            gather(child, gone)
            changed = True
            continue
        rest = without_some(child, share, chance, gone)
        changed = changed or rest is not child
        if rest is not None:
            keep.append(rest)
    if not changed:
        return node
    return stacked(node[2], keep) if keep else None


def without_run(node: Node, about: float, chance: random.Random, gone: list[int]) -> Node | None:
    """Return the tree without one run of neighbours that holds about that many parts; else as `without_some`."""
    if node[2] == PART:
        gone.append(node[3] >> 1)
        return None
    kids = node[3]
    i = int(chance.random() * len(kids))
    child = kids[i]
    if child[2] != PART and count(child) > about:
        rest = without_run(child, about, chance, gone)
        keep = (*kids[:i], *(() if rest is None else (rest,)), *kids[i + 1 :])
        return stacked(node[2], keep) if keep else None
    j, got = i, 0
    while j < len(kids) and got < about:
        got += count(kids[j])
        gather(kids[j], gone)
        j += 1
    keep = (*kids[:i], *kids[j:])
    return stacked(node[2], keep) if keep else None


def from_rectangles(rects: Sequence[tuple[int, int, Node]]) -> Node | None:
    """Return the tree that cuts these placed nodes (left, bottom, node) apart, or None when no through-cuts do."""
    if len(rects) == 1:
        return rects[0][2]
    for axis in (0, 1):
        groups = _split(rects, axis)
        if len(groups) > 1:
            nodes = [from_rectangles(group) for group in groups]
            if any(n is None for n in nodes):
                return None
            return stacked(axis, [n for n in nodes if n is not None])
    return None


def _split(rects: Sequence[tuple[int, int, Node]], axis: int) -> list[list[tuple[int, int, Node]]]:
    groups: list[list[tuple[int, int, Node]]] = []
    end = 0
    spans = sorted(((r[0], r[2][0], r) if axis == 0 else (r[1], r[2][1], r) for r in rects), key=lambda s: s[0])
    for low, side, rect in spans:
        if not groups or low >= end:
            groups.append([])
        groups[-1].append(rect)
        end = max(end, low + side)
    return groups
