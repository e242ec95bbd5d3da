"""Where a driver and the hand on it must come: before each screw while it is driven, before each cam that is turned.

The room is a block along the screw's axis, from its head outward. Another panel in it, or the bench, and the screw can
not be driven.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from storyrod.assembly import _points as points
from storyrod.assembly._shapes import NUMBER, Block, common
from storyrod.assembly._ties import Tie
from storyrod.measure.space import Direction, PanelAxis
from storyrod.model.hand_room import ROOM, Driver, Room
from storyrod.model.method import Cut, CutKind, CutPlace, Method, SizeForBoard
from storyrod.model.panel import Panel, Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """What a joint's screws or cams ask for.

    Attributes:
        way: the direction, seen from the heads, in which the driver stands.
        level: where the heads are along it (the way's axis, mm).
        high: how much room the driver takes over the face that the heads are in, by driver.
        blockers: the panels that stand in the room of some screw, by driver.
    """

    way: int
    level: float
    high: dict[Driver, float]
    blockers: dict[Driver, int]

    @property
    def locking(self) -> int:
        """The panels of which each must be away while the screws are driven: not even the shortest driver comes by."""
        return self.blockers[Driver.SHORT]

    def points(self, group: int) -> int:
        """Return the points of driving the screws while a group is together, the bench left out."""
        if not self.blockers[Driver.DRILL] & group:
            return 0
        return points.NO_DRIVER if self.blockers[Driver.SHORT] & group else points.SHORT_DRIVER

    def points_over(self, group: int, floor: float) -> int:
        """Return the same while the heads look down; `floor` is how high the floor is, measured upward."""
        over = (self.level if self.way & 1 else -self.level) - floor
        if over < self.high[Driver.SHORT]:
            return points.NO_DRIVER
        return max(self.points(group), points.SHORT_DRIVER if over < self.high[Driver.DRILL] else 0)

    def driver(self, group: int, floor: float, down: int) -> Driver | None:
        """Return the driver that comes at every head while a group is together and lies so; none where none does."""
        cost = self.points_over(group, floor) if down == self.way else self.points(group)
        return {0: Driver.DRILL, points.SHORT_DRIVER: Driver.SHORT}.get(cost)


def reach_of(
    tie: Tie, method: Method, size: SizeForBoard | None, panels: Sequence[Panel], blocks: Sequence[Block]
) -> Reach | None:
    """Return where the driver must come for a joint, or None where nothing is driven or turned."""
    cut = _driven_at(size)
    if cut is None and not method.held_by_screws:
        return None
    if cut is None or cut.place is CutPlace.OUTSIDE:
        way, level = tie.home, _face(blocks[tie.receiving], tie.home)
        rooms = {d: [_along(at, way, level, room) for at in _stations(tie) for room in ROOM[d]] for d in Driver}
        high = {d: ROOM[d][-1].far for d in Driver}
    else:
        way = NUMBER[_outward(panels[tie.entering], cut.place)]
        level = _face(blocks[tie.entering], way)
        rooms = {
            d: [_over_face(tie, at, way, level, room, cut) for at in _stations(tie) for room in ROOM[d]] for d in Driver
        }
        high = {d: _height(ROOM[d][-1], cut)[1] for d in Driver}
    own = 1 << tie.entering | 1 << tie.receiving
    blockers = {d: _met(rooms[d], blocks) & ~own for d in Driver}
    return Reach(way=way, level=level, high=high, blockers=blockers)


def _driven_at(size: SizeForBoard | None) -> Cut | None:
    """Return the cut that a driver comes to: a clearance hole from outside, a pocket, or a cam's hole."""
    if size is None:
        return None
    found = [c for c in size.receiving if c.place is CutPlace.OUTSIDE]
    found += [c for c in size.entering if c.place in {CutPlace.FACE_SIDE, CutPlace.FAR_FACE}]
    return found[0] if found else None


def _outward(panel: Panel, place: CutPlace) -> Direction:
    """Return where the face looks in which a panel's pockets or cams are cut: a drawer's box front is turned round."""
    far = (place is CutPlace.FAR_FACE) != (panel.role is Role.DRAWER_BOX_FRONT)
    into = panel.frame.direction(PanelAxis.W)
    return into if far else into.reverse


def _face(block: Block, way: int) -> float:
    return block[way >> 1] if way & 1 else block[(way >> 1) + 3]


def _stations(tie: Tie) -> list[tuple[float, float, float]]:
    """Return the middle of the joint's patch at each station; where it has none, at both ends and in the middle."""
    joint = tie.joint
    axis = joint.run.axis
    middle = joint.contact.centre
    low, high = joint.contact.span(axis)
    alongs = [joint.start + joint.run.sign * s for s in joint.stations] or [low, (low + high) / 2, high]
    placed = [middle.with_(axis, at) for at in alongs]
    return [(p.x, p.y, p.z) for p in placed]


def _along(at: tuple[float, float, float], way: int, level: float, room: Room) -> Block:
    """Return the room of a driver that stands straight out from a head at `level`."""
    low, high = [v - room.half for v in at], [v + room.half for v in at]
    sign = -1 if way & 1 else 1
    return _between(low, high, way, level + sign * room.near, level + sign * room.far)


def _over_face(tie: Tie, at: tuple[float, float, float], way: int, level: float, room: Room, cut: Cut) -> Block:
    """Return the room of a driver over a face of the entering panel, before a pocket or over a cam."""
    low, high = [v - room.half for v in at], [v + room.half for v in at]
    back, sign = tie.home >> 1, -1 if tie.home & 1 else 1
    if cut.kind is CutKind.ANGLED_POCKET:
        lean = math.cos(math.radians(cut.angle_deg or 0.0))
        low[back], high[back] = sorted(at[back] - sign * reach * lean for reach in (room.near, room.far))
    else:
        middle = at[back] - sign * (cut.inset or 0.0)
        low[back], high[back] = middle - room.half, middle + room.half
    up = -1 if way & 1 else 1
    near, far = _height(room, cut)
    return _between(low, high, way, level + up * near, level + up * far)


def _height(room: Room, cut: Cut) -> tuple[float, float]:
    """Return from where to where a piece of the driver's room reaches over the face."""
    if cut.kind is not CutKind.ANGLED_POCKET:
        return room.near, room.far
    lean = math.sin(math.radians(cut.angle_deg or 0.0))
    return max(0.0, room.near * lean - room.half), room.far * lean + room.half


def _between(low: list[float], high: list[float], way: int, one: float, other: float) -> Block:
    axis = way >> 1
    low[axis], high[axis] = min(one, other), max(one, other)
    return (low[0], low[1], low[2], high[0], high[1], high[2])


def _met(rooms: Iterable[Block], blocks: Sequence[Block]) -> int:
    found = 0
    for room in rooms:
        for number, block in enumerate(blocks):
            if common(room, block) is not None:
                found |= 1 << number
    return found
