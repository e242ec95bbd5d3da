"""The job that a layout makes: its cases and their openings, with what stands in each and what made each size so."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.model.job import (
    Back,
    BackKind,
    BottomKind,
    Case,
    ClothesRail,
    Drawers,
    Holds,
    Job,
    Opening,
    Plinth,
    Split,
)
from storyrod.model.wish import HANG_ROOM, MadeBy, Reach, Sized, Stand
from storyrod.wish._layout import Band, Cell, Layout, has_board
from storyrod.wish._rows import Row
from storyrod.wish._space import TENTHS, WIDEST_DOOR, Space, is_hung

CODES: Final = "ABCD"
"""Codes of cases that stand side by side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """A job with what stands where in it, and why it is as wide, high and deep as it is."""

    job: Job
    stands: tuple[Stand, ...]
    sized: tuple[Sized, ...]
    layout: Layout


@dataclass(slots=True)
class _Piece:
    """A row of the job in the making: an opening, its clear height and the cells within it."""

    opening: Opening
    height: int
    cells: tuple[Cell, ...]
    last: Cell


def brief_of(space: Space, layout: Layout) -> Brief:
    """Return the job of a layout."""
    return _Building(space, layout).brief()


class _Building:
    def __init__(self, space: Space, layout: Layout) -> None:
        self.space, self.layout = space, layout
        self.left = [g.count for g in space.goods]
        self.cells = [0] * len(space.goods)
        for cells in (*layout.columns, layout.band):
            for cell in cells:
                if cell.row is not None:
                    self.cells[cell.row.goods] += 1
        self.stands: list[Stand] = []

    def brief(self) -> Brief:
        layout, space = self.layout, self.space
        if layout.kind.apart:
            cases = tuple(
                self._case(n, width + 2 * space.t, self._column(f"cases[{n}].inside", CODES[n], cells, width))
                for n, (cells, width) in enumerate(zip(layout.columns, layout.widths, strict=True))
            )
        else:
            cases = (self._case(0, layout.width, self._inside()),)
        job = replace(
            space.base, title=space.wish.title, currency=space.wish.currency, unit=space.wish.unit, cases=cases
        )
        return Brief(job=job, stands=tuple(self.stands), sized=self._sized(), layout=layout)

    def _case(self, number: int, width: int, inside: Opening) -> Case:
        space, wish = self.space, self.space.wish
        at = f"cases[{number}]"
        board = space.board.code
        plinth = Plinth(height=wish.place.plinth, field=f"{at}.plinth") if wish.place.plinth >= 20 else None
        own_back = None if space.back_board.code == board else space.back_board.code
        bottom = None if space.bottom_board.code == board else space.bottom_board.code
        own_box = None if space.drawer_board.code == board else space.drawer_board.code
        return Case(
            code=CODES[number],
            name=wish.title or "case",
            width=width / TENTHS,
            height=self.layout.height / TENTHS,
            depth=self.layout.inside + space.back,
            board=board,
            plinth=plinth,
            back=Back(kind=BackKind.APPLIED, board=own_back, field=f"{at}.back"),
            inside=replace(inside, field=f"{at}.inside"),
            drawers=Drawers(
                runner=wish.runner,
                bottom=BottomKind.APPLIED if space.applied else BottomKind.GROOVED,
                board=own_box,
                bottom_board=bottom,
                field=f"{at}.drawers",
            ),
            field=at,
        )

    # --- The tree of openings -----------------------------------------------------------------------------------------

    def _inside(self) -> Opening:
        layout = self.layout
        path = "cases[0].inside"
        if not layout.band:
            return self._columns(path)
        inner = layout.width - 2 * self.space.t
        first = layout.kind.band is Band.TOP
        rows = self._pieces(path, CODES[0], layout.band, inner, first=0 if first else 1)
        band = [self._sized_row(p) for p in rows]
        at = len(rows) if first else 0
        main = self._columns(f"{path}.rows[{at}]")
        inside = [*band, main] if first else [main, *band]
        return Opening(split=Split.ROWS, inside=tuple(inside), field=path)

    def _columns(self, path: str) -> Opening:
        layout = self.layout
        if len(layout.columns) == 1:
            return self._column(path, CODES[0], layout.columns[0], layout.widths[0])
        equal = len(set(layout.widths)) == 1
        rest = layout.widths.index(max(layout.widths))
        if layout.kind.mirrored and not equal and len(layout.columns) % 2:
            rest = len(layout.columns) // 2
        inside = []
        for c, (cells, width) in enumerate(zip(layout.columns, layout.widths, strict=True)):
            own = self._column(f"{path}.columns[{c}]", CODES[0], cells, width)
            inside.append(own if equal or c == rest else replace(own, size=width / TENTHS))
        return Opening(split=Split.COLUMNS, inside=tuple(inside), field=path)

    def _column(self, path: str, code: str, cells: Sequence[Cell], width: int) -> Opening:
        if len(cells) == 1:
            (piece,) = self._pieces("", code, cells, width, alone=path)
            return replace(piece.opening, field=path)
        pieces = self._pieces(path, code, cells, width)
        if len(pieces) == 1:
            return replace(self._one(path, code, cells, width), field=path)
        rest = max(range(len(pieces)), key=lambda n: (_gives(pieces[n]), pieces[n].height, n))
        even = len({_shape(p) for p in pieces}) == 1
        rows = [p.opening if even or n == rest else self._sized_row(p) for n, p in enumerate(pieces)]
        return Opening(split=Split.ROWS, inside=tuple(rows), field=path)

    def _one(self, path: str, code: str, cells: Sequence[Cell], width: int) -> Opening:
        """Return a column that is one opening: all of it behind one door, or all of it on loose shelves."""
        for stand in [s for s in self.stands if s.opening.startswith(f"{path}.rows[0]")]:
            self.stands.remove(stand)
            self.left[stand.goods] += stand.count
            self.cells[stand.goods] += 1
        (piece,) = self._pieces("", code, cells, width, alone=path)
        return piece.opening

    def _sized_row(self, piece: _Piece) -> Opening:
        return replace(piece.opening, size=piece.height / TENTHS)

    def _pieces(
        self, path: str, code: str, cells: Sequence[Cell], width: int, *, first: int = 0, alone: str = ""
    ) -> list[_Piece]:
        """Return the openings of rows over each other: those behind one door are one."""
        pieces: list[_Piece] = []
        groups = _grouped(self.layout, cells)
        for n, group in enumerate(groups, start=first):
            at = alone or f"{path}.rows[{n}]"
            under = groups[n - first + 1][0] if n - first + 1 < len(groups) else None
            parted = under is None or has_board(self.layout.kind, group[-1], under)
            opening = self._grouped_opening(at, code, group, width)
            height = sum(c.height for c in group) + self.space.t * (len(group) - 1)
            pieces.append(
                _Piece(opening=replace(opening, parted=parted), height=height, cells=tuple(group), last=group[-1])
            )
        return pieces

    def _grouped_opening(self, at: str, code: str, group: Sequence[Cell], width: int) -> Opening:
        row = group[0].row
        if row is None or row.reach is not Reach.DOOR:
            return self._opening(at, code, group, width, behind=False)
        holds = Holds.DOOR if width <= WIDEST_DOOR * TENTHS else Holds.PAIR_OF_DOORS
        runs = _runs(group) if self.layout.kind.loose else [[c] for c in group]
        if len(runs) == 1:
            return replace(self._opening(at, code, runs[0], width, behind=True), holds=holds)
        rows = []
        for n, run in enumerate(runs):
            own = self._opening(f"{at}.rows[{n}]", code, run, width, behind=True)
            height = sum(c.height for c in run) + self.space.t * (len(run) - 1)
            rows.append(own if n == len(runs) - 1 else replace(own, size=height / TENTHS))
        return Opening(holds=holds, split=Split.ROWS, inside=tuple(rows), field=at)

    def _opening(self, at: str, code: str, cells: Sequence[Cell], width: int, *, behind: bool) -> Opening:
        """Return an opening of one row, or of several on loose shelves."""
        row = cells[0].row
        if row is None:
            return Opening(name="", field=at)
        goods = self.space.goods[row.goods]
        count = sum(self._take(c, width) for c in cells)
        room = sum(_room(c, width) for c in cells)
        self.stands.append(self._stand(at, code, cells[0], width, count, room))
        load = math.ceil(count * goods.kg * TENTHS) / TENTHS
        name = goods.name[:60]
        if is_hung(goods):
            rail = ClothesRail(height=goods.height + HANG_ROOM, load_kg=load or None, field=f"{at}.clothes_rail")
            return Opening(name=name, clothes_rail=rail, field=at)
        holds = Holds.DRAWER if row.drawer else Holds.OPEN
        if len(cells) > 1:
            holds = Holds.OPEN if behind else Holds.LOOSE_SHELVES
        return Opening(
            name=name, holds=holds, loose_shelves=len(cells) - 1, load_kg=min(load, 1000.0) or None, field=at
        )

    # --- What stands where --------------------------------------------------------------------------------------------

    def _take(self, cell: Cell, width: int) -> int:
        """Return how many things come into a cell: its share of what is left, as far as there is room."""
        row = cell.row
        assert row is not None  # noqa: S101 - asked of cells that are filled
        cells = max(1, self.cells[row.goods])
        self.cells[row.goods] -= 1
        count = min(self.left[row.goods], _room(cell, width))
        if cells > 1 and self._spare(row.goods) >= 0:
            count = min(count, self._share(row, cells))
        self.left[row.goods] -= count
        return count

    def _spare(self, goods: int) -> int:
        """Return how many more than are left would go into all cells of these things, by the search's own count."""
        every = [c for cells in (*self.layout.columns, self.layout.band) for c in cells]
        return sum(c.files * c.row.each for c in every if c.row is not None and c.row.goods == goods) - (
            self.space.goods[goods].count
        )

    def _share(self, row: Row, cells: int) -> int:
        every = [c for group in (self.layout.band, *self.layout.columns) for c in group]  # as they are filled
        rooms = [c.files * c.row.each for c in every if c.row is not None and c.row.goods == row.goods]
        after = sum(rooms[len(rooms) - cells + 1 :])
        return max(self.left[row.goods] - after, -(-self.left[row.goods] // cells))

    def _stand(self, at: str, code: str, cell: Cell, width: int, count: int, room: int) -> Stand:
        row = cell.row
        assert row is not None  # noqa: S101 - asked of cells that are filled
        kind = self.layout.kind
        tight = cell.height - row.need
        by_height = MadeBy.THINGS if tight <= 1 else MadeBy.ALIKE if kind.lines or kind.mirrored else MadeBy.REST
        spare = width - row.lost - cell.files * row.pitch
        by_width = MadeBy.THINGS if spare < max(row.pitch, 51) else MadeBy.ALIKE if kind.mirrored else MadeBy.REST
        return Stand(
            case=code,
            opening=at,
            goods=row.goods,
            count=count,
            room=room,
            height=cell.height / TENTHS,
            height_by=by_height,
            width=width / TENTHS,
            width_by=by_width,
            turned=row.turned,
            layers=row.layers,
        )

    def _sized(self) -> tuple[Sized, ...]:
        layout, space = self.layout, self.space
        deep = layout.inside + space.back
        return (
            Sized(
                size="width",
                mm=layout.width / TENTHS,
                by=MadeBy.PLACE if layout.width >= space.width - layout.kind.columns else MadeBy.ROWS,
            ),
            Sized(
                size="height",
                mm=layout.height / TENTHS,
                by=MadeBy.PLACE if layout.height >= space.height else MadeBy.ROWS,
            ),
            self._depth(deep),
        )

    def _depth(self, deep: float) -> Sized:
        space = self.space
        if space.depth_exact:
            return Sized(size="depth", mm=deep, by=MadeBy.PLACE)
        length = space.box_depth(self.layout.inside)
        runner = space.runner
        if runner is not None and length and any(g.reach is Reach.DRAWER for g in space.goods):
            nominal = length + runner.box_shorter + 2 * space.drawer_board.measured
            if math.ceil(space.runner_needs(nominal)) == self.layout.inside:
                return Sized(size="depth", mm=deep, by=MadeBy.RUNNER, runner=nominal)
        shelved = [n for n, g in enumerate(space.goods) if g.reach is not Reach.DRAWER]
        deepest = max(shelved, key=lambda n: space.goods[n].depth, default=-1)
        return Sized(size="depth", mm=deep, by=MadeBy.THINGS if deepest >= 0 else MadeBy.PLACE, goods=deepest)


def _grouped(layout: Layout, cells: Sequence[Cell]) -> list[list[Cell]]:
    """Return the rows that make one opening each: those behind one door, and equal ones on loose shelves."""
    groups: list[list[Cell]] = []
    for cell in cells:
        last = groups[-1][-1] if groups else None
        both = last is not None and last.row is not None and cell.row is not None
        doors = both and _is_door(last) and _is_door(cell)
        loose = layout.kind.loose and both and last is not None and _is_loose(last, cell)
        if doors or loose:
            groups[-1].append(cell)
        else:
            groups.append([cell])
    return groups


def _is_door(cell: Cell | None) -> bool:
    return cell is not None and cell.row is not None and cell.row.reach is Reach.DOOR


def _is_loose(over: Cell, under: Cell) -> bool:
    row = over.row
    return row is not None and row == under.row and not row.drawer and over.height == under.height and row.floor == 0


def _runs(cells: Sequence[Cell]) -> list[list[Cell]]:
    """Return the cells behind one door, those on loose shelves together."""
    runs: list[list[Cell]] = []
    for cell in cells:
        if runs and _is_loose(runs[-1][-1], cell):
            runs[-1].append(cell)
        else:
            runs.append([cell])
    return runs


def _room(cell: Cell, width: int) -> int:
    row = cell.row
    assert row is not None  # noqa: S101 - asked of cells that are filled
    return max(cell.files, min(row.most, (width - row.lost) // row.pitch)) * row.each


def _gives(piece: _Piece) -> int:
    """Return how gladly a row takes what rounding leaves: free ones first, drawers last."""
    if piece.cells[0].row is None:
        return 2
    return 0 if any(c.row is not None and c.row.drawer for c in piece.cells) else 1


def _shape(piece: _Piece) -> tuple[object, ...]:
    return (piece.height, len(piece.cells), piece.cells[0].row)
