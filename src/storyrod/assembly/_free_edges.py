"""Edges of doors that end in the open, where nothing lies to see their height by: at openings with nothing between."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.assembly._words import called
from storyrod.measure.space import Axis
from storyrod.measure.tolerance import TOUCH
from storyrod.measure.writing import LengthWriter
from storyrod.model.carcass import BuiltCase
from storyrod.model.job import OuterSide
from storyrod.model.panel import Panel, Role

_FRONTS: Final = frozenset({Role.DOOR, Role.DRAWER_FRONT})


def free_edges(built: BuiltCase, door: Panel, lengths: LengthWriter) -> str:
    """Return how high the upper and lower edges of a door lie that meet no panel and no other front; "" for none."""
    return " ".join(_told(built, door, lengths))


def _told(built: BuiltCase, door: Panel, lengths: LengthWriter) -> Iterator[str]:
    fronts = built.case.fronts
    near = fronts.gap + max(fronts.outer(side, inset=False) for side in OuterSide) + TOUCH
    level = [p for p in built.panels if p.frame.into.axis is Axis.Z and _in_line(p, door)]
    others = [p for p in built.panels if p.role in _FRONTS and p.id != door.id and _in_line(p, door)]
    for edge, at in (("lower", door.box.low.z), ("upper", door.box.high.z)):
        met = any(p.box.low.z - near <= at <= p.box.high.z + near for p in level)
        met |= any(min(abs(p.box.low.z - at), abs(p.box.high.z - at)) <= near for p in others)
        below = [p for p in level if p.box.high.z < at]
        if not met and below:
            nearest = max(below, key=lambda p: p.box.high.z)
            over = lengths.told(at - nearest.box.high.z)
            yield f"Its {edge} edge ends in the open, {over} above {called(nearest.name)}."


def _in_line(panel: Panel, door: Panel) -> bool:
    """Return whether a panel of the carcass, or a front, lies behind, over or under a door."""
    if panel.role not in _FRONTS and panel.body != "carcass":
        return False
    low, high = door.box.span(Axis.X)
    return min(panel.box.high.x, high) - max(panel.box.low.x, low) > TOUCH
