"""Whether a case goes into the place it is made for."""

from __future__ import annotations

from storyrod.carcass._making import Making
from storyrod.faults import WayOut
from storyrod.measure.space import AXES, Axis
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import Clearance, ClearanceKind

_NAMES = {Axis.X: "width", Axis.Y: "depth", Axis.Z: "height"}


def check_place(making: Making) -> None:
    """Note the clearance left in the place, and a fault where the case, its fronts included, is too large for it."""
    case, fits = making.case, making.case.fits
    if fits is None:
        return
    boxes = [p.scribed_box for p in making.panels.values()]
    for axis in AXES:
        name = _NAMES[axis]
        place: float | None = getattr(fits, name)
        if place is None:
            continue
        asked = getattr(case, name)
        low, high = (min(b.low.along(axis) for b in boxes), max(b.high.along(axis) for b in boxes))
        taken = max(asked, high) - min(0.0, low)
        making.leave(
            Clearance(
                kind=ClearanceKind.PLACE,
                about=f"case {case.code}",
                side=name,
                wanted=fits.clearance,
                left=place - taken,
            )
        )
        if place - taken < fits.clearance - EXACT:
            fronts = ", fronts included" if taken > asked + EXACT else ""
            making.fault(
                "place",
                f"{fits.field}.{name}",
                found=f"a place of {making.mm(place)} for a case that takes {making.mm(taken)}{fronts}",
                allowed=f"at least {making.least(taken + fits.clearance)}, {making.mm(fits.clearance)} of it clearance",
                do=f"Make the case {making.mm(taken + fits.clearance - place)} smaller, or the clearance less.",
                ways=_ways(making, name, asked + place - fits.clearance - taken, place - taken),
            )


def _ways(making: Making, name: str, size: float, left: float) -> tuple[WayOut, ...]:
    """Return the ways out: the case as large as there is room for, or the clearance that there is."""
    fits = making.case.fits
    smaller = (making.at_most(size, making.path(name)),) if size > 0 else ()
    less = (making.at_most(left, f"{fits.field}.clearance"),) if fits is not None and left >= 0 else ()
    return (*smaller, *less)
