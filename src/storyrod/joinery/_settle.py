"""Clashes settled: the fewest stations moved the least way, within the method's rules.

The two ends of one panel, and a mirrored pair of panels, move together wherever they stand alike, so that they can
still be marked together; they are parted only where no common move is free.
A moved station lies on the job's marking step. It may stretch a gap to one and a half pitches, never more.
The search ends after so many steps of work: what it found by then is taken, and what it could not settle is a fault
that says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import Final

from storyrod.faults import Fault
from storyrod.joinery._clash import FITTING, WHOLE, Clash, Panels, Spot
from storyrod.joinery._search import Effort, Ground, Place, StationSearch
from storyrod.joinery._words import clash_fault, likeness, told, told_likewise
from storyrod.measure.tolerance import EXACT
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.detail import Settled
from storyrod.model.job import Case
from storyrod.model.joint import JointId
from storyrod.model.panel import PanelId

MOST_MOVED: Final = 6
"""No more stations than this are moved to settle one knot of clashes."""

MOST_STEPS_KNOT: Final = 40_000
"""No more steps of the search go into one way of settling a knot: about a second. Usual jobs take a thousand."""

MOST_STEPS: Final = 160_000
"""Nor than this into one case."""

ROUNDS: Final = 6
"""Moves never make new clashes, so a second round is already rare."""


class Settler:
    """Moves stations until no cuts clash, or tells why they cannot be moved."""

    def __init__(self, panels: Panels, step: float, case: Case, lengths: LengthWriter = METRIC) -> None:
        self.panels = panels
        self.ground = Ground(panels)
        self.step = step
        self.lengths = lengths
        self.case = case
        self.units: list[list[int]] = _units(panels)
        self.faults: list[Fault] = []
        self.stuck: set[JointId] = set()
        """Joints of the clashes that could not be settled."""
        self.moved: dict[int, dict[int, tuple[float, str]]] = {}
        self._given_up: set[tuple[object, ...]] = set()
        self._told: dict[object, tuple[int, PanelId]] = {}
        """By what a clash is like: its fault's place in `faults`, and the panel that it names."""
        self._left = Effort(MOST_STEPS)

    def settle(self) -> None:
        """Settle every clash; `faults` tells those that cannot be."""
        for _ in range(ROUNDS):
            clashes = [c for c in self.panels.clashes() if _name(c) not in self._given_up]
            if not clashes:
                return
            for knot in self._knots(clashes):
                before = self._left.cut_short
                if not self._untie(knot) and not self._untie_apart(knot):
                    self._give_up(knot, all_tried=self._left.cut_short == before)
        for clash in self.panels.clashes():
            if _name(clash) not in self._given_up:
                self._give_up([clash])

    def settled(self) -> tuple[Settled, ...]:
        """Return what was moved, by joint and station."""
        return tuple(
            Settled(
                joint=self.panels.joints[owner].joint.id,
                station=index + 1,
                moved_by=self.panels.joints[owner].stations[index] - original,
                because=because,
            )
            for owner, places in sorted(self.moved.items())
            for index, (original, because) in sorted(places.items())
            if abs(self.panels.joints[owner].stations[index] - original) > EXACT
        )

    def _give_up(self, knot: Sequence[Clash], *, all_tried: bool = True) -> None:
        for clash in knot:
            name = _name(clash)
            if name not in self._given_up:
                self._given_up.add(name)
                owners = {s.owner for s in (clash.one, clash.other)} - {FITTING}
                self.stuck.update(self.panels.joints[owner].joint.id for owner in owners)
                self._tell(clash, all_tried=all_tried)

    def _tell(self, clash: Clash, *, all_tried: bool) -> None:
        """Tell a clash; one that is the mirror of another, in a twin or at a panel's other end, is told with it."""
        like = likeness(clash, self.panels)
        if like in self._told:
            place, named = self._told[like]
            self.faults[place] = told_likewise(self.faults[place], clash, self.panels, named)
            return
        self._told[like] = (len(self.faults), clash.panel)
        self.faults.append(clash_fault(clash, self.panels, self.case, self.lengths, all_tried=all_tried))

    def _unit_of(self, owner: int) -> int:
        return next(n for n, unit in enumerate(self.units) if owner in unit)

    def _knots(self, clashes: Sequence[Clash]) -> list[list[Clash]]:
        """Return the clashes in groups that share a station: each group is settled by itself."""
        knots: list[tuple[set[Place], list[Clash]]] = []
        for clash in clashes:
            mine = {p for s in (clash.one, clash.other) if (p := self._place(s)) is not None}
            held = [clash]
            apart: list[tuple[set[Place], list[Clash]]] = []
            for places, others in knots:
                if places & mine:
                    mine |= places
                    held = others + held
                else:
                    apart.append((places, others))
            knots = [*apart, (mine, held)]
        return [held for _, held in knots]

    def _untie_apart(self, knot: Sequence[Clash]) -> bool:
        """Let the ends of a panel differ, where they cannot move together."""
        owners = {s.owner for c in knot for s in (c.one, c.other) if s.owner != FITTING}
        split = [u for u in self.units if len(u) > 1 and owners & set(u)]
        if not split:
            return False
        kept = [u for u in self.units if u not in split]
        before = self.units
        self.units = kept + [[owner] for unit in split for owner in unit]
        if self._untie(knot):
            return True
        self.units = before
        return False

    def _untie(self, knot: Sequence[Clash]) -> bool:
        """Move the fewest stations of a knot the least way; return whether that settles it."""
        forced, pairs = self._wanted(knot)
        if None in forced:
            return False
        first = {p for p in forced if p is not None}
        pool = sorted(first | {p for pair in pairs for p in pair})
        found = self._best(pool, first, pairs) or self._best(self._with_neighbours(pool), first, pairs)
        if found is None:
            return False
        self._move(found, knot)
        return True

    def _wanted(self, knot: Sequence[Clash]) -> tuple[set[Place | None], list[tuple[Place, Place]]]:
        """Return the stations that must move (None: nothing can), and the pairs of which one must."""
        forced: set[Place | None] = set()
        pairs: list[tuple[Place, Place]] = []
        for clash in knot:
            one, other = self._place(clash.one), self._place(clash.other)
            if one is not None and other is not None and one != other:
                pairs.append((min(one, other), max(one, other)))
            else:
                forced.add(one if one is not None else other)
        return forced, sorted(set(pairs))

    def _place(self, spot: Spot) -> Place | None:
        if spot.owner == FITTING or spot.station == WHOLE:
            return None
        return self._unit_of(spot.owner), spot.station

    def _with_neighbours(self, pool: Sequence[Place]) -> list[Place]:
        wide = set(pool)
        for unit, index in pool:
            last = len(self.panels.joints[self.units[unit][0]].stations) - 1
            wide |= {(unit, i) for i in (index - 1, index + 1) if 0 <= i <= last}
        return sorted(wide)

    def _best(
        self, pool: Sequence[Place], forced: set[Place], pairs: Sequence[tuple[Place, Place]]
    ) -> dict[Place, float] | None:
        """Return the new places of the fewest stations, and of these the least moved, or None."""
        spots = self.panels.stationed()
        effort = self._left.share(MOST_STEPS_KNOT)
        stuck = {p for p in pool if not StationSearch(self.ground, {}, self.units, [p], self.step, effort).has_places()}
        if stuck & forced or any(stuck.issuperset(pair) for pair in pairs):
            return None
        forced = forced.union(p for pair in pairs if stuck.intersection(pair) for p in pair if p not in stuck)
        free = [p for p in pool if p not in forced and p not in stuck]
        for size in range(max(1, len(forced)), min(max(MOST_MOVED, len(forced)), len(pool)) + 1):
            best: dict[Place, float] | None = None
            least = float("inf")
            for more in combinations(free, size - len(forced)):
                if not effort.step():
                    return best
                inside = forced.union(more)
                if not all(a in inside or b in inside for a, b in pairs):
                    continue
                placed = StationSearch(self.ground, spots, self.units, sorted(inside), self.step, effort).least(least)
                if placed is not None:
                    least, best = placed
            if best is not None:
                return best
        return None

    def _move(self, found: dict[Place, float], knot: Sequence[Clash]) -> None:
        for (unit, index), station in found.items():
            for owner in self.units[unit]:
                joint = self.panels.joints[owner]
                because = told(knot, owner, index, self.panels)
                earlier = self.moved.setdefault(owner, {}).get(index)
                self.moved[owner][index] = (joint.stations[index], because) if earlier is None else earlier
                stations = list(joint.stations)
                stations[index] = station
                joint.stations = tuple(stations)


def _name(clash: Clash) -> tuple[object, ...]:
    ends = sorted((s.owner, s.station, s.low) for s in (clash.one, clash.other))
    return (clash.panel, *ends)


def _units(panels: Panels) -> list[list[int]]:
    """Return the joints in groups that move together: both ends of a panel, and twins, where they stand alike."""
    by_likeness: dict[tuple[object, ...], list[int]] = {}
    for owner, cuts in enumerate(panels.joints):
        joint, twin = cuts.joint, cuts.entering.panel.twin
        first = joint.entering if twin is None else min(joint.entering, twin)
        likeness = (first, joint.home.axis, joint.run, joint.method, joint.stations, round(joint.length, 6))
        if joint.stations:
            by_likeness.setdefault(likeness, []).append(owner)
        else:
            by_likeness[(owner,)] = [owner]
    return list(by_likeness.values())
