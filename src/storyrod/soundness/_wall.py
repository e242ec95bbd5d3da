"""Where the fixings to the wall go, and what each must hold."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.measure.space import Axis
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Panel, PanelId, Role
from storyrod.model.soundness import TipTest
from storyrod.model.thresholds import THRESHOLD_SOURCES, Thresholds
from storyrod.model.wall import WallFixing

DOWN: Final = 50.0
"""The screw in the wall sits about so far below the top of the case (mm); common practice, no source."""

UP: Final = 30.0
"""Where a bracket stands on the top: its screw in the wall is so far above it (mm); common practice, no source."""

ROOM: Final = 40.0
"""A bracket under the top takes so much room before the back (mm); common practice, no source."""

FROM_END: Final = 100.0
"""The outermost fixings are so far from the ends of the panel they hold (mm); common practice, no source."""

APART: Final = 800.0
"""Fixings are no farther apart than this (mm); common practice, no source."""

ALONG: Final = {Unit.MM: 5.0, Unit.INCH: MM_PER_INCH / 4}
"""Fixings are marked along the wall on steps of this (mm): nobody sets them finer."""

UPWARD: Final = {Unit.MM: 1.0, Unit.INCH: MM_PER_INCH / 8}
"""Their height above the floor is marked on steps of this (mm)."""

STEP_N: Final = 10.0
"""The pull that is printed is rounded up to this (N)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """Where the brackets sit: the panel, whether under it, and how high the screw in the wall is (mm).

    `straight`: there are none, the screws pass an upright rail.
    """

    panel: Panel
    under: bool
    height: float
    straight: bool = False


def seat_of(case: DetailedCase, unit: Unit) -> Seat:
    """Return where the case is fixed: by an upright rail at its rear; else under its highest level panel, or on that.

    Brackets sit on a level panel where a drawer takes the room under it.
    """
    carcass = [p for p in case.panels if p.body == "carcass"]
    rails = [p for p in carcass if p.role in {Role.RAIL, Role.HANGING_RAIL} and p.frame.into.axis is Axis.Y]
    if rails:
        rail = max(rails, key=lambda p: p.box.high.y)
        return Seat(panel=rail, under=False, height=_on_steps(rail.box.centre.z, UPWARD[unit]), straight=True)
    level = [p for p in carcass if p.role in {Role.TOP, Role.RAIL, Role.SHELF, Role.BASE}]
    panel = max(level or carcass, key=lambda p: (p.box.high.z, p.box.high.y))
    under = _has_room(case, panel)
    height = panel.box.high.z + UP
    if under:
        height = min(panel.box.high.z - DOWN, panel.box.low.z - DOWN / 2)
    return Seat(panel=panel, under=under, height=_on_steps(max(height, DOWN), UPWARD[unit]))


def _on_steps(mm: float, step: float) -> float:
    return step * round(mm / step)


def _has_room(case: DetailedCase, seat: Panel) -> bool:
    """Return whether a bracket finds room between the back and the drawers that run right under a panel."""
    back = _back_at(case, seat)
    rear = back.box.low.y if back is not None else seat.box.high.y
    below = [d.box for d in case.built.drawers if 0 <= seat.box.low.z - d.box.high.z < DOWN]
    return all(rear - box.high.y >= ROOM for box in below)


def _back_at(case: DetailedCase, seat: Panel) -> Panel | None:
    """Return the back that closes the case right under a panel."""
    z = seat.box.low.z - DOWN / 2
    return next((p for p in case.panels if p.role is Role.BACK and p.box.low.z <= z <= p.box.high.z), None)


def wall_fixing(
    case: DetailedCase, seat: Seat, tests: Sequence[TipTest], limits: Thresholds, skin: float, unit: Unit
) -> WallFixing:
    """Return how a case is fixed to the wall; nothing is asked to hold less than any condition examined.

    Beyond the point of a bracket's screw as much board is left as under any blind hole: `skin` (mm).
    """
    worst = max(tests, key=lambda t: t.anchor_n)
    through = _back_at(case, seat.panel) if seat.under or seat.straight else None
    bears = max(p.box.high.y for p in (through or seat.panel, seat.panel if seat.straight else through or seat.panel))
    wall = max(p.scribed_box.high.y for p in case.panels if p.body == "carcass" or p.role is Role.WORKTOP)
    each = max(worst.anchor_n, limits.fixing_n)
    return WallFixing(
        force_n=worst.anchor_n,
        worst=worst.what,
        floor_n=limits.fixing_n,
        floor_from=THRESHOLD_SOURCES["fixing_n"],
        each_n=STEP_N * math.ceil(each / STEP_N - 1e-9),
        height=seat.height,
        places=_places(case, seat, ALONG[unit]),
        into=seat.panel.id,
        under=seat.under,
        screw_most=float(math.floor(seat.panel.thickness - skin)),
        through=_id_of(through),
        gap=max(0.0, wall - bears),
        straight=seat.straight,
    )


def _id_of(panel: Panel | None) -> PanelId | None:
    return None if panel is None else panel.id


def _places(case: DetailedCase, seat: Seat, mark: float) -> tuple[float, ...]:
    """Return where the fixings sit along the panel, two at least, clear of what stands right under it."""
    low, high = seat.panel.box.low.x, seat.panel.box.high.x
    end = min(FROM_END, (high - low) / 4)
    count = max(2, math.ceil((high - low - 2 * end) / APART - 1e-9) + 1)
    step = (high - low - 2 * end) / (count - 1)
    uprights = [p.box for p in case.panels if p.role is Role.DIVIDER] if seat.under or seat.straight else []
    found = []
    for n in range(count):
        x = low + end + n * step
        for box in uprights:
            near = box.high.z - seat.panel.box.low.z
            if (abs(near) < DOWN or (seat.straight and near > 0)) and box.low.x - ROOM / 2 < x < box.high.x + ROOM / 2:
                x = box.low.x - ROOM
        found.append(_on_steps(x, mark))
    return tuple(found)
