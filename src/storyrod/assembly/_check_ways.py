"""For the checker alone: the way of a moving panel past a standing one, and of a joint to its close.

Nothing here is shared with the planner. A way is a list of vectors in the order in which it is gone, ending at home;
its first vector is so long that it begins in free air.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.measure.space import AXES, Axis, Box, Direction, Point
from storyrod.model.detail import JoinedCase
from storyrod.model.feature import Channel, Feature
from storyrod.model.joint import Joint
from storyrod.model.method import CutKind, CutPlace, Method, Motion
from storyrod.model.panel import Panel, PanelId

Way = tuple[Point, ...]

HAIR = 0.002
"""Panels that would share less than this do not touch in earnest (mm)."""

FREE_AIR = 20_000.0
"""Longer than any case: a way that begins so far out begins in free air (mm)."""


def vector(way: Direction, distance: float) -> Point:
    """Return a vector of `distance` mm in a direction."""
    return Point(0.0, 0.0, 0.0).with_(way.axis, way.sign * distance)


def reversed_way(way: Sequence[Point]) -> Way:
    """Return the same movement as seen from the moving part: what stands still seems to come the other way."""
    return tuple(Point(-v.x, -v.y, -v.z) for v in way)


def swept(box: Box, way: Sequence[Point]) -> Iterator[Box]:
    """Yield, for each leg, the room that a box takes up on its way home."""
    end = box
    for leg in reversed(way):
        start = end.moved(Point(-leg.x, -leg.y, -leg.z))
        low = [min(start.low.along(a), end.low.along(a)) for a in AXES]
        high = [max(start.high.along(a), end.high.along(a)) for a in AXES]
        yield Box(Point(*low), Point(*high))
        end = start


def meets(mover: Box, still: Box, rooms: Sequence[Box], way: Sequence[Point]) -> bool:
    """Return whether a panel on its way meets one that stands, outside the `rooms` cut into that one for it."""
    for room_taken in swept(mover, way):
        shared = room_taken.overlap(still)
        if shared is None or any(shared.size(a) <= HAIR for a in AXES):
            continue
        if not any(_holds(room, shared) for room in rooms):
            return True
    return False


def _holds(room: Box, shared: Box) -> bool:
    return all(
        room.low.along(a) <= shared.low.along(a) + HAIR and shared.high.along(a) <= room.high.along(a) + HAIR
        for a in AXES
    )


class Rooms:
    """The rooms cut into panels for others: grooves and rebates of the carcass, housings and rebates of joints."""

    def __init__(self, case: JoinedCase) -> None:
        self._cut: dict[PanelId, list[Box]] = {}
        by_id = {p.id: p for p in case.panels}
        for feature in case.fittings:
            if isinstance(feature.shape, Channel):
                self._cut.setdefault(feature.panel, []).append(
                    channel_box(by_id[feature.panel], feature, feature.shape)
                )
        for joint in case.joints:
            if joint.enters > 0:
                receiving, entering = by_id[joint.receiving].box, by_id[joint.entering].box
                shared = receiving.overlap(entering)
                if shared is not None and not any(_holds(r, shared) for r in self._all(joint)):
                    self._cut.setdefault(joint.receiving, []).append(shared)

    def _all(self, joint: Joint) -> list[Box]:
        return [*self._cut.get(joint.receiving, ()), *self._cut.get(joint.entering, ())]

    def in_panel(self, panel: PanelId) -> list[Box]:
        """Return the rooms cut into one panel."""
        return self._cut.get(panel, [])


def channel_box(panel: Panel, feature: Feature, shape: Channel) -> Box:
    """Return the room of a groove, housing or rebate in the case frame."""
    run = panel.frame.direction(shape.run).axis
    inward = panel.frame.direction(feature.surface.axis)
    into = inward.reverse if feature.surface.is_far else inward
    at = panel.frame.to_case(feature.at)
    across: Axis = next(a for a in AXES if a not in {run, into.axis})
    box = Box(at, at)
    box = box.with_span(run, at.along(run) - shape.length / 2, at.along(run) + shape.length / 2)
    box = box.with_span(across, at.along(across) - shape.width / 2, at.along(across) + shape.width / 2)
    ends = sorted((at.along(into.axis), at.along(into.axis) + into.sign * shape.depth))
    return box.with_span(into.axis, ends[0], ends[1])


def stands_in(joint: Joint, method: Method, thickness: float) -> float:
    """Return over how many mm, at the end of its way, a joint's panel is led by its connectors; 0 for plain faces."""
    size = method.size_for(thickness)
    if method.whole_line or method.held_by_screws or joint.motion is Motion.FREE or size is None:
        return 0.0
    led = {CutKind.HOLE, CutKind.SLOT, CutKind.SEGMENT_POCKET, CutKind.UNDERCUT_SLOT, CutKind.KEYHOLE}
    own = [c.depth or 0.0 for c in size.receiving if c.kind in led and c.place is CutPlace.JOINT]
    cam = any(c.place in {CutPlace.FACE_SIDE, CutPlace.FAR_FACE} for c in size.entering)
    if cam or not own:
        own += [c.depth or 0.0 for c in size.entering if c.kind in led and c.place is CutPlace.JOINT]
    return joint.enters + max(own, default=0.0)


def wrong_motion(joint: Joint, method: Method, thickness: float, way: Sequence[Point], lock: Direction | None) -> str:
    """Return what is wrong with the way of the entering panel to the close of its joint, or ""."""
    last = way[-1]
    if joint.motion is Motion.STRAIGHT_THEN_SLIDE:
        return _wrong_keyhole(joint, way, joint.travel or method.slide_travel, lock)
    if joint.motion is Motion.SLIDE:
        if lock is None or _along(last, lock) < joint.length - HAIR:
            return f"{joint.number} is not slid along its whole length"
        return ""
    led = stands_in(joint, method, thickness)
    if led > 0 and _along(last, joint.home) < led - HAIR:
        return f"{joint.number} is not brought straight home as far as it reaches in"
    return _wrong_stop(joint, method, thickness, way, lock)


def _wrong_keyhole(joint: Joint, way: Sequence[Point], travel: float, lock: Direction | None) -> str:
    if lock is None:
        return f"it is not told which way {joint.number} locks"
    if lock.axis is not joint.run.axis:
        return f"{joint.number} would lock {lock.word}, across its own line"
    if len(way) < 2 or abs(_along(way[-1], lock) - travel) > HAIR:
        return f"{joint.number} is not slid its travel {lock.word} at the end"
    if _along(way[-2], joint.home) <= 0:
        return f"{joint.number} is not entered straight before it is slid"
    return ""


def _wrong_stop(joint: Joint, method: Method, thickness: float, way: Sequence[Point], lock: Direction | None) -> str:
    """A stopped housing cannot be slid into from its stopped end."""
    size = method.size_for(thickness)
    if not method.whole_line or size is None or size.stop_short <= 0 or lock is None:
        return ""
    off_by = 0.0
    for leg in reversed(way):
        if off_by < joint.enters - HAIR and _along(leg, lock.reverse) > HAIR:
            return f"{joint.number} is slid in from the stopped end of its housing"
        off_by += max(0.0, _along(leg, joint.home))
    return ""


def _along(leg: Point, way: Direction) -> float:
    """Return the length of a leg that runs purely in a direction, or 0."""
    others = [leg.along(a) for a in AXES if a is not way.axis]
    return way.sign * leg.along(way.axis) if all(abs(o) <= HAIR for o in others) else 0.0
