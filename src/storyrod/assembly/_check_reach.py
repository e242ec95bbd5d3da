"""For the checker alone: whether a driver and a hand come to every screw, and what holds the top of what stands tall.

Nothing here is shared with the planner but the size of the tools.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from storyrod.measure.space import AXES, Axis, Box, Direction, PanelAxis, Point
from storyrod.model.hand_room import AT_TOP, ROOM, TALL, Driver
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Cut, CutKind, CutPlace, Method
from storyrod.model.panel import Panel, PanelId, Role

HAIR = 0.002
"""Rooms that share less than this do not meet in earnest (mm)."""


def driven_cut(method: Method, thickness: float) -> Cut | None:
    """Return the cut to which a driver comes, or None where nothing is driven or turned."""
    size = method.size_for(thickness)
    if size is None:
        return None
    outside = [c for c in size.receiving if c.place is CutPlace.OUTSIDE]
    in_face = [c for c in size.entering if c.place in {CutPlace.FACE_SIDE, CutPlace.FAR_FACE}]
    return next(iter([*outside, *in_face]), None)


def is_driven(method: Method, thickness: float) -> bool:
    """Return whether a joint's screws are driven, or its cams turned, when it closes."""
    return method.held_by_screws or driven_cut(method, thickness) is not None


def wrong_reach(
    joint: Joint,
    method: Method,
    panels: Mapping[PanelId, Panel],
    group: frozenset[PanelId],
    down: Direction,
    driver: Driver,
) -> str:
    """Return what keeps a driver from a joint's screws while `group` is together and lies so, or ""."""
    entering, receiving = panels[joint.entering], panels[joint.receiving]
    cut = driven_cut(method, min(entering.thickness, receiving.thickness))
    out = joint.home if cut is None or cut.place is CutPlace.OUTSIDE else _face_way(entering, cut.place)
    owner = receiving if cut is None or cut.place is CutPlace.OUTSIDE else entering
    for room in _rooms(joint, cut, out, _end(owner.box, out), driver):
        for other in sorted(group - {joint.entering, joint.receiving}):
            shared = room.overlap(panels[other].box)
            if shared is not None and all(shared.size(a) > HAIR for a in AXES):
                return f"{panels[other].name} is in the way of the {driver.value} at {joint.number}"
        if out is down and _beyond(room, [panels[p].box for p in group], down):
            return f"the {driver.value} would have to come to {joint.number} through the bench"
    return ""


def _face_way(panel: Panel, place: CutPlace) -> Direction:
    """Return the way that a panel's face looks: the hidden one is a drawer box front's face side."""
    inward = panel.frame.direction(PanelAxis.W)
    hidden = place is CutPlace.FAR_FACE
    if panel.role is Role.DRAWER_BOX_FRONT:
        hidden = not hidden
    return inward if hidden else inward.reverse


def _end(box: Box, way: Direction) -> float:
    low, high = box.span(way.axis)
    return high if way.sign > 0 else low


def _rooms(joint: Joint, cut: Cut | None, out: Direction, face: float, driver: Driver) -> Iterator[Box]:
    """Yield the boxes that the driver takes up at every station of a joint."""
    low, high = joint.contact.span(joint.run.axis)
    places = [joint.start + joint.run.sign * s for s in joint.stations] or [low, (low + high) / 2, high]
    slope = math.radians(cut.angle_deg or 0.0) if cut is not None and cut.kind is CutKind.ANGLED_POCKET else None
    for place in places:
        middle = joint.contact.centre.with_(joint.run.axis, place)
        for piece in ROOM[driver]:
            spans = {a: (middle.along(a) - piece.half, middle.along(a) + piece.half) for a in AXES}
            spans[out.axis] = _from(face, out, piece.near, piece.far)
            if slope is not None:
                back = joint.home.reverse
                run = (piece.near * math.cos(slope), piece.far * math.cos(slope))
                spans[back.axis] = _from(middle.along(back.axis), back, *run)
                rise = (piece.near * math.sin(slope) - piece.half, piece.far * math.sin(slope) + piece.half)
                spans[out.axis] = _from(face, out, max(0.0, rise[0]), rise[1])
            elif cut is not None and cut.place is not CutPlace.OUTSIDE:
                at = middle.along(joint.home.axis) - joint.home.sign * (cut.inset or 0.0)
                spans[joint.home.axis] = (at - piece.half, at + piece.half)
            yield Box(Point(*(spans[a][0] for a in AXES)), Point(*(spans[a][1] for a in AXES)))


def _from(at: float, way: Direction, near: float, far: float) -> tuple[float, float]:
    one, other = at + way.sign * near, at + way.sign * far
    return min(one, other), max(one, other)


def _beyond(room: Box, boxes: Sequence[Box], down: Direction) -> bool:
    """Return whether a room reaches below everything that lies on the bench."""
    if down.sign < 0:
        return room.low.along(down.axis) < min(b.low.along(down.axis) for b in boxes) - HAIR
    return room.high.along(down.axis) > max(b.high.along(down.axis) for b in boxes) + HAIR


def unheld(
    panels: Mapping[PanelId, Panel],
    joints: Sequence[Joint],
    group: frozenset[PanelId],
    closed: Mapping[JointId, int],
    down: Direction,
) -> Iterator[Panel]:
    """Yield every panel of a group that stands tall with nothing at its top."""
    for panel_id in sorted(group):
        panel = panels[panel_id]
        if panel.box.size(down.axis) <= TALL:
            continue
        own = [j for j in joints if panel_id in {j.entering, j.receiving}]
        heights = {j.id: _height(panel, j, down.axis, down) for j in own}
        top = max(heights.values(), default=0.0)
        if not any(j.id in closed and {j.entering, j.receiving} <= group for j in own if heights[j.id] >= top - AT_TOP):
            yield panel


def _height(panel: Panel, joint: Joint, axis: Axis, down: Direction) -> float:
    """Return how high over the panel's foot a joint meets it: its lower end, but for a back its upper end."""
    low, high = panel.box.span(axis)
    near, far = joint.contact.span(axis)
    ends = (near - low, far - low) if down.sign < 0 else (high - far, high - near)
    return max(ends) if panel.role is Role.BACK else min(ends)
