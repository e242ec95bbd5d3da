"""What the construction leaves of a place: every figure that the search reckons with, in tenths of a millimetre.

Needs are rounded up and rooms down, so that what fits here fits in the job as planned.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from storyrod.model.board import Board
from storyrod.model.job import Drawers, Job, LooseShelves
from storyrod.model.wish import REACH_HEIGHTS, Bound, Goods, Reach, ReachHeights, Way, Wish
from storyrod.model.workshop import Runner, RunnerMount, Workshop

TENTHS: Final = 10
"""So many steps of the search make a millimetre."""

LEAST_ROW: Final = 60.0
"""No row lower than this (mm) is put in: a hand must get in and the board be fixed; common practice, no source."""

LEAST_COLUMN: Final = 120.0
"""No column narrower than this (mm) is tried: a hand must get in; common practice, no source."""

WIDEST_SHELF: Final = 900.0
"""No column wider than this (mm) is tried: a shelf of 18 mm board sags beyond; common practice, no source. What still
sags in the plan is tried again narrower."""

WIDEST_DOOR: Final = 600.0
"""A wider opening (mm) gets a pair of doors; common practice, no source."""

BEHIND: Final = LooseShelves().behind
"""Left free behind what stands on a shelf (mm), as behind a loose shelf."""

OVER_RUNNER: Final = 12.5
"""Over runners under it the bottom of a drawer is let in so far up at the least (mm), as the carcass has it."""

GRID: Final = 5.0
"""Sizes that nothing fixes are whole multiples of this (mm): a rule is read more surely so."""


def up(mm: float) -> int:
    """Return a need in tenths, rounded up."""
    return math.ceil(mm * TENTHS - 1e-6)


def down(mm: float) -> int:
    """Return a room in tenths, rounded down."""
    return math.floor(mm * TENTHS + 1e-6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """The place and the boards, as the search sees them.

    Attributes:
        t: a board of the carcass; `front` a front's; both rounded up (tenths).
        back: thickness of the back (mm); `side` and `bottom` of a drawer's boards (mm).
        width, height: greatest outside sizes (tenths); `_exact` whether they are filled.
        slope: height at the low side of a slope (tenths), or None.
        depth: greatest outside depth of the case (mm), fronts taken off; `depth_exact` whether it is filled.
        door: width and height of the door that a case goes through (tenths).
        backs: widths and heights of backs that a sheet gives (tenths); one of them holds the back of a case.
    """

    wish: Wish
    goods: tuple[Goods, ...]
    base: Job
    workshop: Workshop
    board: Board
    back_board: Board
    bottom_board: Board
    drawer_board: Board
    runner: Runner | None
    heights: ReachHeights
    t: int
    back: float
    width: int
    width_exact: bool
    height: int
    height_exact: bool
    place_width: int
    slope: int | None
    depth: float
    depth_exact: bool
    plinth: int
    door: tuple[int, int] | None
    backs: tuple[tuple[int, int], ...]

    def runner_needs(self, length: float) -> float:
        """Return how deep the inside must be for a runner of this length (mm)."""
        runner = self.runner
        assert runner is not None  # noqa: S101 - asked for where there is one
        return max(runner.set_back + length, length - runner.box_shorter + runner.clear_behind)

    def box_depth(self, inside: float) -> float:
        """Return the clear depth of a drawer box in an inside so deep (mm); 0 where no runner fits."""
        if self.runner is None:
            return 0.0
        fitting = [n for n in self.runner.lengths if self.runner_needs(n) <= inside + 1e-6]
        return max(fitting) - self.runner.box_shorter - 2 * self.drawer_board.measured if fitting else 0.0

    @property
    def box_narrower(self) -> float:
        """How much narrower a drawer box is inside than its opening (mm)."""
        runner = self.runner
        assert runner is not None  # noqa: S101 - asked for where there is one
        if runner.mount is RunnerMount.UNDER:
            return runner.inside_less
        return 2 * (runner.room_each_side + self.drawer_board.measured)

    @property
    def applied(self) -> bool:
        """Whether drawer bottoms lie under their boxes: a thick one has no room in a groove beside runner screws."""
        thick = self.bottom_board.measured > self.back_board.measured + 1e-6
        return thick and self.runner is not None and self.runner.mount is RunnerMount.SIDE

    @property
    def box_lower(self) -> float:
        """How much lower a drawer box is inside than its opening (mm)."""
        runner = self.runner
        assert runner is not None  # noqa: S101 - asked for where there is one
        return runner.room_above + self.box_floor

    @property
    def box_floor(self) -> float:
        """From the floor of a drawer's opening to the upper face of its bottom (mm)."""
        runner = self.runner
        assert runner is not None  # noqa: S101 - asked for where there is one
        usual = Drawers().bottom_up
        up_by = max(usual, OVER_RUNNER) if runner.mount is RunnerMount.UNDER else usual
        return runner.room_below + (0.0 if self.applied else up_by) + self.bottom_board.measured

    def depths(self) -> tuple[float, ...]:
        """Return the inside depths worth trying (mm), the least first: of things, and of runners that can be bought."""
        most = self.depth - self.back
        if self.depth_exact:
            return (most,)
        needs = [g.depth + BEHIND for g in self.goods if g.reach is not Reach.DRAWER]
        least = max([*needs, 0.0])
        lengths = self.runner.lengths if self.runner is not None else ()
        drawers = any(g.reach is Reach.DRAWER for g in self.goods)
        steps = sorted({self.runner_needs(n) for n in lengths if drawers and self.runner_needs(n) >= least})
        found = ([least] if not drawers or self.box_depth(least) > 0 else []) + steps
        return tuple(sorted({math.ceil(d) for d in found if d <= most + 1e-6})) or (most,)


def space_of(wish: Wish, goods: tuple[Goods, ...], base: Job, workshop: Workshop) -> Space:
    """Return the space of a wish: `base` has its boards and methods, `goods` what goes in."""
    board = base.board(wish.board or base.boards[0].code)
    back = base.board(wish.back_board or board.code)
    drawer = base.board(wish.drawer_board or board.code)
    place, limits = wish.place, wish.limits
    fronted = any(g.reach in {Reach.DOOR, Reach.DRAWER} for g in goods)
    door = None
    if limits.door_width is not None or limits.door_height is not None:
        door = (down(limits.door_width or 5000.0), down(limits.door_height or 5000.0))
    return Space(
        wish=wish,
        goods=goods,
        base=base,
        workshop=workshop,
        board=board,
        back_board=back,
        bottom_board=back,
        drawer_board=drawer,
        runner=workshop.runner(wish.runner or workshop.default_runner),
        heights=REACH_HEIGHTS[wish.users],
        t=up(board.measured),
        back=back.measured,
        width=down(place.width - place.clearance),
        width_exact=place.width_is is Bound.EXACT,
        height=down(place.height),
        height_exact=place.height_is is Bound.EXACT,
        place_width=down(place.width),
        slope=None if place.slope_low is None else down(place.slope_low),
        depth=place.depth - place.skirting - (board.measured if fronted else 0.0),
        depth_exact=place.depth_is is Bound.EXACT,
        plinth=up(place.plinth),
        door=door,
        backs=_backs(back, workshop.saw.trim),
    )


def _backs(board: Board, trim: float) -> tuple[tuple[int, int], ...]:
    """Return the widths and heights of the largest backs that sheets give; grain runs up the back."""
    found = []
    for sheet in board.sheets:
        long, wide = down(sheet.length - 2 * trim), down(sheet.width - 2 * trim)
        found += [(wide, long)] if board.grain else [(wide, long), (long, wide)]
    return tuple(dict.fromkeys(found))


def is_hung(goods: Goods) -> bool:
    """Return whether a thing hangs on a rail."""
    return goods.way is Way.HANGS
