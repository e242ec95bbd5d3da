"""The gaps to aim at when a front is fixed or a door is set."""

from __future__ import annotations

from typing import Final

from storyrod.measure.tolerance import EXACT
from storyrod.measure.writing import LengthWriter
from storyrod.model.carcass import BuiltCase
from storyrod.model.job import Holds, OuterSide
from storyrod.model.panel import Panel

_PLACES: Final = {
    OuterSide.TOP: "at the top",
    OuterSide.BOTTOM: "at the base",
    OuterSide.LEFT: "at the left",
    OuterSide.RIGHT: "at the right",
}
_DOORS: Final = (Holds.DOOR, Holds.PAIR_OF_DOORS)


def aim(built: BuiltCase, front: Panel, lap: float | None, lengths: LengthWriter) -> str:
    """Return the gaps to aim at round a front, how far back it stands, and how far a door laps what it hangs on (mm).

    One behind a door is inset, whatever the others of its case are.
    """
    fronts, told, box = built.case.fronts, lengths.told, front.box
    inset = box.high.y > EXACT
    uneven = "" if is_even(built, front) else "; at the case's outside " + _outside(built, lengths, inset=inset)
    if inset:
        back = f"{told(box.low.y)} behind" if box.low.y > EXACT else "flush with"
        return f"a gap of {told(fronts.gap)} all round{uneven}, its face {back} the front edges of the sides"
    even = f", {told(fronts.outer(OuterSide.TOP, inset=False))} at the case's outside"
    over = "" if lap is None else f", a lap of {told(lap)} over the panel that it hangs on"
    return f"a gap of {told(fronts.gap)} to its neighbours{uneven or even}{over}"


def is_even(built: BuiltCase, front: Panel) -> bool:
    """Return whether a front keeps one measure on all sides of the case; an inset one its gap."""
    fronts, inset = built.case.fronts, front.box.high.y > EXACT
    if any(o.holds in _DOORS and front.opening.startswith(f"{o.id}.") for o in built.openings):
        return True
    found = [fronts.outer(side, inset=inset) for side in OuterSide]
    wanted = fronts.gap if inset else found[0]
    return all(abs(f - wanted) <= EXACT for f in found)


def _outside(built: BuiltCase, lengths: LengthWriter, *, inset: bool) -> str:
    fronts = built.case.fronts
    return ", ".join(f"{lengths.told(fronts.outer(side, inset=inset))} {where}" for side, where in _PLACES.items())
