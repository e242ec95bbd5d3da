"""A plain search over every way of putting a body together, without bounds and without the planner's tables.

What stops what is asked of the checker's own code, pair by pair. Only the points of a step and of how a group rests
are the planner's: they are the question, not the answer.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from itertools import product

from storyrod.assembly import _points as points
from storyrod.assembly._check_reach import is_driven, wrong_reach
from storyrod.assembly._check_ways import FREE_AIR, Rooms, Way, meets, reversed_way, stands_in, vector, wrong_motion
from storyrod.assembly._groups import Groups
from storyrod.assembly._ties import Hold, Tie
from storyrod.measure.space import Axis, Direction, Point
from storyrod.model.detail import JoinedCase
from storyrod.model.hand_room import Driver
from storyrod.model.joint import Joint, JointId
from storyrod.model.method import Method, Motion
from storyrod.model.panel import Panel
from tests.unit.assembly.pieces import METHODS

WAYS = (
    Direction.RIGHT,
    Direction.LEFT,
    Direction.BACKWARD,
    Direction.FORWARD,
    Direction.UP,
    Direction.DOWN,
)
NEVER = 10**8
NO_DRIVER = 500

Locks = Mapping[JointId, Direction]


class Passing:
    """Which panel can come home past which, by boxes alone: the same for every choice of locks."""

    def __init__(self, case: JoinedCase, methods: Mapping[str, Method] = METHODS) -> None:
        self.case = case
        self.methods = methods
        self.ways = list(_ways(case, methods))
        rooms = Rooms(case)
        self.clear = {
            (a, b, n): _clear(one, other, rooms, way)
            for n, way in enumerate(self.ways)
            for a, one in enumerate(case.panels)
            for b, other in enumerate(case.panels)
            if a != b
        }


def _ways(case: JoinedCase, methods: Mapping[str, Method]) -> Iterator[Way]:
    """Yield every movement home: straight, or with a last leg as long as some joint asks for."""
    lengths = set()
    for joint in case.joints:
        led = stands_in(joint, methods[joint.method], 18.0) or joint.enters
        for length in (led, joint.travel, joint.length if joint.motion is Motion.SLIDE else 0.0):
            if length > 0:
                lengths.add(round(length, 3))
    for first in WAYS:
        yield (vector(first, FREE_AIR),)
        for last in WAYS:
            if last.axis is not first.axis:
                for length in sorted(lengths):
                    yield (vector(first, FREE_AIR), vector(last, length))


def _clear(mover: Panel, still: Panel, rooms: Rooms, way: Way) -> bool:
    return not meets(mover.box, still.box, rooms.in_panel(still.id), way) or not meets(
        still.box, mover.box, rooms.in_panel(mover.id), reversed_way(way)
    )


class Brute:
    """One body with its locks given; `groups` has the same panels in the same order."""

    def __init__(self, passing: Passing, groups: Groups, locks: Locks) -> None:
        self.groups = groups
        self.locks = locks
        self.methods = passing.methods
        self.ways = passing.ways
        self.panels, self.joints = passing.case.panels, passing.case.joints
        self.free = dict(passing.clear)
        place = {p.id: i for i, p in enumerate(passing.case.panels)}
        for joint in passing.case.joints:
            entering, receiving = place[joint.entering], place[joint.receiving]
            for n, way in enumerate(self.ways):
                self.free[entering, receiving, n] &= not self._wrong(joint, way)
                self.free[receiving, entering, n] &= not self._wrong(joint, reversed_way(way))

    def _wrong(self, joint: Joint, way: Way) -> str:
        return wrong_motion(joint, self.methods[joint.method], 18.0, way, self.locks.get(joint.id))

    def exists(self, group: int) -> bool:
        """Whether the group can be put together at all, any two parts moving, joined or not."""

        @cache
        def can(whole: int) -> bool:
            if not whole & (whole - 1):
                return True
            return any(
                self._comes(m, whole & ~m)
                and any(self._drives(m, whole & ~m, down) < NO_DRIVER for down in range(6))
                and can(m)
                and can(whole & ~m)
                for m in _parts(whole)
            )

        return can(group)

    def _comes(self, mover: int, base: int) -> list[int]:
        return [n for n in range(len(self.ways)) if all(self.free[a, b, n] for a in _bits(mover) for b in _bits(base))]

    @cache  # noqa: B019 - one brute lives as long as its test
    def _drives(self, mover: int, base: int, down: int) -> int:
        """The points for driving the screws that close, asked of the checker's own code."""
        joined = frozenset(self.panels[i].id for i in _bits(mover | base))
        by_id = {p.id: p for p in self.panels}
        cost = 0
        for joint in self.joints:
            ends = {joint.entering, joint.receiving}
            if not ends <= joined or not all(ends & {self.panels[i].id for i in _bits(g)} for g in (mover, base)):
                continue
            method = self.methods[joint.method]
            if is_driven(method, min(by_id[p].thickness for p in ends)):
                wrong = [wrong_reach(joint, method, by_id, joined, WAYS[down], driver) for driver in Driver]
                cost += 0 if not wrong[0] else 3 if not wrong[1] else NO_DRIVER
        return cost

    def least(self, group: int) -> int:
        """Return the least points of an order that ends upright, groups being whole."""
        down = WAYS.index(Direction.DOWN)
        return self._stand(group)[down]

    @cache  # noqa: B019 - one brute lives as long as its test
    def _stand(self, group: int) -> tuple[int, ...]:
        groups = self.groups
        if not group & (group - 1):
            return tuple(groups.rest_points(group, d) for d in range(6))
        built = self._build(group)
        return tuple(
            min(
                built[was] + (0 if was == d else groups.turn_points(group, was, d) + groups.rest_points(group, d))
                for was in range(6)
            )
            for d in range(6)
        )

    def _build(self, group: int) -> list[int]:
        best = [NEVER] * 6
        for mover in _parts(group):
            base = group & ~mover
            if not (self.groups.is_whole(mover) and self.groups.is_whole(base)):
                continue
            for n in self._comes(mover, base):
                for down in range(6):
                    cost = self._step(mover, base, self.ways[n], down) + self.groups.rest_points(group, down)
                    if mover & (mover - 1):
                        cost += self._stand(mover)[down]
                    best[down] = min(best[down], cost + self._stand(base)[down])
        return best

    def _step(self, mover: int, base: int, way: Way, down: int) -> int:
        """The points of one step, written out again from `docs/assembly.md`."""
        groups = self.groups
        closing = groups.closing(mover, base)
        ties = [t for t in groups.body.ties if closing >> t.number & 1]
        fits = [t for t in ties if not t.screws]
        cost = len(fits) * (len(fits) - 1)
        cost += sum(1 for t in ties if _is_held(t))
        cost += 6 * (groups.persons(mover) - 1)
        if mover & (mover - 1) and base & (base - 1):
            cost += 2
        backs = [t for t in groups.body.ties if t.screws and t.joint.kind.value == "back"]
        if any(t in backs for t in ties) and any(
            not ((mover | base) >> t.entering & 1 and (mover | base) >> t.receiving & 1) for t in backs
        ):
            cost += 8
        if any(t.glue for t in ties):
            cost += points.over_open_time(groups.glue_min(closing), groups.handling.open_time_min)
        cost += self._drives(mover, base, down)
        cost += 1 if len(way) > 1 else 0
        slides = [t for t in ties if t.joint.motion in {Motion.STRAIGHT_THEN_SLIDE, Motion.SLIDE}]
        for tie in slides:
            cost += {Direction.UP: 6, Direction.FORWARD: 3}.get(self.locks[tie.joint.id], 0)
        floor = WAYS[down]
        legs = [_direction(leg) for leg in way]
        comes = [_coming(leg, floor) for leg in legs]
        if slides:
            cost += comes[0] + (2 if len(legs) > 1 and legs[1] is floor.reverse else 0)
        else:
            cost += max(comes)
        return cost


def _is_held(tie: Tie) -> bool:
    return tie.screws or (tie.clamps and tie.hold is Hold.PLAIN)


def _coming(way: Direction, floor: Direction) -> int:
    return 0 if way is floor else 12 if way is floor.reverse else 6


def _direction(leg: Point) -> Direction:
    axis = next(a for a in Axis if abs(leg.along(a)) > 0)
    return Direction(f"{'+' if leg.along(axis) > 0 else '-'}{axis.value}")


def _parts(group: int) -> Iterator[int]:
    part = (group - 1) & group
    while part:
        yield part
        part = (part - 1) & group


def _bits(group: int) -> Iterator[int]:
    return (i for i in range(group.bit_length()) if group >> i & 1)


def consistent_locks(case: JoinedCase) -> Iterator[Locks]:
    """Yield every choice of locks in which slots that share a panel and a line agree."""
    sliding = [j for j in case.joints if j.motion in {Motion.STRAIGHT_THEN_SLIDE, Motion.SLIDE}]
    for chosen in all_locks(case):
        if all(
            chosen[a.id] is chosen[b.id]
            for a in sliding
            for b in sliding
            if a.run.axis is b.run.axis and {a.entering, a.receiving} & {b.entering, b.receiving}
        ):
            yield chosen


def all_locks(case: JoinedCase) -> Iterator[Locks]:
    """Yield every choice of locks."""
    sliding = [j for j in case.joints if j.motion in {Motion.STRAIGHT_THEN_SLIDE, Motion.SLIDE}]
    for chosen in product(*((j.run, j.run.reverse) for j in sliding)):
        yield {j.id: lock for j, lock in zip(sliding, chosen, strict=True)}
