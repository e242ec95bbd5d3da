"""Points that no order of joining a group can go below, worked out before any order is looked at."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping

from storyrod.assembly import _points as points
from storyrod.assembly._bits import bits, set_of
from storyrod.assembly._body import Body
from storyrod.assembly._ties import Hold, Tie
from storyrod.model.glue_time import CLAMP_S, CONNECTOR_S
from storyrod.model.workshop import Handling


class LowerBounds:
    """Bounds for the groups of one body, each worked out once.

    What must be held is held once for each joint, and a lock that is given counts whenever it closes. Of the joints
    to be started at once, and the glue spread for them, the greater of two bounds: all of them shared out evenly
    over the steps; and what closes when certain pairs of panels come together.
    """

    def __init__(self, body: Body, handling: Handling, fitting_ties: int) -> None:
        self._handling = handling
        self._kept = body.kept
        self._fitting = fitting_ties
        self._fits = [0] * len(body.panels)
        for tie in body.ties:
            if fitting_ties >> tie.number & 1:
                self._fits[tie.entering] |= 1 << tie.receiving
                self._fits[tie.receiving] |= 1 << tie.entering
        self._pairs = () if body.kept else _pairs(body, self._fits)
        self._glue_s = _glue_seconds(body)
        by_points: defaultdict[int, int] = defaultdict(int)
        for tie in body.ties:
            if not any(k >> tie.entering & 1 and k >> tie.receiving & 1 for k in body.kept):
                by_points[_settled_points(tie)] |= 1 << tie.number
        self._settled = tuple((cost, ties) for cost, ties in by_points.items() if cost)
        self._met: dict[tuple[int, int, int], int] = {}

    def quick(self, group: int, inside: int) -> int:
        """Return a bound that needs nothing but counting; `inside` are the joints inside the group."""
        return self.settled(inside) + self._shared_out(group, inside)

    def full(self, group: int, inside: int) -> int:
        """Return the best bound known."""
        return self.settled(inside) + max(self._shared_out(group, inside), self._meetings(group))

    def settled(self, ties: int) -> int:
        """Return the points of joints that are the same in every order."""
        return sum(cost * (ties & these).bit_count() for cost, these in self._settled)

    def _shared_out(self, group: int, inside: int) -> int:
        """Return the points of the joints that are started at once, were they shared out evenly over the steps."""
        if self._kept:  # Joints inside what comes together are closed already.
            return 0
        steps = group.bit_count() - 1
        count = (inside & self._fitting).bit_count()
        if count <= steps:
            return 0
        each, more = divmod(count, steps)
        return more * points.start_together(each + 1) + (steps - more) * points.start_together(each)

    def _meetings(self, group: int) -> int:
        """Return the points of pairs that come together with all that must then be between them.

        A panel fitted to both of a pair, which no move brings to both at once, is there when they come together, and
        then one of its two joints closes. Pairs that share no such panel close different joints: their points add up,
        since k joints at once and the glue for them cost no less in one step than in two.
        """
        found = taken = 0
        met: list[tuple[int, int]] = []
        for one, other, both, between in self._pairs:
            here = between & group
            if here and group & both == both:
                cost = self._met.get((one, other, here))
                if cost is None:
                    cost = self._met[one, other, here] = self._meeting(one, other, here)
                if cost:
                    met.append((cost, here))
        met.sort(reverse=True)
        for cost, here in met:
            if not here & taken:
                found += cost
                taken |= here
        return found

    def _meeting(self, one: int, other: int, between: int) -> int:
        """Return the points for a pair that comes together while these panels are between them."""
        direct = self._fits[one] >> other & 1
        seconds = sum(min(self._glue_s[p, one], self._glue_s[p, other]) for p in bits(between))
        over = seconds / 60 - self._handling.open_time_min
        late = points.OPEN_TIME * max(0, math.ceil(over - 1e-9)) if self._handling.open_time_min >= 1 else 0
        return points.start_together(between.bit_count() + direct) + late


def glue_seconds(tie: Tie) -> float:
    """Return the seconds to glue and clamp a joint: rule of thumb, 20 s a connector, 60 s a clamp."""
    return CONNECTOR_S * max(1, len(tie.joint.stations)) + (CLAMP_S if tie.clamps else 0.0)


def _pairs(body: Body, fits: list[int]) -> tuple[tuple[int, int, int, int], ...]:
    """Return each two panels, and both as a set, with those fitted to both that no move brings to both at once."""
    found: dict[tuple[int, int], int] = {}
    for panel in range(len(body.panels)):
        near = bits(fits[panel])
        stops = {rows[panel] & fits[panel] for rows in body.stops}
        for k, one in enumerate(near):
            for other in near[:k]:
                pair = 1 << one | 1 << other
                if all(stopped & pair for stopped in stops):
                    found[one, other] = found.get((one, other), 0) | 1 << panel
    return tuple((one, other, set_of((one, other)), between) for (one, other), between in found.items())


def _glue_seconds(body: Body) -> Mapping[tuple[int, int], float]:
    """Return the seconds of glue and clamps between two panels; nothing where a joint of theirs has none."""
    found: defaultdict[tuple[int, int], float] = defaultdict(float)
    for tie in body.ties:
        seconds = glue_seconds(tie) if tie.glue else 0.0
        found[tie.entering, tie.receiving] += seconds
        found[tie.receiving, tie.entering] += seconds
    return found


def _settled_points(tie: Tie) -> int:
    """Return the points of a joint that are the same in every order."""
    held = points.HOLD if tie.screws or (tie.hold is Hold.PLAIN and tie.clamps) else 0
    given = tie.hold in {Hold.KEYHOLE, Hold.SLIDE} and len(tie.locks) == 1
    return held + (points.lock_points(tie.locks[0]) if given else 0)
