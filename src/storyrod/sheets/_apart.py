"""How a tree is taken apart at the saw: in which order, with which settings.

The same decisions serve the list of cuts and the count of settings that the search for fewer settings asks for.
"""

from __future__ import annotations

from storyrod.sheets._tree import PART, Node

type Setting = tuple[int, int]
"""Axis of the pieces' sides that the cut sets (0: a crosscut to a length, 1: a rip to a width), and the side."""


def cross_first(node: Node, may: tuple[int, int]) -> bool:
    """Tell whether a row or column with room across it is cut to its own breadth first, before it is parted.

    So it is where that cut serves two pieces or more, or the one that needs it anyway: one long offcut and one
    setting, in place of a short offcut at each piece.
    """
    axis = node[2]
    across = 1 - axis
    if may[across] <= node[across]:
        return False
    widest = [kid for kid in node[3] if kid[across] == node[across]]
    return len(widest) > 1 or widest[0][2] == PART


def in_order(node: Node) -> list[Node]:
    """Return the nodes of a row or column as they are cut off: large ones first, equal ones together."""
    axis = node[2]
    return sorted(node[3], key=lambda kid: (-kid[axis], -kid[1 - axis], kid[2], *kinds_key(kid)))


def kinds_key(node: Node) -> tuple[int, ...]:
    """Return the kinds of the parts in the tree, so that equal nodes stand together in one order always."""
    if node[2] == PART:
        return (node[3],)
    return tuple(k for kid in node[3] for k in kinds_key(kid))


def first_axis(node: Node, may: tuple[int, int]) -> int:
    """Return which side of a part with room both ways is cut first: that which leaves the larger single offcut."""
    spare = (may[0] - node[0]) * may[1], (may[1] - node[1]) * may[0]
    return 0 if spare[0] >= spare[1] else 1


def settings_of(node: Node, may: tuple[int, int], found: dict[Setting, int]) -> None:
    """Count in `found` how many cuts each setting serves when the tree is taken apart, the kerf folded in."""
    axis = node[2]
    if axis == PART:
        for side in (0, 1):
            if may[side] > node[side]:
                cut = (side, node[side])
                found[cut] = found.get(cut, 0) + 1
        return
    across = 1 - axis
    breadth = may[across]
    if cross_first(node, may):
        breadth = node[across]
        found[across, breadth] = found.get((across, breadth), 0) + 1
    sides: list[int] = []
    for kid in node[3]:
        side = kid[axis]
        settings_of(kid, (side, breadth) if axis == 0 else (breadth, side), found)
        sides.append(side)
    if sum(sides) == may[axis]:  # The last one, a smallest, is what is left: it needs no cut.
        sides.remove(min(sides))
    for side in sides:
        cut = (axis, side)
        found[cut] = found.get(cut, 0) + 1


def in_hand(node: Node, may: tuple[int, int]) -> int:
    """Return the area in hand at each cut, summed, when the tree is taken apart as for `settings_of`."""
    axis = node[2]
    if axis == PART:
        first = first_axis(node, may)
        area = 0
        for side in (first, 1 - first):
            if may[side] > node[side]:
                area += may[0] * may[1]
                may = (node[0], may[1]) if side == 0 else (may[0], node[1])
        return area
    area, across = 0, 1 - axis
    breadth = may[across]
    if cross_first(node, may):
        area, breadth = may[0] * may[1], node[across]
    left = may[axis]
    for kid in in_order(node):
        if kid[axis] < left:
            area += left * breadth
            left -= kid[axis]
        area += in_hand(kid, (kid[0], breadth) if axis == 0 else (breadth, kid[1]))
    return area


def likeness(node: Node) -> int:
    """Return a number that trees cut alike share, order left out; as good as never shared by two that are not."""
    if node[2] == PART:
        return hash((node[3], node[0]))
    return hash((node[2], sum([likeness(kid) ** 2 for kid in node[3]])))


def layout_key(node: Node) -> tuple[object, ...]:
    """Return what two trees have in common when they are cut alike: shape and kinds, order left out."""
    if node[2] == PART:
        return (node[3],)
    return (node[2], *(layout_key(kid) for kid in in_order(node)))
