"""A layout that the search found: columns of rows with their sizes, and what it is reckoned at before it is planned.

The reckoning steers the search alone. What a proposal costs is what its plan says.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import Final

from storyrod.model.wish import Reach
from storyrod.wish._rows import Row
from storyrod.wish._space import TENTHS, Space

PRICE_M2: Final = 2500
"""What a square metre of board is reckoned at where its sheet has no price (cents); a rule of thumb, unsourced."""

HOUR: Final = 3000
"""What an hour is weighed at in the first round where the workshop sets no rate (cents); a rule of thumb, unsourced."""

BOARD_MIN: Final = 14.0
"""Minutes that one more board in the case is reckoned at in the first round; a rule of thumb, unsourced."""

DRAWER_MIN: Final = 55.0
"""The same of a drawer with its box, front and runners; a rule of thumb, unsourced."""

DOOR_MIN: Final = 25.0
"""The same of a door with its hinges; a rule of thumb, unsourced."""

WASTE: Final = 1.25
"""Board bought for board used in the first round; a rule of thumb, unsourced."""


class Band(StrEnum):
    """Where rows run over the whole width."""

    NONE = "none"
    TOP = "top"
    BOTTOM = "bottom"


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """How the inside is cut: proposals of different kinds differ in this.

    Attributes:
        columns: side by side; `apart` whether each is a case of its own.
        band: whether rows of the whole width lie over or under them.
        lines: whether shelf lines run through from column to column.
        mirrored: whether left and right are alike.
        loose: whether shelves of equal rows are loose, on pins.
    """

    columns: int
    band: Band = Band.NONE
    lines: bool = False
    mirrored: bool = False
    apart: bool = False
    loose: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One row of a column: how it is filled (None where it is free), its clear height and how many files it has."""

    row: Row | None
    height: int
    files: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """One way to cut the inside; sizes in tenths of a millimetre, `inside` its depth in mm.

    Attributes:
        columns: from the left, each from the top down; `widths` their clear widths.
        band: the rows over or under them, from the top down.
        proven: whether no other layout of this kind is reckoned at less.
    """

    kind: Kind
    inside: float
    width: int
    height: int
    columns: tuple[tuple[Cell, ...], ...]
    widths: tuple[int, ...]
    band: tuple[Cell, ...] = ()
    cost: int = 0
    proven: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Prices:
    """What the first round reckons with, in thousandths of a cent: by a tenth of a millimetre, or apiece."""

    side: int
    flat: int
    back: int
    shelf: int
    board: int
    drawer: int
    door: int
    rail: int
    front: int
    box: int


def prices_of(space: Space, inside: float, columns: int) -> Prices:
    """Return the figures of the first round for an inside so deep and so many columns."""
    deep = inside + space.back
    m2 = _price_m2(space, carcass=True) * WASTE
    back_m2 = _price_m2(space, carcass=False) * WASTE
    hour = space.workshop.money.rate_cents_per_h or HOUR
    across = space.width / TENTHS / columns
    runner, hinge = space.runner, space.workshop.hinge(space.workshop.default_hinge)
    rail = space.workshop.rail(space.workshop.default_rail)

    def by_tenth(mm: float, price: float) -> int:
        return round(1000 * price * mm / TENTHS / 1e6)

    def apiece(minutes: float, cents: float) -> int:
        return round(1000 * (minutes * hour / 60 + cents))

    return Prices(
        side=by_tenth(deep, m2),
        flat=2 * by_tenth(deep, m2),
        back=by_tenth(space.height / TENTHS, back_m2),
        shelf=by_tenth(inside, m2),
        board=apiece(BOARD_MIN, 0),
        drawer=apiece(DRAWER_MIN, (runner.price_cents or 0) if runner is not None else 0),
        door=apiece(DOOR_MIN, 2 * ((hinge.price_cents or 0) if hinge is not None else 0)),
        rail=apiece(BOARD_MIN, (rail.price_cents or 0) if rail is not None else 0),
        front=by_tenth(across, m2),
        box=by_tenth(2 * inside + 2 * across, m2),
    )


def _price_m2(space: Space, *, carcass: bool) -> float:
    board = space.board if carcass else space.back_board
    prices = [s.price_cents / (s.length * s.width / 1e6) for s in board.sheets if s.price_cents]
    return min(prices) if prices else float(PRICE_M2)


def reckoned(space: Space, layout: Layout) -> int:
    """Return what a layout is reckoned at in the first round (thousandths of a cent)."""
    kind = layout.kind
    prices = prices_of(space, layout.inside, kind.columns)
    total = 2 * prices.side * layout.height + (prices.flat + prices.back) * layout.width
    between = kind.columns - 1
    band = _reckoned_column(space, layout, prices, layout.band, _inner(space, layout)) if layout.band else 0
    if layout.band:
        band += prices.board + prices.shelf * _inner(space, layout)
    upright = layout.height - space.plinth - 2 * space.t - sum(_stack(space, layout, layout.band))
    upright -= space.t if layout.band else 0
    if kind.apart:
        total += between * (2 * prices.side * layout.height + 4 * prices.board)
    else:
        total += between * (prices.shelf * upright + prices.board)
    for cells, width in zip(layout.columns, layout.widths, strict=True):
        total += _reckoned_column(space, layout, prices, cells, width)
    return total + band


def _inner(space: Space, layout: Layout) -> int:
    return layout.width - 2 * space.t


def _stack(space: Space, layout: Layout, cells: tuple[Cell, ...]) -> tuple[int, ...]:
    boards = (space.t if has_board(layout.kind, a, b) else 0 for a, b in pairwise(cells))
    return (*(c.height for c in cells), *boards)


def has_board(kind: Kind, over: Cell, under: Cell) -> bool:
    """Return whether a board parts two rows over each other: drawers need none."""
    drawers = over.row is not None and over.row.drawer and under.row is not None and under.row.drawer
    return kind.lines or not drawers


def _reckoned_column(space: Space, layout: Layout, prices: Prices, cells: tuple[Cell, ...], width: int) -> int:
    total, before = 0, False
    for n, cell in enumerate(cells):
        if n and has_board(layout.kind, cells[n - 1], cell):
            total += prices.board + prices.shelf * width
        row = cell.row
        door = row is not None and row.reach is Reach.DOOR
        if row is not None and row.drawer:
            total += prices.drawer + (prices.front + prices.box) * cell.height
        if row is not None and space.goods[row.goods].way.value == "hangs":
            total += prices.rail
        if door:
            total += prices.front * cell.height + (0 if before else prices.door)
        before = door
    return total
