"""How much of a place in a panel is seen once the case is together: 0 nothing, 3 from the front at once."""

from __future__ import annotations

from typing import Final

from storyrod.measure.space import AXES, Direction, PanelPoint
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Panel, Role, Surface

_HIDDEN: Final = {Role.PLINTH, Role.BACK, Role.DRAWER_BACK, Role.DRAWER_BOTTOM}
"""Panels of which only the face side is looked at."""

REACH: Final = 6.0
"""A place nearer to a joint's patch than this (mm) is covered by it, or in its shade."""


def seen_at(case: DetailedCase, panel: Panel, surface: Surface, at: PanelPoint) -> int:
    """Return how much a place of a panel's surface is seen; common practice, no source."""
    place = panel.frame.to_case(at)
    for joint in case.joints:
        is_own = (joint.receiving, joint.receiving_surface) == (panel.id, surface)
        is_own = is_own or (joint.entering, joint.entering_surface) == (panel.id, surface)
        box = joint.contact
        if is_own and all(box.low.along(a) - REACH <= place.along(a) <= box.high.along(a) + REACH for a in AXES):
            return 0
    way = panel.frame.direction(surface.axis)
    way = way if surface.is_far else way.reverse
    if way is Direction.FORWARD:
        return 3
    if way is Direction.BACKWARD or (surface is Surface.FAR_FACE and panel.role in _HIDDEN):
        return 0
    if way is Direction.DOWN:
        return 0 if panel.role is Role.BASE else 1
    return 2 if _is_outside(case, panel, way) else 1


def _is_outside(case: DetailedCase, panel: Panel, way: Direction) -> bool:
    own = panel.box.span(way.axis)
    spans = [p.box.span(way.axis) for p in case.panels if p.body == "carcass"]
    if not spans:
        return False
    return own[1] >= max(s[1] for s in spans) if way.sign > 0 else own[0] <= min(s[0] for s in spans)
