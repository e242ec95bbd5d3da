"""Groups of panels of a body: what is inside them, how they rest, what turning them does."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.assembly import _points as points
from storyrod.assembly._bits import Sums, Unions, bits, set_of
from storyrod.assembly._body import Body
from storyrod.assembly._lower import LowerBounds, glue_seconds
from storyrod.assembly._ties import Hold, Tie
from storyrod.model.hand_room import AT_TOP, TALL, Driver
from storyrod.model.joint import JointKind
from storyrod.model.panel import Role
from storyrod.model.workshop import Handling
from storyrod.trade.lifting import persons_by_mass

FLAT: Final = 0.5
"""Panels whose lowest faces differ by no more than this stand on the same floor (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Driving:
    """Where driving costs points: the joints; of each its points, where its heads look, and more with that down."""

    ties: int
    each: tuple[tuple[int, int, int, int], ...]

    def points(self, closing: int) -> list[int]:
        """Return the points for the joints that close in a step, one figure for each of the six ways of lying."""
        everywhere, found = 0, [0] * 6
        for number, usual, way, over in self.each:
            if closing >> number & 1:
                everywhere += usual
                found[way] += over
        return [everywhere + f for f in found]


class Groups:
    """Answers about the groups of one body, each worked out once."""

    def __init__(self, body: Body, handling: Handling) -> None:
        self.body = body
        self.handling = handling
        count = len(body.panels)
        ties_of = [0] * count
        self.joined_to = [0] * count
        for tie in body.ties:
            for panel, mate in ((tie.entering, tie.receiving), (tie.receiving, tie.entering)):
                ties_of[panel] |= 1 << tie.number
                self.joined_to[panel] |= 1 << mate
        self.joined_to_any = Unions(self.joined_to)
        self._ties_at = Unions(ties_of)
        self._every_tie = (1 << len(body.ties)) - 1
        self.mass_kg = Sums(body.mass_kg)
        self._glue_s = Sums([glue_seconds(t) if t.glue else 0.0 for t in body.ties])
        self.fitting_ties = set_of(t.number for t in body.ties if not (t.hold is Hold.PLAIN and t.screws))
        self.held_ties = set_of(t.number for t in body.ties if t.screws or (t.hold is Hold.PLAIN and t.clamps))
        self.glued_ties = set_of(t.number for t in body.ties if t.glue)
        self.sliding_ties = set_of(t.number for t in body.ties if t.hold in {Hold.KEYHOLE, Hold.SLIDE})
        self.back_ties = set_of(t.number for t in body.ties if t.screws and t.joint.kind is JointKind.BACK)
        self.driven_ties = set_of(n for n, reach in enumerate(body.reaches) if reach is not None)
        self._tall = [_tall(body, way) for way in range(6)]
        self._locking = [
            (reach.locking, body.ties[n].entering, body.ties[n].receiving)
            for n, reach in enumerate(body.reaches)
            if reach is not None and reach.locking
        ]
        self._locked: dict[int, tuple[int, ...] | None] = {}
        self.bounds = LowerBounds(body, handling, self.fitting_ties)
        self._opposite = [set_of(t.opposite) for t in body.ties]
        self._levels = [_levels(_lying(body, way)) for way in range(6)]
        middles = [[(b[a] + b[a + 3]) / 2 for b in body.blocks] for a in range(3)]
        self._moments = [Sums([m * at for m, at in zip(body.mass_kg, each, strict=True)]) for each in middles]
        self._thin = [_thin_axis(body, i) for i in range(count)]
        self._inside: dict[int, int] = {}
        self._whole: dict[int, bool] = {}
        self._floor: dict[tuple[int, int], float] = {}
        self._rest: dict[tuple[int, int], int] = {}
        self._loose: dict[int, int] = {}
        self._lower: dict[int, int] = {}
        self._quick: dict[int, int] = {}
        self._turning: dict[int, tuple[tuple[int, ...], ...]] = {}
        self._fast: dict[int, list[int]] = {}

    def inside(self, group: int) -> int:
        """Return the joints that have both panels in the group."""
        found = self._inside.get(group)
        if found is None:
            found = self._inside[group] = self._every_tie & ~self._ties_at(self.body.everything & ~group)
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

    def piece(self, group: int) -> int:
        """Return the part of a group that joints hold to its first panel."""
        seen = edge = group & -group
        while edge:
            edge = self.joined_to_any(edge) & group & ~seen
            seen |= edge
        return seen

    def persons(self, group: int) -> int:
        """Return how many it takes to lift a group by its mass; what an order is weighed by.

        Steps may ask for one more, for a part that is long or held while it is screwed: see `_lifts`.
        """
        return persons_by_mass(self.mass_kg(group), self.handling.one_person_kg)

    def glue_min(self, joints: int) -> float:
        """Return the minutes to glue and clamp these joints: rule of thumb, 20 s a connector, 60 s a clamp."""
        return self._glue_s(joints) / 60

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
        return set_of(n for n in bits(inside & self.glued_ties) if self._opposite[n] & ~inside)

    def resting(self, group: int, down: int) -> int:
        """Return the panels of a group that touch the floor when it rests that way."""
        return group & next(near for _, at, near in self._levels[down] if group & at)

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
        if not self._locking:
            return None
        if group not in self._locked:
            outside = ~group
            rows: list[int] | None = None
            for locking, one, other in self._locking:
                if locking & group and not (1 << one | 1 << other) & outside:
                    rows = rows or [0] * len(self.body.panels)
                    rows[one] |= 1 << other
                    rows[other] |= 1 << one
            self._locked[group] = None if rows is None else tuple(rows)
        return self._locked[group]

    def driver(self, number: int, group: int, down: int) -> Driver | None:
        """Return the driver that comes to a joint's screws while a group is together and lies so; none if none does."""
        reach = self.body.reaches[number]
        return Driver.DRILL if reach is None else reach.driver(group, self.floor(group, down), down)

    def driving(self, group: int) -> Driving:
        """Return the points for driving the screws, and turning the cams, of the joints of a group that is together.

        Only where the heads look down does the bench come into it.
        """
        found = []
        for number in bits(self.inside(group) & self.driven_ties):
            reach = self.body.reaches[number]
            if reach is not None:
                usual = reach.points(group)
                over = reach.points_over(group, self.floor(group, reach.way)) - usual
                if usual or over:
                    found.append((number, usual, reach.way, over))
        return Driving(ties=set_of(number for number, *_ in found), each=tuple(found))

    def floor(self, group: int, down: int) -> float:
        """Return how high the floor is on which a group rests, when that way is down."""
        key = (group, down)
        found = self._floor.get(key)
        if found is None:
            found = self._floor[key] = next(height for height, at, _ in self._levels[down] if group & at)
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
        blocks = self.body.blocks
        total = self.mass_kg(group) or 1.0
        middle = [moment(group) / total for moment in self._moments]
        feet = bits(self.resting(group, down))
        axis = down >> 1
        floor = self.floor(group, down)
        height = abs((-1 if down & 1 else 1) * middle[axis] + floor)
        spare = math.inf
        for a in range(3):
            if a != axis:
                low, high = min([blocks[i][a] for i in feet]), max([blocks[i][a + 3] for i in feet])
                spare = min(spare, middle[a] - low, high - middle[a])
        return math.degrees(math.atan2(spare, max(height, 1.0)))

    def turn_points(self, group: int, was: int, down: int) -> int:
        """Return the points for turning a group: the turn, the helpers, what it pulls apart or folds."""
        if was == down or self.is_made(group):
            return 0
        known = self._turning.get(group)
        if known is None:
            known = self._turning[group] = self._turns(group)
        return known[was >> 1][down >> 1]

    def _turns(self, group: int) -> tuple[tuple[int, ...], ...]:
        """Return the points for turning a group from one axis to another; the same axis is over to the other side."""
        opening = [0, 0, 0]
        for tie in self._opening(group):
            opening[tie.home >> 1] += 1
        same = points.HELPER * (self.persons(group) - 1) + points.FOLDS * self.folds(group)
        return tuple(
            tuple(
                same
                + points.plain_turn(was << 1, (down << 1) + (was == down))
                + points.PULLED_APART
                * (opening[was] + (opening[down] if was != down else min(opening[a] for a in range(3) if a != was)))
                for down in range(3)
            )
            for was in range(3)
        )

    def pulled(self, group: int, was: int, down: int) -> int:
        """Return the joints, not yet fast, that a turn pulls at: those that open in the plane of the turn."""
        planes = [{was >> 1, down >> 1}]
        if was >> 1 == down >> 1:
            planes = [{was >> 1, a} for a in range(3) if a != was >> 1]
        opens = self._opening(group)
        choices = [set_of(t.number for t in opens if t.home >> 1 in plane) for plane in planes]
        return min(choices, key=int.bit_count)

    def _opening(self, group: int) -> list[Tie]:
        """Return the joints, not yet fast, that may open while the group is turned."""
        ties = self.body.ties
        return [ties[n] for n in bits(self.loose(group)) if not self.is_kept_shut(group, n)]

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

    def quick(self, group: int) -> int:
        """Return points that no order of joining a group can go below, soon; `lower` may know more."""
        found = self._quick.get(group)
        if found is None:
            found = self._quick[group] = self.bounds.quick(group, self.inside(group))
        return found

    def lower(self, group: int) -> int:
        """Return points that no order of joining a group can go below."""
        found = self._lower.get(group)
        if found is None:
            found = self._lower[group] = self.bounds.full(group, self.inside(group))
        return found


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
        holding = set_of(number for number, height in heights.items() if height >= at_top)
        found.append((panel, holding))
    return tuple(found)


def _levels(lying: Sequence[float]) -> tuple[tuple[float, int, int], ...]:
    """Return each height at which a panel lies, with the panels there and those that stand on the same floor."""
    return tuple(
        (
            height,
            set_of(i for i, at in enumerate(lying) if at == height),
            set_of(i for i, at in enumerate(lying) if height <= at <= height + FLAT),
        )
        for height in sorted(set(lying))
    )


def _lying(body: Body, down: int) -> list[float]:
    """Return how high each panel's lowest face lies when that way is down."""
    axis = down >> 1
    return [block[axis] if down & 1 else -block[axis + 3] for block in body.blocks]


def _thin_axis(body: Body, panel: int) -> int:
    block = body.blocks[panel]
    return min(range(3), key=lambda a: block[a + 3] - block[a])
