"""The least moves of a given set of stations, found by branch and bound over the job's marking step."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from storyrod.joinery._bores import Bore, JointCuts
from storyrod.joinery._clash import Panels, Spot, spot_of
from storyrod.joinery._fit import reach_of
from storyrod.joinery._stations import corner_rules, rules_kept
from storyrod.measure.tolerance import EXACT
from storyrod.model.joint import JointKind
from storyrod.model.method import StationRules
from storyrod.model.panel import PanelId

STRETCH: Final = 1.5
"""A gap beside a moved station may grow to this many pitches; common practice, no source."""

Place = tuple[int, int]
"""A station: number of its unit, and its place in the row from 0."""

Placed = tuple[Bore, Spot]
"""A cut put somewhere for a try."""


class Effort:
    """Counts the steps of a search, so that it ends on every machine at the same place.

    A share of another one is spent from that as well.
    """

    def __init__(self, steps: int, whole: Effort | None = None) -> None:
        self.left = steps
        self.cut_short = 0
        """How often the search was ended before it had tried all."""
        self._whole = whole

    def share(self, steps: int) -> Effort:
        """Return an effort of at most so many steps, taken from what is left of this one."""
        return Effort(min(steps, max(self.left, 0)), self)

    def step(self, steps: int = 1) -> bool:
        """Count steps; return whether the search may go on."""
        whole = self._whole or self
        if self.left > 0:
            self.left -= steps
            if whole is not self:
                whole.left -= steps
            if self.left > 0:
                return True
        whole.cut_short += 1
        return False


class Ground:
    """The cuts of a case that never move; whether a joint's cuts are clear of them is found once for each place."""

    def __init__(self, panels: Panels) -> None:
        self.panels = panels
        self._clear: dict[tuple[int, float], bool] = {}
        self._beside: dict[int, _Line] = {}

    def is_clear(self, owner: int, station: float, effort: Effort) -> bool:
        """Return whether the cuts of a joint, put at a station, come too close to none that never move."""
        known = self._clear.get((owner, station))
        if known is None:
            bores = self.panels.joints[owner].bores
            known = all(self._is_clear(bore, spot_of(bore, station, owner, 0), effort) for bore in bores)
            self._clear[owner, station] = known
        return known

    def _is_clear(self, bore: Bore, spot: Spot, effort: Effort) -> bool:
        line = self._beside.get(id(bore))
        if line is None:
            line = self._beside[id(bore)] = _Line(self.panels, bore, spot, self.panels.fixed, frozenset())
        return line.is_clear_at(spot, effort)


class StationSearch:
    """Finds the least moves of a given set of stations; `spots` are all cuts at stations, where they now stand."""

    def __init__(
        self,
        ground: Ground,
        spots: Mapping[PanelId, Sequence[Spot]],
        units: Sequence[list[int]],
        chosen: Sequence[Place],
        step: float,
        effort: Effort,
    ) -> None:
        self.ground = ground
        self.panels = ground.panels
        self.spots = spots
        self.units = units
        self.chosen = chosen
        self.step = step
        self.effort = effort
        self.moving = frozenset((owner, index) for unit, index in chosen for owner in units[unit])
        self.best: dict[Place, float] | None = None
        self.way = math.inf
        self.least_each: list[float] = []
        self.rest: list[float] = []
        self._beside: dict[int, _Line] = {}
        self._rules: dict[int, StationRules] = {}

    def least(self, below: float) -> tuple[float, dict[Place, float]] | None:
        """Return the least way in all, if it is less than `below`, and the new places."""
        self.way = below
        self.least_each = [self._least_alone(unit, index) for unit, index in self.chosen]
        self.rest = [sum(self.least_each[n:]) for n in range(len(self.least_each) + 1)]
        if self.rest[0] < below - EXACT:
            self._place(0, 0.0, {}, [])
        return None if self.best is None else (self.way, self.best)

    def has_places(self) -> bool:
        """Return whether each station has a place at all beside the cuts that never move, whatever else does.

        Where the steps end before one was found, it may have.
        """
        return all(
            any(
                not self.effort.step() or self._is_on_clear_ground(unit, station)
                for station, _ in self._candidates(unit, index)
            )
            for unit, index in self.chosen
        )

    def _place(self, n: int, way: float, placed: dict[Place, float], spots: list[Placed]) -> None:
        if n == len(self.chosen):
            if way < self.way - EXACT and self._keeps_rules(placed):
                self.way, self.best = way, dict(placed)
            return
        unit, index = self.chosen[n]
        for station, move in self._candidates(unit, index):
            if move < self.least_each[n]:
                continue  # no place even by itself
            if way + move + self.rest[n + 1] >= self.way - EXACT:
                return
            if not self.effort.step():
                return
            if not self._gaps_hold(unit, index, station, placed):
                continue
            here = self._free_at(unit, index, station, spots)
            if here is not None:
                placed[self.chosen[n]] = station
                self._place(n + 1, way + move, placed, spots + here)
                del placed[self.chosen[n]]

    def _least_alone(self, unit: int, index: int) -> float:
        """Return the least way that one station must go, whatever the others do; endless where it finds no place."""
        for station, move in self._candidates(unit, index):
            if move >= self.way or not self.effort.step():
                break
            if self._gaps_hold(unit, index, station, {}) and self._free_at(unit, index, station, ()) is not None:
                return move
        return math.inf

    def _candidates(self, unit: int, index: int) -> Iterator[tuple[float, float]]:
        """Yield the places on the marking step with their distance, the nearest first."""
        joint, rules = self.panels.joints[self.units[unit][0]], self._rules_of(unit)
        old, step, length = joint.stations[index], self.step, joint.joint.length
        first = round(old / step)
        for n in range(int(rules.pitch / step) + 2):
            for k in (first - n, first + n) if n else (first,):
                station = round(k * step, 6)
                if rules.end_min - EXACT <= station <= length - rules.end_min + EXACT and abs(station - old) > EXACT:
                    yield station, abs(station - old)

    def _gaps_hold(self, unit: int, index: int, station: float, placed: dict[Place, float]) -> bool:
        """Return whether the gaps to the neighbours that stand already are kept."""
        stations = self.panels.joints[self.units[unit][0]].stations
        rules = self._rules_of(unit)
        for beside, sign in ((index - 1, 1), (index + 1, -1)):
            if not 0 <= beside < len(stations):
                continue
            waits = (unit, beside) in self.chosen and (unit, beside) not in placed
            if waits:
                continue
            gap = sign * (station - placed.get((unit, beside), stations[beside]))
            if not rules.gap_min - EXACT <= gap <= STRETCH * rules.pitch + EXACT:
                return False
        return True

    def _keeps_rules(self, placed: dict[Place, float]) -> bool:
        return all(self._gaps_hold(unit, index, station, placed) for (unit, index), station in placed.items())

    def _rules_of(self, unit: int) -> StationRules:
        rules = self._rules.get(unit)
        if rules is None:
            joint = self.panels.joints[self.units[unit][0]]
            rules = self._rules[unit] = _rules(joint, self.panels.limits.wall)
        return rules

    def _is_on_clear_ground(self, unit: int, station: float) -> bool:
        return all(self.ground.is_clear(owner, station, self.effort) for owner in self.units[unit])

    def _free_at(self, unit: int, index: int, station: float, placed: Sequence[Placed]) -> list[Placed] | None:
        """Return the cuts of a station put somewhere, or None where they come too close to others."""
        if not self._is_on_clear_ground(unit, station):
            return None
        here = [
            (bore, spot_of(bore, station, owner, index))
            for owner in self.units[unit]
            for bore in self.panels.joints[owner].bores
        ]
        return here if self._is_free(here, placed) else None

    def _is_free(self, here: Sequence[Placed], placed: Sequence[Placed]) -> bool:
        for bore, spot in here:
            line = self._beside.get(id(bore))
            if line is None:
                line = self._beside[id(bore)] = _Line(self.panels, bore, spot, self.spots, self.moving)
            self.effort.step(len(placed))
            if not line.is_clear_at(spot, self.effort):
                return False
            panel = bore.slab.panel.id
            for other_bore, other in placed:
                beside = other_bore.slab.panel.id == panel and other.owner != spot.owner
                if beside and self.panels.room(spot, other) is not None:
                    return False
        return True


class _Line:
    """The cuts of other joints and of fittings on the line along which a cut is moved, or beside it; not the moving."""

    def __init__(
        self,
        panels: Panels,
        bore: Bore,
        spot: Spot,
        spots: Mapping[PanelId, Sequence[Spot]],
        moving: frozenset[tuple[int, int]],
    ) -> None:
        self.panels, self.run = panels, bore.run
        room = self.room = max(panels.limits.wall, panels.limits.skin)
        axes = [i for i in (0, 1, 2) if i != bore.run]
        found = [
            other
            for other in spots.get(bore.slab.panel.id, ())
            if other.owner != spot.owner
            and (other.owner, other.station) not in moving
            and all(other.low[i] < spot.high[i] + room and spot.low[i] < other.high[i] + room for i in axes)
        ]
        self._spots = sorted(found, key=lambda s: s.low[bore.run])
        self._lows = [s.low[bore.run] for s in self._spots]
        self._longest = max((s.high[bore.run] - s.low[bore.run] for s in found), default=0.0)

    def is_clear_at(self, spot: Spot, effort: Effort) -> bool:
        """Return whether the cut, put on the line, comes too close to none."""
        standing = self._near(spot.low[self.run] - self.room, spot.high[self.run] + self.room)
        effort.step(2 + len(standing))
        return all(self.panels.room(spot, other) is None for other in standing)

    def _near(self, low: float, high: float) -> Sequence[Spot]:
        """Return the cuts that may reach in between two places."""
        first = bisect_left(self._lows, low - self._longest)
        return self._spots[first : bisect_right(self._lows, high)]


def _rules(cuts: JointCuts, wall: float) -> StationRules:
    """Return the rules that stations may be moved by: those that they keep where they are.

    At a short corner of a drawer cuts may be longer than two dowels stand apart: they keep board between them and to
    the ends wherever they are moved. So does one alone there, which may go as near to an end as one of two.
    """
    rules = cuts.method.rules
    if rules is None:
        raise ValueError("a method without stations has none to move")
    reach = reach_of(cuts.size)
    kept, joint = max(reach.back, reach.ahead) + wall, cuts.joint
    if cuts.near or (joint.kind is JointKind.DRAWER_BOX and len(joint.stations) == 1):
        return corner_rules(rules, kept)
    return rules_kept(rules, joint.stations, joint.length, joint.kind, kept)
