"""From the trees of the search to sheets as a person sees them: parts by name, cuts in order, offcuts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from storyrod.model.panel import Grain
from storyrod.model.sheet import (
    Cut,
    CutNode,
    CutRules,
    Offcut,
    Part,
    PieceKind,
    Placement,
    SheetPlan,
    Way,
    rest_of,
)
from storyrod.sheets._apart import cross_first, first_axis, in_order, layout_key
from storyrod.sheets._figures import settings_on
from storyrod.sheets._fill import Filled
from storyrod.sheets._grid import Grid
from storyrod.sheets._task import Kind, Task, along_sheet
from storyrod.sheets._tree import PART, Node
from storyrod.sheets._trims import with_trims

_WAYS = (Way.CROSSCUT, Way.RIP)

type Place = tuple[int, ...]
"""The way from the root of a tree to a node: the number of the node in each row or column, in the order of cutting."""


@dataclass(frozen=True, slots=True)
class Region:
    """A piece in hand: lower left corner in the sheet, and extents with the kerf folded in (units)."""

    x: int
    y: int
    w: int
    h: int

    def cut_at(self, axis: int, side: int) -> tuple[Region, Region]:
        """Return the piece of the given side that comes off, and the rest."""
        if axis == 0:
            return Region(self.x, self.y, side, self.h), Region(self.x + side, self.y, self.w - side, self.h)
        return Region(self.x, self.y, self.w, side), Region(self.x, self.y + side, self.w, self.h - side)

    def side(self, axis: int) -> int:
        """Return the extent along an axis."""
        return self.w if axis == 0 else self.h


@dataclass(slots=True)
class _Bench:
    """What gathers while one sheet is taken apart."""

    task: Task
    rules: CutRules
    name: str
    members: list[list[tuple[tuple[Part, int], ...]]]
    other_first: frozenset[Place]
    placements: list[Placement] = field(default_factory=list)
    offcuts: list[Offcut] = field(default_factory=list)
    cuts: list[Cut] = field(default_factory=list)
    strips: int = 0

    @property
    def grid(self) -> Grid:
        return self.task.grid

    @property
    def kerf(self) -> int:
        return self.task.grid.kerf

    def mm(self, units: int) -> float:
        return self.grid.mm(units)

    def real(self, folded: int) -> float:
        """Return a side without its kerf, in mm."""
        return self.grid.mm(folded - self.kerf)

    def strip_name(self) -> str:
        self.strips += 1
        return f"{self.name}/S{self.strips}"


def sheet_plans(task: Task, rules: CutRules, sheets: Sequence[Filled], *, handy: bool = False) -> tuple[SheetPlan, ...]:
    """Return the sheets of one board, like layouts after each other, offcuts of the rack first.

    `handy` looks for the cuts that are easiest to make at no more settings (see `handy_cuts`).
    """
    keys = [(task.sizes[s.size].stock.id, layout_key(s.root)) for s in sheets]
    first = {key: i for i, key in reversed(list(enumerate(keys)))}
    order = sorted(range(len(sheets)), key=lambda i: (not task.sizes[sheets[i].size].stock.offcut, first[keys[i]], i))
    members = [list(kind.members) for kind in task.kinds]
    names: dict[tuple[str, tuple[object, ...]], str] = {}
    other_first: dict[tuple[str, tuple[object, ...]], frozenset[Place]] = {}
    plans: list[SheetPlan] = []
    for number, i in enumerate(order, 1):
        name = f"{task.board}-{number}"
        bench = _Bench(task, rules, name, members, other_first.get(keys[i], frozenset()))
        if handy and keys[i] not in other_first:
            bench.other_first = other_first[keys[i]] = handy_cuts(bench, sheets[i])
        plans.append(_sheet_plan(bench, sheets[i], names.get(keys[i], "")))
        names.setdefault(keys[i], name)
    return tuple(plans)


def handy_cuts(bench: _Bench, sheet: Filled) -> frozenset[Place]:
    """Return the rows and columns that are better cut the other way first: across before they are parted, or after.

    Better is a layout whose pieces in hand are smaller over all cuts, as a sheet that is halved before it is ripped;
    of two alike in that, the one with fewer metres of cut, trims counted. It may take no more settings, and the largest
    offcut worth keeping may not be smaller.
    """

    def tried(places: frozenset[Place]) -> SheetPlan:
        members = [list(kind) for kind in bench.members]
        return _sheet_plan(_Bench(bench.task, bench.rules, bench.name, members, places), sheet, "")

    chosen = bench.other_first
    settings, largest, trouble = _handling(tried(chosen))
    size = bench.task.sizes[sheet.size]
    for place in list(_with_room(sheet.root, (size.w, size.h), ())):
        new = _handling(tried(chosen | {place}))
        if new[0] <= settings and new[1] >= largest and (new[2], -new[1]) < (trouble, -largest):
            chosen = chosen | {place}
            settings, largest, trouble = new
    return chosen


def _with_room(node: Node, may: tuple[int, int], place: Place) -> Iterator[Place]:
    """Yield the rows and columns that have room across them, the outer ones first."""
    axis = node[2]
    if axis == PART:
        return
    if may[1 - axis] > node[1 - axis]:
        yield place
    for n, kid in enumerate(in_order(node)):
        yield from _with_room(kid, (kid[0], may[1]) if axis == 0 else (may[0], kid[1]), (*place, n))


def _handling(plan: SheetPlan) -> tuple[int, float, tuple[float, float]]:
    """Return the settings, the largest offcut kept, and the trouble: pieces in hand over all cuts, metres of cut."""
    in_hand = sum(cut.piece_length * cut.piece_width for cut in plan.cuts)
    largest = max((o.length * o.width for o in plan.offcuts if o.keep), default=0.0)
    trouble = (round(in_hand, 3), round(sum(cut.length for cut in plan.cuts), 3))
    return len(settings_on(plan)), round(largest, 3), trouble


def _sheet_plan(bench: _Bench, sheet: Filled, same_as: str) -> SheetPlan:
    task, name = bench.task, bench.name
    size = task.sizes[sheet.size]
    usable = Region(task.grid.up(size.trim.left), task.grid.up(size.trim.bottom), size.w, size.h)
    tree = _take_apart(bench, sheet.root, usable, (name, 0), ())
    cuts = with_trims(tree, bench.cuts, size, task.grid)
    stock = size.stock
    return SheetPlan(
        name=name,
        stock=stock.id,
        board=task.board,
        length=stock.length,
        width=stock.width,
        trim=size.trim,
        offcut=stock.offcut,
        price_cents=stock.price_cents or 0,
        placements=tuple(bench.placements),
        tree=tree,
        cuts=cuts,
        offcuts=tuple(bench.offcuts),
        same_as=same_as,
    )


def _take_apart(bench: _Bench, node: Node, region: Region, at: tuple[str, int], place: Place) -> CutNode:
    """Return the cutting tree of one region; placements, cuts and offcuts are noted on the way."""
    axis = node[2]
    if axis == PART:
        return _part(bench, node, region, *at)
    may = (region.w, region.h)
    has_room = may[1 - axis] > node[1 - axis]
    if has_room and cross_first(node, may) != (place in bench.other_first):
        return _row(bench, 1 - axis, [(node, place)], region, at)
    return _row(bench, axis, [(kid, (*place, n)) for n, kid in enumerate(in_order(node))], region, at)


def _row(bench: _Bench, axis: int, nodes: Iterable[tuple[Node, Place]], region: Region, at: tuple[str, int]) -> CutNode:
    """Cut the nodes off one after another; what is left over is an offcut."""
    name, level = at
    children: list[CutNode] = []
    rest = region
    for node, place in nodes:
        side = node[axis]
        if rest.side(axis) == side:
            children.append(_take_apart(bench, node, rest, (_name_of(bench, node, rest), level + 1), place))
            rest = Region(0, 0, 0, 0)
            break
        piece, left = rest.cut_at(axis, side)
        child = _name_of(bench, node, piece)
        _note_cut(bench, axis, rest, side, (name, child))
        children.append(_take_apart(bench, node, piece, (child, level + 1), place))
        rest = left
    leftover = _leftover(bench, rest)
    if leftover is not None:
        children.append(leftover)
    return CutNode(
        name=name,
        kind=PieceKind.STRIP if level else PieceKind.SHEET,
        x=bench.mm(region.x),
        y=bench.mm(region.y),
        length=bench.real(region.w),
        width=bench.real(region.h),
        way=_WAYS[axis],
        children=tuple(children),
    )


def _name_of(bench: _Bench, node: Node, region: Region) -> str:
    """Return the name of a piece: a part's own when it comes off at its size, else a strip's."""
    if node[2] == PART and (region.w, region.h) == (node[0], node[1]):
        kind = bench.task.kinds[node[3] >> 1]
        if len(kind.gaps) == 1:
            part, copy = bench.members[node[3] >> 1][0][0]
            return piece_name(part, copy)
    return bench.strip_name()


def piece_name(part: Part, copy: int) -> str:
    """Return what a part is called at the saw: its mark, with its number where there are more."""
    mark = part.mark or part.id
    return f"{mark} no. {copy}" if part.copies > 1 else mark


def _note_cut(bench: _Bench, axis: int, piece: Region, side: int, what: tuple[str, str]) -> None:
    name, gives = what
    rest = piece.side(axis) - side - bench.kerf
    origin, start, run = (piece.x, piece.y, piece.h) if axis == 0 else (piece.y, piece.x, piece.w)
    cut = Cut(
        number=0,
        piece=name,
        way=_WAYS[axis],
        at=bench.mm(origin + side - bench.kerf),
        start=bench.mm(start),
        end=bench.mm(start + run - bench.kerf),
        setting=bench.real(side),
        gives=gives,
        leaves=rest_of(name) if rest > 0 else "",
        piece_length=bench.real(piece.w),
        piece_width=bench.real(piece.h),
    )
    bench.cuts.append(cut)


def _part(bench: _Bench, node: Node, region: Region, name: str, level: int) -> CutNode:
    may = (region.w, region.h)
    if may != (node[0], node[1]):
        return _row(bench, first_axis(node, may), [(node, ())], region, (name, level))
    number = node[3] >> 1
    kind = bench.task.kinds[number]
    members = bench.members[number].pop(0)
    if len(members) == 1:
        return _placed(bench, members[0], region, turned=bool(node[3] & 1))
    return _matching(bench, kind, members, region, (name, level))


def _matching(
    bench: _Bench, kind: Kind, members: Sequence[tuple[Part, int]], region: Region, at: tuple[str, int]
) -> CutNode:
    """Cut a strip of matching parts apart in their order."""
    name, level = at
    axis = 0 if kind.end_to_end else 1
    ends = (*kind.gaps[1:], region.side(axis))
    children: list[CutNode] = []
    rest = region
    for i, ((part, copy), begin, end) in enumerate(zip(members, kind.gaps, ends, strict=True)):
        piece, left = rest.cut_at(axis, end - begin)
        child = piece_name(part, copy)
        across = _across(part, axis, bench.grid)
        snug = piece.side(1 - axis) == across
        strip = child if snug else bench.strip_name()
        if i < len(members) - 1:
            _note_cut(bench, axis, rest, end - begin, (name, strip))
        children.append(_to_breadth(bench, (part, copy), piece, (axis, across), (strip, level + 1)))
        rest = left
    return CutNode(
        name=name,
        kind=PieceKind.STRIP if level else PieceKind.SHEET,
        x=bench.mm(region.x),
        y=bench.mm(region.y),
        length=bench.real(region.w),
        width=bench.real(region.h),
        way=_WAYS[axis],
        children=tuple(children),
    )


def _across(part: Part, axis: int, grid: Grid) -> int:
    sides = (grid.up(part.length) + grid.kerf, grid.up(part.width) + grid.kerf)
    if part.grain is Grain.ACROSS:
        sides = (sides[1], sides[0])
    return sides[1 - axis]


def _to_breadth(
    bench: _Bench, who: tuple[Part, int], piece: Region, across: tuple[int, int], at: tuple[str, int]
) -> CutNode:
    axis, breadth = across
    name, _ = at
    if piece.side(1 - axis) == breadth:
        return _placed(bench, who, piece, turned=False)
    own, left = piece.cut_at(1 - axis, breadth)
    _note_cut(bench, 1 - axis, piece, breadth, (name, piece_name(*who)))
    leftover = _leftover(bench, left)
    placed = _placed(bench, who, own, turned=False)
    return CutNode(
        name=name,
        kind=PieceKind.STRIP,
        x=bench.mm(piece.x),
        y=bench.mm(piece.y),
        length=bench.real(piece.w),
        width=bench.real(piece.h),
        way=_WAYS[1 - axis],
        children=(placed,) if leftover is None else (placed, leftover),
    )


def _placed(bench: _Bench, who: tuple[Part, int], region: Region, *, turned: bool) -> CutNode:
    part, copy = who
    free = part.grain is Grain.FREE and not part.strip
    swapped = along_sheet(part, bench.grid)[0] != bench.grid.up(part.length) + bench.kerf
    lies_across = part.grain is Grain.ACROSS or (free and (swapped != turned))
    length, width = (part.width, part.length) if lies_across else (part.length, part.width)
    bench.placements.append(
        Placement(
            part=part.id,
            copy=copy,
            x=bench.mm(region.x),
            y=bench.mm(region.y),
            length=length,
            width=width,
            turned=lies_across,
        )
    )
    return CutNode(
        name=piece_name(part, copy),
        kind=PieceKind.PART,
        x=bench.mm(region.x),
        y=bench.mm(region.y),
        length=length,
        width=width,
        part=part.id,
        copy=copy,
    )


def _leftover(bench: _Bench, region: Region) -> CutNode | None:
    kerf = bench.kerf
    if region.w <= kerf or region.h <= kerf:
        return None
    length, width = bench.real(region.w), bench.real(region.h)
    keep = is_worth_keeping(length, width, bench.rules)
    name = f"{bench.name}/{'O' if keep else 'W'}{len(bench.offcuts) + 1}"
    x, y = bench.mm(region.x), bench.mm(region.y)
    bench.offcuts.append(
        Offcut(
            name=name,
            board=bench.task.board,
            sheet=bench.name,
            x=x,
            y=y,
            length=length,
            width=width,
            keep=keep,
        )
    )
    return CutNode(
        name=name,
        kind=PieceKind.OFFCUT if keep else PieceKind.WASTE,
        x=x,
        y=y,
        length=length,
        width=width,
    )


def is_worth_keeping(length: float, width: float, rules: CutRules) -> bool:
    """Tell whether an offcut meets the workshop's least size, either way round."""
    long, short = max(length, width), min(length, width)
    least = max(rules.offcut_length, rules.offcut_width), min(rules.offcut_length, rules.offcut_width)
    return long >= least[0] and short >= least[1]
