"""Minutes of single acts, from the workshop's own times."""

from __future__ import annotations

from typing import Final

from storyrod.machining._ways import Choice
from storyrod.model.act import Act
from storyrod.model.feature import Channel
from storyrod.model.machining import HoldKind, Setting
from storyrod.model.workshop import Along, CutterKind, Registration, ToolKind, Workshop

MAKING: Final = {
    HoldKind.BOARD: Act.CUT_GUARD_BOARDS,
    HoldKind.BACKING: Act.CUT_GUARD_BOARDS,
    HoldKind.TROUGH: Act.MAKE_HOLDING_TROUGH,
}
"""The act of `times` that making each way of holding takes; clamps alone take none."""

_LOOSE_BITS: Final = (CutterKind.DRILL, CutterKind.COUNTERSINK, CutterKind.STEPPED)


def minutes_of(workshop: Workshop, act: str) -> float:
    """Return the usual minutes of an act; 0 for none, as a way may take no time to place.

    Raises:
        JobError: the workshop has no minutes for it.
    """
    return workshop.minutes(act) if act else 0.0


def place_and_cut(
    choice: Choice, need_marks: int, shape: object, length_mm: float, workshop: Workshop
) -> tuple[float, float]:
    """Return the minutes of placing a way for one line of cuts, and of cutting it, once."""
    way = choice.way
    place, cut = minutes_of(workshop, way.place_act), minutes_of(workshop, way.cut_act)
    if choice.hold in MAKING:
        place += minutes_of(workshop, Act.HOLD_NARROW_PART)
    if way.along is Along.MARKS:
        places = 1 if way.registration is Registration.MATE else need_marks
        marking = 0.0 if way.registration is Registration.MATE else minutes_of(workshop, Act.MARK_CONNECTOR)
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
    total = 0.0 if same_tool else minutes_of(workshop, Act.TAKE_UP_TOOL)
    if after.registration is Registration.PROGRAM:
        return total if same_tool else total + minutes_of(workshop, Act.CHANGE_CUTTER)
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
        total += minutes_of(workshop, Act.CHANGE_DRILL if loose else Act.CHANGE_BLADE if saw else Act.CHANGE_CUTTER)
    if after.bush is not None and (before is None or before.bush != after.bush):
        total += minutes_of(workshop, Act.CHANGE_BUSH)
    if new_cutter or before is None or abs(before.plunge - after.plunge) > 1e-6 or before.through != after.through:
        total += minutes_of(workshop, Act.SET_DEPTH_COLLAR if loose else Act.CHANGE_DEPTH)
    return total


def _guide_change(before: Setting | None, after: Setting, workshop: Workshop) -> float:
    total = 0.0
    if after.jig and (before is None or before.jig != after.jig):
        total += minutes_of(workshop, Act.CHANGE_STOP)
    by_fence = after.fence is not None and after.registration is Registration.EDGE
    if by_fence and (before is None or before.registration is not Registration.EDGE or before.fence != after.fence):
        total += minutes_of(workshop, Act.CHANGE_FENCE)
    wanted = after.packer.made if after.packer else 0.0
    had = before.packer.made if before and before.packer else 0.0
    if abs(wanted - had) > 1e-6 or (before is not None and before.packer_side is not after.packer_side):
        total += minutes_of(workshop, Act.CHANGE_STOP)
    return total


def jig_minutes(workshop: Workshop, stations: int, *, pins: bool = False) -> float:
    """Return the minutes of making a jig with that many stations, or a pin template with that many holes."""
    if pins:
        each = minutes_of(workshop, Act.DRILL_PIN_TEMPLATE)
        return minutes_of(workshop, Act.MAKE_PIN_TEMPLATE) + stations * each
    return minutes_of(workshop, Act.MAKE_JIG) + stations * minutes_of(workshop, Act.MAKE_JIG_STATION)
