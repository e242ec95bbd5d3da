"""What makes an order of assembly troublesome, in points.

The points weigh one trouble against another; they are a scale of our own (common practice, no source), told and
reasoned in `docs/assembly.md`. A different scale gives a different best order, never a wrong one.
"""

from __future__ import annotations

import math
from typing import Final

from storyrod.assembly._shapes import NUMBER
from storyrod.measure.space import Direction

TWO_PARTS: Final = 1
"""A move of two parts instead of one."""

SET_ASIDE: Final = 2
"""A group built apart from the rest, which must lie somewhere and be handled whole."""

FROM_THE_SIDE: Final = 6
"""A part brought in level has to be held up while its joints close."""

FROM_BELOW: Final = 12
"""A part brought up from below has to be lifted and held against its weight."""

SLIDE_UP: Final = 2
"""The slide that locks goes against the weight."""

HOLD: Final = 1
"""A joint that does not locate itself must be held or clamped until it is fast."""

HELPER: Final = 6
"""Each person needed beyond the first."""

OPEN_TIME: Final = 3
"""Each minute, or part of one, by which a step's glue goes beyond its open time."""

EARLY_BACK: Final = 8
"""Screwing a back on before all its neighbours are there: it can then no longer make the frame square."""

NO_DRIVER: Final = 500
"""A joint whose screws no driver reaches; an order with one is never used, it only says what is in the way."""

SHORT_DRIVER: Final = 3
"""A joint whose screws only a right-angle driver comes to."""

TOP_NOT_HELD: Final = 40
"""A tall panel that stands with nothing at its top to hold it."""

LOCKS_FORWARD: Final = 3
"""A slot that locks toward the front: a pull at the front works against it."""

LOCKS_UP: Final = 6
"""A slot that locks upward: the weight works against it."""

QUARTER_TURN: Final = 4
HALF_TURN: Final = 7

PULLED_APART: Final = 5
"""Each joint that is not yet fast and that a turn pulls at."""

FOLDS: Final = 1
"""Turning a frame that no back, rail or plinth keeps square."""

HANGS: Final = 8
"""Each panel that nothing but an unfastened joint keeps up."""

FALLS_OVER: Final = 10
"""A group whose middle of mass lies outside its footing."""

TOTTERS: Final = 4
"""A group that a small push tips over."""

TIPS_AT_DEG: Final = 5.0
"""A group that tips at a smaller angle than this totters."""

CLAMP_PITCH: Final = 300.0
"""A glued joint takes a clamp for each so much of its length (mm), two at least: common practice, no source."""

ONE_CLAMP: Final = 120.0
"""A joint no longer than this is closed by one clamp (mm): common practice, no source."""


def start_together(joints: int) -> int:
    """Return the points for `joints` that must be started at once: each one more is harder than the last."""
    return joints * (joints - 1)


def plain_turn(was: int, down: int) -> int:
    """Return the points for a turn itself: a quarter, or over to the other side."""
    return HALF_TURN if was >> 1 == down >> 1 else QUARTER_TURN


def over_open_time(glue_min: float, open_time_min: float) -> int:
    """Return the points for glue that takes longer to spread and close than it stays open."""
    return OPEN_TIME * max(0, math.ceil(glue_min - open_time_min - 1e-9))


def lock_points(lock: int) -> int:
    """Return the points of a joint that slides home in a direction."""
    if lock == NUMBER[Direction.UP]:
        return LOCKS_UP
    return LOCKS_FORWARD if lock == NUMBER[Direction.FORWARD] else 0
