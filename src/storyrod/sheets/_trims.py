"""Which edges of a sheet are trimmed, where in the order of cutting, and how far the other cuts run for it.

A factory edge is sawn off where something is measured from it, or where a part would keep it: two edges at right
angles mostly, and an opposite one only where a part reaches it. What is left over keeps its factory edge. A trim waits
until its piece is small: a sheet that is crosscut into two pieces with parts has the long edge of each trimmed after
that, in place of one cut over the whole length.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.model.sheet import Cut, CutNode, PieceKind, Way
from storyrod.sheets._grid import HUNDREDTHS, Grid
from storyrod.sheets._task import Size

WAITS: Final = 2
"""Pieces, at most, whose long edge is trimmed one by one, so that no cut runs over a whole sheet: rule of thumb."""

_SAME: Final = 0.9999 / HUNDREDTHS  # mm: a size is rounded up to hundredths; a whole one short is sawn by itself
_NEAR, _FAR = False, True

type _Side = tuple[int, bool]
"""An edge: across which axis it lies (0: left or right, 1: bottom or top), and whether it is the far one."""


@dataclass(frozen=True, slots=True)
class _Edges:
    """The factory edges of one sheet: how wide each is trimmed, and where what is usable ends (mm)."""

    widths: dict[_Side, float]
    ends: dict[_Side, float]
    kerf: float

    @staticmethod
    def of(size: Size, grid: Grid) -> _Edges:
        stock, trim = size.stock, size.trim
        sides = {(0, _NEAR): trim.left, (0, _FAR): trim.right, (1, _NEAR): trim.bottom, (1, _FAR): trim.top}
        widths = {side: grid.up(width) for side, width in sides.items()}
        ends = {
            (axis, far): grid.down(long) - widths[axis, far] if far else widths[axis, far]
            for axis, long in enumerate((stock.length, stock.width))
            for far in (_NEAR, _FAR)
        }
        return _Edges(
            {side: grid.mm(width) for side, width in widths.items() if width > 0},
            {side: grid.mm(end) for side, end in ends.items()},
            grid.mm(grid.kerf),
        )

    def touched(self, node: CutNode, among: frozenset[_Side]) -> frozenset[_Side]:
        """Return the edges of those given at which a piece lies."""
        return frozenset(side for side in among if abs(_end(node, side) - self.ends[side]) <= _SAME)


def with_trims(tree: CutNode, cuts: Sequence[Cut], size: Size, grid: Grid) -> tuple[Cut, ...]:
    """Return all cuts of a sheet in their order, numbered: the trims that are needed among the others.

    `cuts` are those inside the trim, each piece's own in order. Where an edge is left as it is, the cuts that reach it
    run on through it, and the pieces in hand are so much larger.
    """
    edges = _Edges.of(size, grid)
    own: dict[str, list[Cut]] = {}
    for cut in cuts:
        own.setdefault(cut.piece, []).append(cut)
    found: list[Cut] = []
    level = [(tree, edges.touched(tree, frozenset(edges.widths)))]
    while level:
        below: list[tuple[CutNode, frozenset[_Side]]] = []
        for node, raw in level:
            now = _trimmed_now(node, raw, edges, is_sheet=node is tree)
            found.extend(_trims(node, raw, now, edges))
            left = raw - frozenset(now)
            found.extend(_run_on(cut, left, edges) for cut in own.get(node.name, ()))
            below += [(kid, edges.touched(kid, left)) for kid in node.children]
        level = below
    return tuple(replace(cut, number=n) for n, cut in enumerate(found, 1))


def _end(node: CutNode, side: _Side) -> float:
    axis, far = side
    near, long = (node.x, node.length) if axis == 0 else (node.y, node.width)
    return near + long if far else near


def _trimmed_now(node: CutNode, raw: frozenset[_Side], edges: _Edges, *, is_sheet: bool) -> list[_Side]:
    """Return the edges that are trimmed while this piece is in hand, in order; others wait, or are left as they are."""
    if node.kind in {PieceKind.OFFCUT, PieceKind.WASTE}:
        return []
    if node.way is None:
        return sorted(raw, key=_order)
    along = 0 if node.way is Way.CROSSCUT else 1
    now = [(along, _NEAR)] if (along, _NEAR) in raw else []
    for side in sorted(raw, key=_order):
        if side[0] == along:
            continue
        wanting = sum(_wants(kid, side, edges) for kid in node.children)
        waits = wanting <= (WAITS if is_sheet and along == 0 else 1)
        if wanting and not waits:
            now.append(side)
    return now


def _order(side: _Side) -> tuple[bool, int]:
    """Long edges before ends, the edges that all is measured from before those opposite."""
    return side[1], -side[0]


def _wants(node: CutNode, side: _Side, edges: _Edges) -> bool:
    """Tell whether a piece lies at the edge with a part of its own, or is measured from it."""
    if not edges.touched(node, frozenset({side})):
        return False
    if node.kind is PieceKind.PART:
        return True
    if side[1] is _NEAR:
        return any(leaf.kind is PieceKind.PART for leaf in _leaves(node))
    return any(_wants(kid, side, edges) for kid in node.children)


def _leaves(node: CutNode) -> Iterator[CutNode]:
    if not node.children:
        yield node
    for kid in node.children:
        yield from _leaves(kid)


def _trims(node: CutNode, raw: frozenset[_Side], sides: Sequence[_Side], edges: _Edges) -> Iterator[Cut]:
    left = set(raw)
    for side in sides:
        axis, far = side
        left.discard(side)
        reach = {s: edges.widths[s] for s in left}
        low, long = (node.x, node.length) if axis == 1 else (node.y, node.width)
        start, end = low - reach.get((1 - axis, _NEAR), 0.0), low + long + reach.get((1 - axis, _FAR), 0.0)
        sides_now = {**reach, side: edges.widths[side]}
        off = max(edges.widths[side] - edges.kerf, 0.0)
        yield Cut(
            number=0,
            piece=node.name,
            way=Way.RIP if axis == 1 else Way.CROSSCUT,
            at=_clean(edges.ends[side] if far else edges.ends[side] - edges.kerf),
            start=_clean(start),
            end=_clean(end),
            setting=_clean((node.length if axis == 0 else node.width) if far else off),
            gives=node.name,
            piece_length=_clean(node.length + _more(sides_now, 0)),
            piece_width=_clean(node.width + _more(sides_now, 1)),
            trim=True,
        )


def _more(reach: dict[_Side, float], axis: int) -> float:
    return reach.get((axis, _NEAR), 0.0) + reach.get((axis, _FAR), 0.0)


def _run_on(cut: Cut, raw: frozenset[_Side], edges: _Edges) -> Cut:
    """Return a cut with its ends, and its piece, as far as the factory edges that are still there."""
    if not raw:
        return cut
    reach = {side: edges.widths[side] for side in raw}
    across = 0 if cut.way is Way.RIP else 1
    return replace(
        cut,
        start=_clean(cut.start - reach.get((across, _NEAR), 0.0)),
        end=_clean(cut.end + reach.get((across, _FAR), 0.0)),
        piece_length=_clean(cut.piece_length + _more(reach, 0)),
        piece_width=_clean(cut.piece_width + _more(reach, 1)),
    )


def _clean(mm: float) -> float:
    """Return a length free of the dust of sums."""
    return round(mm, 6)
