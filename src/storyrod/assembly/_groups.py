"""Groups of panels of a body: what is inside them, how they rest, what turning them does."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Final

from storyrod.assembly import _points as points
from storyrod.assembly._body import Body
from storyrod.assembly._ties import Hold, Tie
from storyrod.model.glue_time import CLAMP_S, CONNECTOR_S
from storyrod.model.hand_room import AT_TOP, TALL, Driver
from storyrod.model.joint import JointKind
from storyrod.model.panel import Role
from storyrod.model.workshop import Handling

FLAT: Final = 0.5
"""Panels whose lowest faces differ by no more than this stand on the same floor (mm)."""


@lru_cache(maxsize=1 << 14)
def bits(group: int) -> tuple[int, ...]:
    """Return the numbers of the panels in a group; kept, since a search asks for the same few groups all the time."""
    found = []
    while group:
        low = group & -group
        found.append(low.bit_length() - 1)
        group ^= low
    return tuple(found)


class Groups:
    """Answers about the groups of one body, each worked out once."""

    def __init__(self, body: Body, handling: Handling) -> None:
        self.body = body
        self.handling = handling
        count = len(body.panels)
        self._ties_of = [0] * count
        self.joined_to = [0] * count
        for tie in body.ties:
            for panel, mate in ((tie.entering, tie.receiving), (tie.receiving, tie.entering)):
                self._ties_of[panel] |= 1 << tie.number
                self.joined_to[panel] |= 1 << mate
        self.fitting_ties = _mask(t.number for t in body.ties if not (t.hold is Hold.PLAIN and t.screws))
        self._fits = [0] * count
        for tie in body.ties:
            if self.fitting_ties >> tie.number & 1:
                self._fits[tie.entering] |= 1 << tie.receiving
                self._fits[tie.receiving] |= 1 << tie.entering
        self._pairs = _pairs(body, self._fits)
        self._met: dict[tuple[int, int, int], int] = {}
        self._pair = [(1 << t.entering) | (1 << t.receiving) for t in body.ties]
        self.held_ties = _mask(t.number for t in body.ties if t.screws or (t.hold is Hold.PLAIN and t.clamps))
        self._glue_s = _glue_seconds(body)
        self.glued_ties = _mask(t.number for t in body.ties if t.glue)
        self.sliding_ties = _mask(t.number for t in body.ties if t.hold in {Hold.KEYHOLE, Hold.SLIDE})
        self.back_ties = _mask(t.number for t in body.ties if t.screws and t.joint.kind is JointKind.BACK)
        self.driven_ties = _mask(n for n, reach in enumerate(body.reaches) if reach is not None)
        self._tall = [_tall(body, way) for way in range(6)]
        self._lockable = any(reach is not None and reach.locking for reach in body.reaches)
        self._locked: dict[int, tuple[int, ...] | None] = {}
        self._settled = [_settled_points(t) for t in body.ties]
        self._opposite = [_mask(t.opposite) for t in body.ties]
        self._lying = [_lying(body, way) for way in range(6)]
        self._thin = [_thin_axis(body, i) for i in range(count)]
        self._inside: dict[int, int] = {0: 0}
        self._whole: dict[int, bool] = {}
        self._mass: dict[int, float] = {0: 0.0}
        self._floor: dict[tuple[int, int], float] = {}
        self._rest: dict[tuple[int, int], int] = {}
        self._loose: dict[int, int] = {}
        self._lower: dict[int, int] = {}
        self._fast: dict[int, list[int]] = {}
        self._glue_min: dict[int, float] = {}

    def inside(self, group: int) -> int:
        """Return the joints that have both panels in the group."""
        found = self._inside.get(group)
        if found is None:
            low = group & -group
            rest = group ^ low
            panel = low.bit_length() - 1
            found = self.inside(rest)
            if self.joined_to[panel] & rest:
                for number in bits(self._ties_of[panel]):
                    if self._pair[number] & ~group == 0:
                        found |= 1 << number
            self._inside[group] = found
        return found

    def closing(self, one: int, other: int) -> int:
        """Return the joints that close when two groups come together."""
        return self.inside(one | other) & ~self.inside(one) & ~self.inside(other)

    def is_made(self, group: int) -> bool:
        """Return whether nothing is left to do for a group: a single panel, or panels that came together."""
        return not group & (group - 1) or group in self.body.kept

    def is_whole(self, group: int) -> bool:
        """Return whether joints hold the group together in one piece."""
        known = self._whole.get(group)
        if known is None:
            known = self.piece(group) == group
            self._whole[group] = known
        return known

    def joined_to_any(self, group: int) -> int:
        """Return the panels that are joined to some panel of a group."""
        found = 0
        for panel in bits(group):
            found |= self.joined_to[panel]
        return found

    def piece(self, group: int) -> int:
        """Return the part of a group that joints hold to its first panel."""
        seen = edge = group & -group
        while edge:
            edge = self.joined_to_any(edge) & group & ~seen
            seen |= edge
        return seen

    def mass_kg(self, group: int) -> float:
        """Return the mass of a group."""
        found = self._mass.get(group)
        if found is None:
            found = self._mass[group] = sum(self.body.mass_kg[i] for i in bits(group))
        return found

    def persons(self, group: int) -> int:
        """Return how many it takes to lift a group."""
        return points.persons_for(self.mass_kg(group), self.handling.one_person_kg)

    def glue_min(self, joints: int) -> float:
        """Return the minutes to glue and clamp these joints: rule of thumb, 20 s a connector, 60 s a clamp."""
        if joints not in self._glue_min:
            seconds = 0.0
            for number in bits(joints & self.glued_ties):
                seconds += _seconds(self.body.ties[number])
            self._glue_min[joints] = seconds / 60
        return self._glue_min[joints]

    def loose(self, group: int) -> int:
        """Return the joints inside a group that are not fast.

        A glued or plain joint counts as fast only when the joint at the other end of its panel is closed too, since a
        clamp then bears on both; a joint without glue, screws or a lock of its own never does.
        """
        found = self._loose.get(group)
        if found is None:
            found = 0
            inside = self.inside(group)
            for number in bits(inside):
                tie = self.body.ties[number]
                waits = self._opposite[number] & ~inside
                if not tie.fast and (waits or not (tie.glue or tie.clamps)):
                    found |= 1 << number
            self._loose[group] = found
        return found

    def waiting(self, group: int) -> int:
        """Return the glued joints inside a group on which no clamp bears yet."""
        inside = self.inside(group)
        return _mask(n for n in bits(inside & self.glued_ties) if self._opposite[n] & ~inside)

    def resting(self, group: int, down: int) -> int:
        """Return the panels of a group that touch the floor when it rests that way."""
        lying = self._lying[down]
        lowest = min(lying[i] for i in bits(group))
        return _mask(i for i in bits(group) if lying[i] <= lowest + FLAT)

    def rest_points(self, group: int, down: int) -> int:
        """Return the points of trouble when a group rests that way: what hangs, falls over or totters."""
        key = (group, down)
        found = self._rest.get(key)
        if found is None:
            hanging = (group & ~self._kept_up(group, down)).bit_count() if not self.is_made(group) else 0
            found = points.HANGS * hanging + self.footing_points(group, down)
            found += points.TOP_NOT_HELD * len(self.not_held(group, down))
            self._rest[key] = found
        return found

    def not_held(self, group: int, down: int) -> tuple[int, ...]:
        """Return the tall panels of a group that stand with nothing at their top to hold them."""
        inside = self.inside(group)
        return tuple(panel for panel, holding in self._tall[down] if group >> panel & 1 and not inside & holding)

    def locked(self, group: int) -> tuple[int, ...] | None:
        """Return what `Body.locked` does, worked out once for each group."""
        if not self._lockable:
            return None
        if group not in self._locked:
            self._locked[group] = self.body.locked(group)
        return self._locked[group]

    def driver(self, number: int, group: int, down: int) -> Driver | None:
        """Return the driver that comes to a joint's screws while a group is together and lies so; none if none does."""
        reach = self.body.reaches[number]
        return Driver.DRILL if reach is None else reach.driver(group, self.floor(group, down), down)

    def driver_points(self, closing: int, group: int) -> list[int]:
        """Return the points for driving the screws, and turning the cams, of the joints that close in a step.

        One figure for each of the six ways of lying: only where the heads look down does the bench come into it.
        """
        everywhere, found = 0, [0] * 6
        for number in bits(closing & self.driven_ties):
            reach = self.body.reaches[number]
            if reach is None:
                continue
            usual = reach.points(group)
            everywhere += usual
            found[reach.way] += reach.points_over(group, self.floor(group, reach.way)) - usual
        return [everywhere + f for f in found]

    def floor(self, group: int, down: int) -> float:
        """Return how high the floor is on which a group rests, when that way is down."""
        key = (group, down)
        found = self._floor.get(key)
        if found is None:
            lying = self._lying[down]
            found = self._floor[key] = min([lying[i] for i in bits(group)])
        return found

    def _kept_up(self, group: int, down: int) -> int:
        """Return the panels that stand on the floor, on others that do, or hang on them by fast joints."""
        fast_to = self._fast_to(group)
        rests = self.body.rests[down]
        kept = self.resting(group, down)
        grown = True
        while grown:
            grown = False
            for panel in bits(group & ~kept):
                if (rests[panel] | fast_to[panel]) & kept:
                    kept |= 1 << panel
                    grown = True
        return kept

    def _fast_to(self, group: int) -> list[int]:
        if group in self._fast:
            return self._fast[group]
        fast = self._fast[group] = [0] * len(self.body.panels)
        for number in bits(self.inside(group) & ~self.loose(group)):
            tie = self.body.ties[number]
            fast[tie.entering] |= 1 << tie.receiving
            fast[tie.receiving] |= 1 << tie.entering
        return fast

    def footing_points(self, group: int, down: int) -> int:
        """Return the points for a footing that does not keep the group's middle of mass."""
        tips_deg = self.tips_at_deg(group, down)
        if tips_deg <= 0:
            return points.FALLS_OVER
        return points.TOTTERS if tips_deg < points.TIPS_AT_DEG else 0

    def tips_at_deg(self, group: int, down: int) -> float:
        """Return the least angle at which the group tips over its footing; 0 or less when it will not stand."""
        blocks, mass = self.body.blocks, self.body.mass_kg
        total = self.mass_kg(group) or 1.0
        middle = [sum(mass[i] * (blocks[i][a] + blocks[i][a + 3]) / 2 for i in bits(group)) / total for a in range(3)]
        feet = list(bits(self.resting(group, down)))
        axis = down >> 1
        floor = min(self._lying[down][i] for i in feet)
        height = abs((-1 if down & 1 else 1) * middle[axis] + floor)
        spare = math.inf
        for a in range(3):
            if a != axis:
                low, high = min(blocks[i][a] for i in feet), max(blocks[i][a + 3] for i in feet)
                spare = min(spare, middle[a] - low, high - middle[a])
        return math.degrees(math.atan2(spare, max(height, 1.0)))

    def turn_points(self, group: int, was: int, down: int) -> int:
        """Return the points for turning a group: the turn, the helpers, what it pulls apart or folds."""
        if was == down or self.is_made(group):
            return 0
        cost = points.plain_turn(was, down) + points.HELPER * (self.persons(group) - 1)
        return cost + points.PULLED_APART * self.pulled(group, was, down).bit_count() + points.FOLDS * self.folds(group)

    def pulled(self, group: int, was: int, down: int) -> int:
        """Return the joints, not yet fast, that a turn pulls at: those that open in the plane of the turn."""
        planes = [{was >> 1, down >> 1}]
        if was >> 1 == down >> 1:
            planes = [{was >> 1, a} for a in range(3) if a != was >> 1]
        opens = [
            t for t in (self.body.ties[n] for n in bits(self.loose(group))) if not self.is_kept_shut(group, t.number)
        ]
        choices = [_mask(t.number for t in opens if t.home >> 1 in plane) for plane in planes]
        return min(choices, key=int.bit_count)

    def is_kept_shut(self, group: int, number: int) -> bool:
        """Return whether other panels keep a joint from opening: its entering panel would take the other along."""
        tie = self.body.ties[number]
        rests, fast_to = self.body.rests[tie.home ^ 1], self._fast_to(group)
        seen = edge = 1 << tie.entering
        while edge:
            reach = 0
            for panel in bits(edge):
                reach |= rests[panel] | fast_to[panel]
            edge = reach & group & ~seen
            seen |= edge
        return bool(seen >> tie.receiving & 1)

    def folds(self, group: int) -> bool:
        """Return whether the group is a closed frame of panels with nothing across it to keep it square."""
        ties = self.inside(group)
        if ties.bit_count() < group.bit_count():
            return False
        return not any(self._thin[i] == 1 and (self.joined_to[i] & group).bit_count() >= 2 for i in bits(group))

    def lower(self, group: int) -> int:
        """Return points that no order of joining a group can go below.

        What must be held is held once for each joint, and a lock that is given counts whenever it closes. Of the joints
        to be started at once, and the glue spread for them, the greater of two bounds: all of them shared out evenly
        over the steps; and what closes when certain pairs of panels come together (`_meetings`).
        """
        found = self._lower.get(group)
        if found is None:
            inside = self.inside(group)
            found = self._lower[group] = sum(self._settled[n] for n in bits(inside)) + self._started(group, inside)
        return found

    def _started(self, group: int, inside: int) -> int:
        steps = group.bit_count() - 1
        if steps < 1:
            return 0
        each, more = divmod((inside & self.fitting_ties).bit_count(), steps)
        shared = more * points.start_together(each + 1) + (steps - more) * points.start_together(each)
        return max(shared, self._meetings(group))

    def _meetings(self, group: int) -> int:
        """Return the points of pairs that come together with all that must then be between them.

        A panel fitted to both of a pair, which no move brings to both at once, is there when they come together, and
        then one of its two joints closes. Pairs that share no such panel close different joints: their points add up,
        since k joints at once and the glue for them cost no less in one step than in two.
        """
        found = taken = 0
        met: list[tuple[int, int]] = []
        for one, other, between in self._pairs:
            here = between & group
            if group >> one & 1 and group >> other & 1 and here:
                met.append((self._meeting(one, other, here), here))
        for cost, here in sorted(met, reverse=True):
            if not here & taken:
                found += cost
                taken |= here
        return found

    def _meeting(self, one: int, other: int, between: int) -> int:
        """Return the points for a pair that comes together while these panels are between them."""
        key = (one, other, between)
        found = self._met.get(key)
        if found is None:
            direct = self._fits[one] >> other & 1
            seconds = sum(min(self._glue_s[p, one], self._glue_s[p, other]) for p in bits(between))
            over = seconds / 60 - self.handling.open_time_min
            late = points.OPEN_TIME * max(0, math.ceil(over - 1e-9)) if self.handling.open_time_min >= 1 else 0
            found = self._met[key] = points.start_together(between.bit_count() + direct) + late
        return found


def _pairs(body: Body, fits: list[int]) -> tuple[tuple[int, int, int], ...]:
    """Return each two panels with those fitted to both that no move brings to both at once, where there are any."""
    found: dict[tuple[int, int], int] = {}
    for panel in range(len(body.panels)):
        near = list(bits(fits[panel]))
        for k, one in enumerate(near):
            for other in near[:k]:
                pair = 1 << one | 1 << other
                if all(stops[panel] & pair for stops in body.stops):
                    found[one, other] = found.get((one, other), 0) | 1 << panel
    return tuple((one, other, between) for (one, other), between in found.items())


def _glue_seconds(body: Body) -> Mapping[tuple[int, int], float]:
    """Return the seconds of glue and clamps between two panels; nothing where a joint of theirs has none."""
    found: defaultdict[tuple[int, int], float] = defaultdict(float)
    for tie in body.ties:
        seconds = _seconds(tie) if tie.glue else 0.0
        found[tie.entering, tie.receiving] += seconds
        found[tie.receiving, tie.entering] += seconds
    return found


def _seconds(tie: Tie) -> float:
    return CONNECTOR_S * max(1, len(tie.joint.stations)) + (CLAMP_S if tie.clamps else 0.0)


def _tall(body: Body, down: int) -> tuple[tuple[int, int], ...]:
    """Return each panel that is tall when that way is down, with the joints that hold its top.

    That is what meets it highest, as the top does a side. A back hangs on whatever it meets, and holds nothing up.
    """
    axis = down >> 1
    found = []
    for panel, block in enumerate(body.blocks):
        low, high = block[axis], block[axis + 3]
        if high - low <= TALL:
            continue
        heights: dict[int, float] = {}
        for tie in body.ties:
            if panel in {tie.entering, tie.receiving}:
                near, far = (getattr(p, "xyz"[axis]) for p in (tie.joint.contact.low, tie.joint.contact.high))
                ends = (near - low, far - low) if down & 1 else (high - far, high - near)
                heights[tie.number] = max(ends) if body.panels[panel].role is Role.BACK else min(ends)
        at_top = max(heights.values(), default=0.0) - AT_TOP
        holding = _mask(number for number, height in heights.items() if height >= at_top)
        found.append((panel, holding))
    return tuple(found)


def _mask(numbers: Iterator[int] | tuple[int, ...]) -> int:
    found = 0
    for number in numbers:
        found |= 1 << number
    return found


def _settled_points(tie: Tie) -> int:
    """Return the points of a joint that are the same in every order."""
    held = points.HOLD if tie.screws or (tie.hold is Hold.PLAIN and tie.clamps) else 0
    given = tie.hold in {Hold.KEYHOLE, Hold.SLIDE} and len(tie.locks) == 1
    return held + (points.lock_points(tie.locks[0]) if given else 0)


def _lying(body: Body, down: int) -> list[float]:
    """Return how high each panel's lowest face lies when that way is down."""
    axis = down >> 1
    return [block[axis] if down & 1 else -block[axis + 3] for block in body.blocks]


def _thin_axis(body: Body, panel: int) -> int:
    block = body.blocks[panel]
    return min(range(3), key=lambda a: block[a + 3] - block[a])
