"""Layouts of one kind, searched for by a constraint solver: rows, heights and widths at once.

One worker, a seed and a bound of counted work: the same answer on every machine, and never ended by a clock.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from storyrod.model.fitting import LEAST_DOOR
from storyrod.model.wish import Grows, Reach, Zone
from storyrod.wish._layout import Band, Cell, Kind, Layout, Prices, prices_of, reckoned
from storyrod.wish._rows import Row, rows_for
from storyrod.wish._space import GRID, LEAST_COLUMN, LEAST_ROW, TENTHS, WIDEST_DOOR, WIDEST_SHELF, Space, up

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

MOST_ROWS: Final = 8
"""So many rows over each other at the most."""

MOST_BAND: Final = 2
"""So many rows of the whole width at the most."""

WORK: Final = 0.5
"""Work of the solver for one kind at one depth, in its own counted units: about as many seconds."""

TALLER: Final = 1.4
"""A row on a shelf is at most so many times as high as its things need, or `LOOSE` more where that is higher; what is
over is a row of its own, free. Rule of thumb, unsourced."""

LOOSE: Final = 120.0
"""See `TALLER` (mm); rule of thumb, unsourced."""

DRAWER_LOOSE: Final = 40.0
"""A drawer is at most so much higher than its things need (mm); rule of thumb, unsourced."""


DOOR_LESS: Final = 10.0
"""A front is up to so much lower than its opening (mm): its gaps, and some play; a rule of thumb, unsourced."""

MOST_RANK: Final = 1000
"""More ways of filling a row than any wish has."""

_FROM_TOP: Final = {Zone.NEAR: 1, Zone.ANYWHERE: 2, Zone.LOW: 3}
"""Where rows stand from the top down; what is `over` comes before all."""


class Aim(StrEnum):
    """What is looked for."""

    CHEAP = "cheap"
    ANY = "any"
    COUNT = "count"
    HEIGHT = "height"
    WIDTH = "width"


class Answer(StrEnum):
    """How a search ended."""

    BEST = "best"
    FOUND = "found"
    NONE = "none"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Searched:
    """What a search says: a layout or none, and whether that is proven."""

    answer: Answer
    layout: Layout | None = None
    value: int = 0


@dataclass(slots=True)
class _Slot:
    """One row of a column in the making: `fills` says by which way, `files` how many of it."""

    used: Any
    height: Any
    fills: dict[int, Any]
    files: dict[int, Any]
    free: Any
    drawer: Any
    door: Any
    board: Any = 0


def search(  # noqa: PLR0913 - what a search is told, each by its name
    space: Space,
    kind: Kind,
    inside: float,
    *,
    aim: Aim = Aim.CHEAP,
    of: int = 0,
    widest: float = WIDEST_SHELF,
    seed: int = 1,
    work: float = WORK,
) -> Searched:
    """Return the layout of a kind, for an inside so deep (mm), that is reckoned at least.

    Args:
        space: what the construction leaves.
        kind: how the inside is cut.
        inside: clear depth (mm).
        aim: what is looked for; `of` the things of which as many as possible are put in.
        of: which things, from 0.
        widest: no column is wider than this (mm).
        seed: of the solver.
        work: bound of the solver's counted work.
    """
    from ortools.sat.python import cp_model

    rows: dict[int, Row] = {}
    for number in range(len(space.goods)):
        for row in rows_for(space, number, inside, loose=kind.loose):
            rows[len(rows)] = row
    if {r.goods for r in rows.values()} != set(range(len(space.goods))) and aim is not Aim.COUNT:
        return Searched(answer=Answer.NONE)
    if aim in {Aim.CHEAP, Aim.ANY} and _too_much(space, rows.values()):
        return Searched(answer=Answer.NONE)
    making = _Making(space, kind, inside, rows, widest, cp_model.CpModel())
    made = making.build(aim, of)
    if not made:
        return Searched(answer=Answer.NONE)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = work
    status = solver.solve(making.model)
    if status == cp_model.INFEASIBLE:
        return Searched(answer=Answer.NONE)
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return Searched(answer=Answer.UNKNOWN)
    proven = status == cp_model.OPTIMAL
    layout = making.layout(solver, proven=proven)
    value = round(solver.objective_value) if aim is not Aim.ANY else 0
    return Searched(answer=Answer.BEST if proven else Answer.FOUND, layout=layout, value=value)


def _too_much(space: Space, rows: Iterable[Row]) -> bool:
    """Return whether the rows of all things need more of the front than there is, whatever way they are put."""
    least: dict[int, float] = {}
    for row in rows:
        area = row.pitch * row.need / row.each * space.goods[row.goods].count
        least[row.goods] = min(area, least.get(row.goods, area))
    return sum(least.values()) > (space.width - 2 * space.t) * (space.height - space.plinth - 2 * space.t)


class _Making:
    """The solver's model in the making."""

    def __init__(
        self,
        space: Space,
        kind: Kind,
        inside: float,
        rows: Mapping[int, Row],
        widest: float,
        model: cp_model.CpModel,
    ) -> None:
        self.space, self.kind, self.inside, self.rows, self.model = space, kind, inside, rows, model
        self.widest = up(widest)
        self.most = space.height
        self.free_anywhere = kind.lines or space.heights.lowest > 0  # too low to reach is left free
        self.columns: list[list[_Slot]] = []
        self.band: list[_Slot] = []
        self.widths: list[Any] = []

    # --- The outside --------------------------------------------------------------------------------------------------

    def build(self, aim: Aim, of: int) -> bool:
        """Put everything into the model; False where the place is too small for any case at all."""
        space, kind, model = self.space, self.kind, self.model
        grid = up(GRID)
        frames = 2 * kind.columns if kind.apart else kind.columns + 1
        least_width = frames * space.t + kind.columns * up(LEAST_COLUMN)
        least_height = space.plinth + 2 * space.t + up(LEAST_ROW)
        if space.width < least_width or space.height < least_height:
            return False
        self.width = self._size(space.width, least_width, grid, exact=space.width_exact)
        self.height = self._size(space.height, least_height, grid, exact=space.height_exact)
        inner = space.width - frames * space.t
        self.widths = [
            model.new_int_var(up(LEAST_COLUMN), max(inner, up(LEAST_COLUMN)), f"w{c}") for c in range(kind.columns)
        ]
        total = sum(self.widths) + frames * space.t
        model.add(total <= self.width)
        model.add(total >= self.width - kind.columns + 1)
        self._widths(grid)
        most_rows = self._most_rows()
        self.columns = [self._column(f"c{c}", most_rows, w) for c, w in enumerate(self.widths)]
        self.main = self.height - space.plinth - 2 * space.t
        if kind.band is not Band.NONE:
            self.inner = self.width - 2 * space.t
            self.band = self._column("b", MOST_BAND, self.inner)
            self.banded = model.new_int_var(0, self.most, "banded")
            model.add(self.banded == self._stacked(self.band))
            self.main = self.main - self.banded - space.t
            model.add(self.band[0].used == 1)
        for column in self.columns:
            model.add(self._stacked(column) <= self.main)
            model.add(self._stacked(column) >= self.main - MOST_ROWS)
            model.add(column[0].used == 1)
        self._same()
        self._zones()
        self._under_slope()
        self._through_door()
        self._from_sheets()
        self._counts(aim, of)
        return True

    def _most_rows(self) -> int:
        """Return how many rows over each other there can be."""
        least = min((r.need for r in self.rows.values()), default=up(LEAST_ROW))
        return max(1, min(MOST_ROWS, self.space.height // (least + self.space.t) + 1))

    def _size(self, most: int, least: int, grid: int, *, exact: bool) -> Any:  # noqa: ANN401 - a figure or a variable
        if exact or most // grid * grid < least:
            return most
        steps = self.model.new_int_var(-(-least // grid), most // grid, "steps")
        return steps * grid

    def _widths(self, grid: int) -> None:
        kind, model = self.kind, self.model
        widths = self.widths
        if kind.mirrored:
            for a in range(kind.columns // 2):
                model.add(widths[a] == widths[-1 - a])
        for c in range(kind.columns // 2 if kind.mirrored else kind.columns - 1):
            if not (kind.mirrored and kind.columns % 2 == 0):
                steps = model.new_int_var(1, max(1, self.space.width // grid), f"k{c}")
                model.add(widths[c] == steps * grid)
        if kind.columns > 1:
            for width in widths:
                model.add(width <= self.widest)
        if not kind.mirrored:  # the narrower to the left: else each would be found in every order
            for left, right in pairwise(widths):
                model.add(left <= right)

    # --- One column ---------------------------------------------------------------------------------------------------

    def _column(self, name: str, most: int, width: Any) -> list[_Slot]:  # noqa: ANN401 - a variable or a sum
        slots = [self._slot(f"{name}{i}", width, may_be_free=not i or self.free_anywhere) for i in range(most)]
        model = self.model
        for over, under in pairwise(slots):
            model.add_implication(under.used, over.used)
            over.board = self._board(over, under)
            model.add(self._rank(under) + MOST_RANK * (1 - under.used + under.free) >= self._rank(over))
        heights: dict[int, Any] = {}
        for number, row in self.rows.items():
            if row.drawer and self.space.wish.look.drawers is Grows.DEEPER:
                continue  # each has a height of its own
            own = heights[number] = model.new_int_var(0, self.most, f"{name}h{number}")
            for slot in slots:
                model.add(slot.height == own).only_enforce_if(slot.fills[number])
        self._deeper(slots)
        for before, slot, after in zip([None, *slots], slots, [*slots[1:], None], strict=False):
            if not isinstance(slot.door, int):  # a door of one row alone has room for its hinges
                alone = slot.door - (before.door if before else 0) - (after.door if after else 0)
                model.add(slot.height >= up(LEAST_DOOR + DOOR_LESS) * alone)
        return slots

    def _slot(self, name: str, width: Any, *, may_be_free: bool) -> _Slot:  # noqa: ANN401 - a variable or a sum
        model, space = self.model, self.space
        used: Any = model.new_bool_var(f"{name}u")
        free: Any = model.new_bool_var(f"{name}f") if may_be_free else 0
        fills = {n: model.new_bool_var(f"{name}x{n}") for n in self.rows}
        height = model.new_int_var(0, self.most, f"{name}h")
        model.add(sum(fills.values()) + free == used)
        model.add(height <= self.most * used)
        model.add(height >= up(LEAST_ROW) * used)
        files: dict[int, Any] = {}
        for n, row in self.rows.items():
            most = min(row.most, max(0, (space.width - row.lost) // row.pitch))
            files[n] = model.new_int_var(0, most, f"{name}n{n}")
            model.add(files[n] <= most * fills[n])
            model.add(files[n] >= fills[n])
            model.add(row.pitch * files[n] + row.lost * fills[n] <= width)
            model.add(height >= row.need * fills[n])
            model.add(height <= self._tallest(row) + self.most * (1 - fills[n]))
            self._widest(row, fills[n], width)
        drawers = [fills[n] for n, row in self.rows.items() if row.drawer]
        doors = [fills[n] for n, row in self.rows.items() if row.reach is Reach.DOOR]
        return _Slot(
            used=used, height=height, fills=fills, files=files, free=free, drawer=sum(drawers), door=sum(doors)
        )

    def _rank(self, slot: _Slot) -> Any:  # noqa: ANN401 - a sum
        """Return where a row stands from the top down: free, over what is near the hand, near it, under it, low."""
        return sum(rank * slot.fills[n] for rank, n in enumerate(sorted(self.rows, key=self._place), start=1))

    def _place(self, number: int) -> tuple[int, bool, int, int]:
        row = self.rows[number]
        return 0 if row.over else _FROM_TOP[row.zone], row.drawer, row.goods, number

    def _tallest(self, row: Row) -> int:
        if self.kind.lines:
            return self.most
        if row.drawer and self.space.wish.look.drawers is Grows.DEEPER:
            return self.most
        if row.drawer:
            return row.need + up(DRAWER_LOOSE)
        return max(math.floor(TALLER * row.need), row.need + up(LOOSE))

    def _widest(self, row: Row, fills: Any, width: Any) -> None:  # noqa: ANN401 - of the solver
        """Keep to the widest that a shelf, a pair of doors, a runner or a rail may be."""
        space = self.space
        most = self.widest
        if row.drawer and space.runner is not None:
            most = min(up(space.runner.width_max), most)
        elif row.reach is Reach.DOOR:
            most = min(2 * up(WIDEST_DOOR), most)
        self.model.add(width <= most).only_enforce_if(fills)

    def _board(self, over: _Slot, under: _Slot) -> Any:  # noqa: ANN401 - a variable
        """Return whether a board parts two slots."""
        if self.kind.lines:
            return under.used
        model = self.model
        both, board = model.new_bool_var("both"), model.new_bool_var("board")
        model.add(over.drawer + under.drawer <= 1 + both)
        model.add(over.drawer + under.drawer >= 2 * both)
        model.add(board + both == under.used)
        return board

    def _deeper(self, slots: list[_Slot]) -> None:
        look = self.space.wish.look
        if look.drawers is not Grows.DEEPER:
            return
        for over, under in pairwise(slots):
            if not isinstance(over.drawer, int):
                both = self.model.new_bool_var("deeper")
                self.model.add(over.drawer + under.drawer <= 1 + both)
                self.model.add(under.height == over.height + up(look.step)).only_enforce_if(both)

    def _stacked(self, slots: list[_Slot]) -> Any:  # noqa: ANN401 - a sum
        return sum(s.height for s in slots) + self.space.t * sum(s.board for s in slots)

    # --- What holds between them --------------------------------------------------------------------------------------

    def _same(self) -> None:
        """Make columns alike whose lines run through, or that mirror each other."""
        kind, model = self.kind, self.model
        if kind.lines:
            for column in self.columns[1:]:
                for a, b in zip(self.columns[0], column, strict=True):
                    model.add(a.height == b.height)
                    model.add(a.used == b.used)
        if kind.mirrored:
            for left in range(kind.columns // 2):
                for a, b in zip(self.columns[left], self.columns[-1 - left], strict=True):
                    model.add(a.height == b.height)
                    model.add(a.used == b.used)
                    for n in self.rows:
                        model.add(a.fills[n] == b.fills[n])

    def _zones(self) -> None:
        top = self.height - self.space.t
        if self.kind.band is Band.TOP:
            self._zoned(self.band, top)
            top = top - self.banded - self.space.t
        for column in self.columns:
            self._zoned(column, top)
        if self.kind.band is Band.BOTTOM:
            self._zoned(self.band, self.space.plinth + self.space.t + self.banded)

    def _zoned(self, slots: list[_Slot], top: Any) -> None:  # noqa: ANN401 - a sum
        """Keep what is wanted near the hand, low, or within reach at all, at its height."""
        heights, model = self.space.heights, self.model
        floor = top
        for slot in slots:
            floor = floor - slot.height
            for n, row in self.rows.items():
                hangs = self._hangs(row)
                grip = floor + row.floor
                model.add(grip <= up(heights.highest)).only_enforce_if(slot.fills[n])
                lowest = up(heights.lowest) - (0 if hangs else row.tall)
                if lowest > 0:
                    model.add(grip >= lowest).only_enforce_if(slot.fills[n])
                if row.zone is Zone.NEAR:
                    model.add(grip >= up(heights.near_from)).only_enforce_if(slot.fills[n])
                    most = heights.highest if hangs else heights.near_to
                    model.add(grip <= up(most)).only_enforce_if(slot.fills[n])
                elif row.zone is Zone.LOW:
                    most = heights.near_to if hangs else heights.low_to
                    model.add(grip <= up(most)).only_enforce_if(slot.fills[n])
            floor = floor - self.space.t * slot.board

    def _hangs(self, row: Row) -> bool:
        return self.space.goods[row.goods].way.value == "hangs"

    def _under_slope(self) -> None:
        space = self.space
        if space.slope is not None and space.slope < space.height:
            rise = space.height - space.slope
            self.model.add(self.height * space.place_width + rise * self.width <= space.height * space.place_width)

    def _through_door(self) -> None:
        """Keep to what passes the door: two of a case's three sizes within its width and height."""
        if self.space.door is None:
            return
        wide, high = self.space.door
        deep = up(self.inside + self.space.back)
        for width in self._cases():
            ways = []
            for a, b in ((deep, self.height), (self.height, deep), (deep, width), (width, deep), (width, self.height)):
                way = self.model.new_bool_var("door")
                self.model.add(a <= wide).only_enforce_if(way)
                self.model.add(b <= high).only_enforce_if(way)
                ways.append(way)
            self.model.add_bool_or(ways)

    def _from_sheets(self) -> None:
        """Keep to backs that one sheet gives."""
        for width in self._cases():
            ways = []
            for wide, high in self.space.backs:
                way = self.model.new_bool_var("back")
                self.model.add(width <= wide).only_enforce_if(way)
                self.model.add(self.height - self.space.plinth <= high).only_enforce_if(way)
                ways.append(way)
            if ways:
                self.model.add_bool_or(ways)

    def _cases(self) -> list[Any]:
        """Return the width of each case."""
        return [w + 2 * self.space.t for w in self.widths] if self.kind.apart else [self.width]

    def _counts(self, aim: Aim, of: int) -> None:
        """Put all things in, and say what is looked for."""
        model = self.model
        slots = [s for column in (*self.columns, self.band) for s in column]
        held = [0] * len(self.space.goods)
        for n, row in self.rows.items():
            held[row.goods] += row.each * sum(s.files[n] for s in slots)
        for number, goods in enumerate(self.space.goods):
            if aim is not Aim.COUNT or number != of:
                model.add(held[number] >= goods.count)
        if aim is Aim.COUNT:
            model.maximize(held[of])
        elif aim is Aim.HEIGHT:
            model.minimize(self.height)
        elif aim is Aim.WIDTH:
            model.minimize(self.width)
        elif aim is Aim.CHEAP:
            model.minimize(self._cost(prices_of(self.space, self.inside, self.kind.columns)))

    # --- What it is reckoned at ---------------------------------------------------------------------------------------

    def _cost(self, prices: Prices) -> Any:  # noqa: ANN401 - a sum
        kind = self.kind
        total = 2 * prices.side * self.height + (prices.flat + prices.back) * self.width
        between = kind.columns - 1
        if kind.apart:
            total += between * (2 * prices.side * self.height + 4 * prices.board)
        else:
            total += between * (prices.shelf * self.main + prices.board)
        for slots, width in zip(self.columns, self.widths, strict=True):
            total += self._column_cost(prices, slots, width)
        if self.band:
            total += prices.board + prices.shelf * self.inner + self._column_cost(prices, self.band, self.inner)
        return total

    def _column_cost(self, prices: Prices, slots: list[_Slot], width: Any) -> Any:  # noqa: ANN401 - sums
        model = self.model
        total: Any = 0
        before: Any = 0
        for slot in slots:
            if not isinstance(slot.board, int):
                shelf = model.new_int_var(0, self.space.width, "shelf")
                model.add(shelf >= width - self.space.width * (1 - slot.board))
                total += prices.board * slot.board + prices.shelf * shelf
            if not isinstance(slot.drawer, int):
                boxed = model.new_int_var(0, self.most, "boxed")
                model.add(boxed >= slot.height - self.most * (1 - slot.drawer))
                total += prices.drawer * slot.drawer + (prices.front + prices.box) * boxed
            if not isinstance(slot.door, int):
                closed, first = model.new_int_var(0, self.most, "closed"), model.new_bool_var("first")
                model.add(closed >= slot.height - self.most * (1 - slot.door))
                model.add(first >= slot.door - before)
                total += prices.front * closed + prices.door * first
                before = slot.door
            total += prices.rail * sum(slot.fills[n] for n, row in self.rows.items() if self._hangs(row))
        return total

    # --- Read from the answer -----------------------------------------------------------------------------------------

    def layout(self, solver: cp_model.CpSolver, *, proven: bool) -> Layout:
        """Return the layout of an answer."""
        found = Layout(
            kind=self.kind,
            inside=self.inside,
            width=solver.value(self.width),
            height=solver.value(self.height),
            columns=tuple(self._cells(solver, c) for c in self.columns),
            widths=tuple(solver.value(w) for w in self.widths),
            band=self._cells(solver, self.band),
            proven=proven,
        )
        from dataclasses import replace

        return replace(found, cost=reckoned(self.space, found))

    def _cells(self, solver: cp_model.CpSolver, slots: list[_Slot]) -> tuple[Cell, ...]:
        cells = []
        for slot in slots:
            if solver.value(slot.used):
                filled = next((n for n, x in slot.fills.items() if solver.value(x)), None)
                cells.append(
                    Cell(
                        row=None if filled is None else self.rows[filled],
                        height=solver.value(slot.height),
                        files=0 if filled is None else solver.value(slot.files[filled]),
                    )
                )
        return tuple(cells)


def mm(tenths: int) -> float:
    """Return a size of the search in mm."""
    return tenths / TENTHS
