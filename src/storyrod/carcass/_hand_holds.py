"""Hand holds cut in drawer fronts and doors, and the room a hand needs behind them.

In a drawer front the hold lies level, `down` from the top edge and in the middle of the length. In a door it stands
upright, `down` from the closing edge and at half the door's height, so that two doors of a pair match.
"""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.carcass._inside import Bay
from storyrod.carcass._making import Making
from storyrod.faults import WayOut
from storyrod.measure.space import PanelAxis, Point
from storyrod.measure.tolerance import EXACT
from storyrod.model.feature import HAND_HOLD, CutOut
from storyrod.model.job import HandHold, HandHoldKind
from storyrod.model.panel import Panel, Surface

LEAST_EDGE = 10.0
"""Least board between a hand hold and an edge (mm); common practice, no source."""

GOOD_EDGE = 20.0
"""Board that should stay between a hand hold and an edge (mm); common practice, no source."""

FINGERS = 20.0
"""A hand hold with less open height than this pinches fingers (mm); common practice, no source."""

_OUTLINES = {HandHoldKind.ROUND: "round", HandHoldKind.SLOT: "slot", HandHoldKind.SCOOP: "scoop"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A hand hold in figures: from `top` to `bottom` below the edge it is measured from, `length` along it."""

    asked: HandHold
    length: float
    top: float
    bottom: float

    @property
    def middle(self) -> float:
        """How far its cut is placed from the edge: a scoop's at the edge itself."""
        return 0.0 if self.asked.kind is HandHoldKind.SCOOP else self.asked.down


def hold_of(making: Making, bay: Bay) -> Hold | None:
    """Return the hand hold asked for in the front of this bay, or None."""
    asked = bay.node.hand_hold or making.case.fronts.hand_hold
    match asked.kind:
        case HandHoldKind.NONE:
            return None
        case HandHoldKind.ROUND:
            half = asked.length / 2
            return Hold(asked=asked, length=asked.length, top=asked.down - half, bottom=asked.down + half)
        case HandHoldKind.SLOT:
            half = asked.height / 2
            return Hold(asked=asked, length=asked.length, top=asked.down - half, bottom=asked.down + half)
        case HandHoldKind.SCOOP:
            return Hold(asked=asked, length=asked.length, top=0.0, bottom=asked.height)


def cut_in_drawer_front(making: Making, panel: Panel, hold: Hold) -> bool:
    """Cut the hand hold into a drawer's front; return False after noting that it does not fit."""
    if not _fits(making, panel, hold, along=panel.length, inward=panel.width):
        return False
    at = panel.box.centre
    _cut(making, panel, hold, Point(at.x, at.y, panel.box.high.z - hold.middle), PanelAxis.U)
    return True


def cut_in_door(making: Making, panel: Panel, hold: Hold, *, hinged: str) -> bool:
    """Cut the hand hold into a door at its closing edge; return False after noting that it does not fit."""
    if not _fits(making, panel, hold, along=panel.width, inward=panel.length):
        return False
    at = panel.box.centre
    x = panel.box.high.x - hold.middle if hinged == "left" else panel.box.low.x + hold.middle
    _cut(making, panel, hold, Point(x, at.y, at.z), PanelAxis.V)
    return True


def _cut(making: Making, panel: Panel, hold: Hold, at: Point, run: PanelAxis) -> None:
    shape = CutOut(
        outline=_OUTLINES[hold.asked.kind],
        length=hold.length,
        height=hold.bottom - hold.top,
        corner=hold.asked.corner if hold.asked.kind is HandHoldKind.SCOOP else (hold.bottom - hold.top) / 2,
        depth=panel.thickness,
        run=run,
    )
    making.cut(panel, "hand-hold", Surface.FACE, at, shape, why=HAND_HOLD, item=HAND_HOLD)


def _fits(making: Making, panel: Panel, hold: Hold, *, along: float, inward: float) -> bool:
    asked, field, told_so_far = hold.asked, hold.asked.field, len(making.faults)
    scoop = asked.kind is HandHoldKind.SCOOP
    room = along - 2 * LEAST_EDGE
    if not 0 < hold.length <= room + EXACT:
        making.fault(
            "hand-hold",
            f"{field}.length",
            found=f"{making.mm(hold.length)} in {panel.name}, {making.mm(along)} along it",
            allowed=f"up to {making.most(max(0.0, room))}, so that {making.mm(LEAST_EDGE)} stays at either end",
            do="Make the hand hold shorter or the front larger.",
            ways=(making.at_most(room),) if room > 0 else (),
        )
    top = hold.top if not scoop else LEAST_EDGE
    if top < LEAST_EDGE - EXACT or hold.bottom > inward - LEAST_EDGE + EXACT or hold.bottom <= hold.top:
        making.fault(
            "hand-hold",
            f"{field}.height" if scoop else f"{field}.down",
            found=f"a hand hold from {making.mm(hold.top)} to {making.mm(hold.bottom)} below the edge of "
            f"{panel.name}, {making.mm(inward)} across",
            allowed=f"at least {making.least(LEAST_EDGE)} of board left to either edge",
            do="Make the hand hold lower, move it, or choose another kind.",
            ways=(WayOut(field="", value=None),),
        )
    if scoop and not 0 <= asked.corner <= min(asked.height, asked.length / 2) + EXACT:
        making.fault(
            "hand-hold",
            f"{field}.corner",
            found=making.mm(asked.corner),
            allowed=f"0 to {making.mm(min(asked.height, asked.length / 2))}",
            do="Make the corner radius smaller or the scoop larger.",
            ways=(making.at_most(min(asked.height, asked.length / 2)),),
        )
    if asked.kind is HandHoldKind.SLOT and hold.length < hold.bottom - hold.top - EXACT:
        making.fault(
            "hand-hold",
            f"{field}.length",
            found=f"a slot {making.mm(hold.length)} long and {making.mm(hold.bottom - hold.top)} high",
            allowed="a slot at least as long as it is high",
            do="Make it longer, or choose a round hole.",
            ways=(
                making.at_least(hold.bottom - hold.top),
                WayOut(field=f"{field}.kind", value=HandHoldKind.ROUND.value),
            ),
        )
    if len(making.faults) != told_so_far:
        return False
    _warn(making, panel, hold)
    return True


def _warn(making: Making, panel: Panel, hold: Hold) -> None:
    if hold.asked.kind is not HandHoldKind.SCOOP and hold.top < GOOD_EDGE - EXACT:
        making.caution(
            "hand-hold-edge",
            panel.name,
            f"Only {making.mm(hold.top)} of board is left between the hand hold and the edge.",
            f"{making.mm(GOOD_EDGE)} or more is stronger.",
            ids=(panel.id,),
        )


def warn_of_fingers(making: Making, panel: Panel, hold: Hold, *, covered: float) -> None:
    """Note where the panel behind the top of a front leaves fingers too little room; `covered` is what lies over it."""
    free = hold.bottom - max(hold.top, covered)
    if free < FINGERS - EXACT:
        making.caution(
            "hand-hold-pinches",
            panel.name,
            f"The hand hold leaves {making.mm(max(0.0, free))} clear for fingers.",
            f"Move it up or down, so that {making.mm(FINGERS)} is clear.",
            ids=(panel.id,),
        )
