"""One board's parts and stock in whole units, kerf folded in, as the search wants them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.model.panel import Grain
from storyrod.model.sheet import CutRules, Part, StockSheet, Trim
from storyrod.sheets._grid import Grid, grid_of
from storyrod.sheets._tree import Node, leaf

ENDLESS: Final = 10**9
"""Copies of a sheet that can be had as often as wanted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A stock sheet: usable size with the kerf folded in, what one weighs in the goal, copies, and its source."""

    w: int
    h: int
    cost: int
    copies: int
    stock: StockSheet
    trim: Trim


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Parts that are the same to the saw: their ways to lie, and who they are.

    Attributes:
        ways: one or two nodes.
        members: the copies, each a tuple of (part, copy) in order; one of them except in a strip.
        gaps: for a strip: where each member begins along it, in units.
    """

    ways: tuple[Node, ...]
    area: int
    members: tuple[tuple[tuple[Part, int], ...], ...]
    gaps: tuple[int, ...] = (0,)
    end_to_end: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """What the search is given for one board."""

    board: str
    grid: Grid
    sizes: tuple[Size, ...]
    kinds: tuple[Kind, ...]
    weights: str

    @property
    def wanted(self) -> list[int]:
        """Every part's kind, once a copy."""
        return [k for k, kind in enumerate(self.kinds) for _ in kind.members]

    @property
    def area(self) -> int:
        """Area of all parts, kerf folded in (square units)."""
        return sum(kind.area * len(kind.members) for kind in self.kinds)


def task_of(board: str, parts: Sequence[Part], stock: Sequence[StockSheet], rules: CutRules) -> Task:
    """Return the task of one board; parts and stock must have passed the checks."""
    grid = grid_of(rules.kerf)
    priced = all(s.price_cents is not None for s in stock if not s.offcut)
    sizes = tuple(_size(s, rules, grid, priced=priced) for s in stock)
    return Task(
        board=board,
        grid=grid,
        sizes=sizes,
        kinds=_kinds(parts, grid),
        weights="cents" if priced else "area",
    )


def _size(sheet: StockSheet, rules: CutRules, grid: Grid, *, priced: bool) -> Size:
    trim = sheet.trim or rules.trim
    w = grid.down(sheet.length) - grid.up(trim.left) - grid.up(trim.right) + grid.kerf
    h = grid.down(sheet.width) - grid.up(trim.bottom) - grid.up(trim.top) + grid.kerf
    area = round(sheet.length * sheet.width)
    cost = (sheet.price_cents or 0) if priced else (0 if sheet.offcut else area)
    copies = (1 if sheet.offcut else ENDLESS) if sheet.copies is None else sheet.copies
    return Size(w=w, h=h, cost=cost, copies=copies, stock=sheet, trim=trim)


def _kinds(parts: Sequence[Part], grid: Grid) -> tuple[Kind, ...]:
    singles: dict[tuple[int, int, bool], list[tuple[tuple[Part, int], ...]]] = {}
    strips: dict[str, list[Part]] = {}
    for part in parts:
        if part.strip:
            strips.setdefault(part.strip, []).append(part)
            continue
        w, h, free = along_sheet(part, grid)
        singles.setdefault((w, h, free), []).extend(((part, c),) for c in range(1, part.copies + 1))
    kinds: list[Kind] = []
    for (w, h, free), copies in singles.items():
        k = len(kinds)
        ways = [leaf(w, h, k)]
        if free and w != h:
            ways.append(leaf(h, w, k, turned=True))
        kinds.append(Kind(ways=tuple(ways), area=w * h, members=tuple(copies)))
    for members in strips.values():
        kinds.append(_strip(members, grid, len(kinds)))
    return tuple(kinds)


def along_sheet(part: Part, grid: Grid) -> tuple[int, int, bool]:
    """Return the part's extents along x and y, kerf folded in, and whether it may turn."""
    length, width = grid.up(part.length) + grid.kerf, grid.up(part.width) + grid.kerf
    if part.grain is Grain.ACROSS:
        return width, length, False
    if part.grain is Grain.FREE and length < width:  # One way for equal sizes, however they were written.
        return width, length, True
    return length, width, part.grain is Grain.FREE


def _strip(members: Sequence[Part], grid: Grid, number: int) -> Kind:
    order = sorted(members, key=lambda p: (p.strip_order, p.id))
    sizes = [along_sheet(p, grid)[:2] if p.grain is not Grain.FREE else _plain(p, grid) for p in order]
    axis = 0 if order[0].end_to_end else 1
    runs = [s[axis] for s in sizes]
    gaps = tuple(sum(runs[:i]) for i in range(len(runs)))
    cross = max(s[1 - axis] for s in sizes)
    w, h = (sum(runs), cross) if axis == 0 else (cross, sum(runs))
    copies = tuple(tuple((p, c) for p in order) for c in range(1, order[0].copies + 1))
    ways = (leaf(w, h, number),)
    return Kind(ways=ways, area=w * h, members=copies, gaps=gaps, end_to_end=axis == 0)


def _plain(part: Part, grid: Grid) -> tuple[int, int]:
    """A free part in a strip keeps its length along the sheet: the strip is what matches, not the turning."""
    return grid.up(part.length) + grid.kerf, grid.up(part.width) + grid.kerf
