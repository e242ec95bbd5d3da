"""Minutes of single acts, from the workshop's own times; the defaults are common practice, no source."""

from __future__ import annotations

from typing import Final

from storyrod.machining._ways import Choice
from storyrod.model.feature import Channel
from storyrod.model.machining import HOLDING, HOLDING_MIN, HoldKind, Setting
from storyrod.model.workshop import Along, CutterKind, Registration, ToolKind, Workshop

_DEFAULTS: Final = {
    "read the card, per panel": 0.5,
    "face and edge marks, per panel": 0.2,
    "mark a joint line": 0.5,
    "mark a connector": 0.1,
    "clamp the jig": 0.6,
    "set the jig to a mark": 0.25,
    "hold to a mark": 0.15,
    "change the stop": 0.8,
    "change a jig over": 2.0,
    "change the depth": 1.5,
    "set the depth collar": 0.5,
    "change the cutter": 2.5,
    "change the drill": 0.7,
    "change the bush": 1.0,
    "change the fence": 5.0,
    "change the blade": 1.5,
    "take up another tool": 0.5,
    "trial joint": 3.0,
    "make a jig": 25.0,
    "make a station of a jig": 2.0,
    "make a pin template": 15.0,
    "drill a hole of a pin template": 0.5,
    "cut guard boards": 4.0,
    "make a holding trough": 20.0,
    HOLDING: HOLDING_MIN,
    "fetch a panel from the stack": 0.3,
    "cut a panel, table saw": 1.0,
    "cut a panel, track saw": 4.0,
    "edge with an iron, per metre": 4.0,
    "fit a dry connector": 0.2,
    "glue a connector": 0.3,
}

MAKING: Final = {
    HoldKind.BOARD: "cut guard boards",
    HoldKind.BACKING: "cut guard boards",
    HoldKind.TROUGH: "make a holding trough",
}
"""The act of `times` that making each way of holding takes; clamps alone take none."""

_LOOSE_BITS: Final = (CutterKind.DRILL, CutterKind.COUNTERSINK, CutterKind.STEPPED)


def minutes_of(workshop: Workshop, act: str) -> float:
    """Return the usual minutes of an act; 0 for none."""
    return workshop.minutes(act, _DEFAULTS.get(act, 0.0)) if act else 0.0


def place_and_cut(
    choice: Choice, need_marks: int, shape: object, length_mm: float, workshop: Workshop
) -> tuple[float, float]:
    """Return the minutes of placing a way for one line of cuts, and of cutting it, once."""
    way = choice.way
    place, cut = minutes_of(workshop, way.place_act), minutes_of(workshop, way.cut_act)
    if choice.hold in MAKING:
        place += minutes_of(workshop, HOLDING)
    if way.along is Along.MARKS:
        places = 1 if way.registration is Registration.MATE else need_marks
        marking = 0.0 if way.registration is Registration.MATE else minutes_of(workshop, "mark a connector")
        return places * place + need_marks * marking, need_marks * cut
    if way.per_metre and isinstance(shape, Channel):
        wide = side_passes(choice, shape)
        return place, cut * wide * length_mm / 1000
    return place, need_marks * cut


def side_passes(choice: Choice, shape: Channel) -> int:
    """Return how many passes beside each other a channel takes."""
    cutter = choice.cutter
    if cutter is None:
        return 1
    wide = cutter.width if cutter.kind is CutterKind.SAW_BLADE and cutter.width else cutter.diameter
    return max(1, -int(-(shape.width - 0.05) // wide))


def change_minutes(before: Setting | None, after: Setting, workshop: Workshop) -> float:
    """Return the minutes of changing from one setting to the next, trial joint left out.

    Counted from the one before only: a tool that was set earlier is taken to have been changed since.
    """
    same_tool = before is not None and before.tool == after.tool
    total = 0.0 if same_tool else minutes_of(workshop, "take up another tool")
    if after.registration is Registration.PROGRAM:
        return total if same_tool else total + minutes_of(workshop, "change the cutter")
    total += _cutter_change(before if same_tool else None, after, workshop)
    total += _guide_change(before if same_tool else None, after, workshop)
    return total


def _cutter_change(before: Setting | None, after: Setting, workshop: Workshop) -> float:
    total = 0.0
    loose = after.tool_kind in (ToolKind.HAND_DRILL, ToolKind.DRILL_PRESS, ToolKind.DRILL_JIG, ToolKind.POCKET_JIG)
    saw = after.tool_kind in (ToolKind.TABLE_SAW, ToolKind.TRACK_SAW)
    if after.tool_kind in (ToolKind.HAND_SAW, ToolKind.JIGSAW):  # nothing is set on them
        return total
    new_cutter = before is None or before.cutter != after.cutter
    if after.cutter and new_cutter and not (saw and before is None):
        total += minutes_of(
            workshop, "change the drill" if loose else "change the blade" if saw else "change the cutter"
        )
    if after.bush is not None and (before is None or before.bush != after.bush):
        total += minutes_of(workshop, "change the bush")
    if new_cutter or before is None or abs(before.plunge - after.plunge) > 1e-6 or before.through != after.through:
        total += minutes_of(workshop, "set the depth collar" if loose else "change the depth")
    return total


def _guide_change(before: Setting | None, after: Setting, workshop: Workshop) -> float:
    total = 0.0
    if after.jig and (before is None or before.jig != after.jig):
        total += minutes_of(workshop, "change the stop")
    by_fence = after.fence is not None and after.registration is Registration.EDGE
    if by_fence and (before is None or before.registration is not Registration.EDGE or before.fence != after.fence):
        total += minutes_of(workshop, "change the fence")
    wanted = after.packer.made if after.packer else 0.0
    had = before.packer.made if before and before.packer else 0.0
    if abs(wanted - had) > 1e-6 or (before is not None and before.packer_side is not after.packer_side):
        total += minutes_of(workshop, "change the stop")
    return total


def jig_minutes(workshop: Workshop, stations: int, *, pins: bool = False) -> float:
    """Return the minutes of making a jig with that many stations, or a pin template with that many holes."""
    if pins:
        each = minutes_of(workshop, "drill a hole of a pin template")
        return minutes_of(workshop, "make a pin template") + stations * each
    return minutes_of(workshop, "make a jig") + stations * minutes_of(workshop, "make a station of a jig")
