"""The least moves of a given set of stations, found by branch and bound over the job's marking step."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from storyrod.joinery._bores import Bore
from storyrod.joinery._clash import Panels, Spot, spot_of
from storyrod.measure.tolerance import EXACT
from storyrod.model.method import StationRules
from storyrod.model.panel import PanelId

STRETCH: Final = 1.5
"""A gap beside a moved station may grow to this many pitches; common practice, no source."""

Place = tuple[int, int]
"""A station: number of its unit, and its place in the row from 0."""

Placed = tuple[Bore, Spot]
"""A cut put somewhere for a try."""


class Search:
    """Finds the least moves of a given set of stations."""

    def __init__(
        self,
        panels: Panels,
        spots: Mapping[PanelId, Sequence[Spot]],
        units: Sequence[list[int]],
        chosen: Sequence[Place],
        step: float,
    ) -> None:
        self.panels = panels
        self.spots = spots
        self.units = units
        self.chosen = chosen
        self.step = step
        self.moving = {(owner, index) for unit, index in chosen for owner in units[unit]}
        self.best: dict[Place, float] | None = None
        self.way = math.inf
        self.rest: list[float] = []
        self._beside: dict[int, list[Spot]] = {}

    def least(self, below: float) -> tuple[float, dict[Place, float]] | None:
        """Return the least way in all, if it is less than `below`, and the new places."""
        self.way = below
        least_each = [self._least_alone(unit, index) for unit, index in self.chosen]
        self.rest = [sum(least_each[n:]) for n in range(len(least_each) + 1)]
        if self.rest[0] < below - EXACT:
            self._place(0, 0.0, {}, [])
        return None if self.best is None else (self.way, self.best)

    def _place(self, n: int, way: float, placed: dict[Place, float], spots: list[Placed]) -> None:
        if n == len(self.chosen):
            if way < self.way - EXACT and self._keeps_rules(placed):
                self.way, self.best = way, dict(placed)
            return
        unit, index = self.chosen[n]
        for station, move in self._candidates(unit, index):
            if way + move + self.rest[n + 1] >= self.way - EXACT:
                return
            if not self._gaps_hold(unit, index, station, placed):
                continue
            here = self._spots_at(unit, index, station)
            if self._is_free(here, spots):
                placed[self.chosen[n]] = station
                self._place(n + 1, way + move, placed, spots + here)
                del placed[self.chosen[n]]

    def _least_alone(self, unit: int, index: int) -> float:
        """Return the least way that one station must go, whatever the others do; endless where it finds no place."""
        for station, move in self._candidates(unit, index):
            if move >= self.way:
                break
            if self._gaps_hold(unit, index, station, {}) and self._is_free(self._spots_at(unit, index, station), ()):
                return move
        return math.inf

    def _candidates(self, unit: int, index: int) -> Iterator[tuple[float, float]]:
        """Yield the places on the marking step with their distance, the nearest first."""
        joint = self.panels.joints[self.units[unit][0]]
        rules = _rules(joint.method.rules)
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
        rules = _rules(self.panels.joints[self.units[unit][0]].method.rules)
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

    def _spots_at(self, unit: int, index: int, station: float) -> list[Placed]:
        return [
            (bore, spot_of(bore, station, owner, index))
            for owner in self.units[unit]
            for bore in self.panels.joints[owner].bores
        ]

    def _is_free(self, here: Sequence[Placed], placed: Sequence[Placed]) -> bool:
        for bore, spot in here:
            if any(self.panels.room(spot, other) is not None for other in self._standing(bore, spot)):
                return False
            panel = bore.slab.panel.id
            for other_bore, other in placed:
                beside = other_bore.slab.panel.id == panel and other.owner != spot.owner
                if beside and self.panels.room(spot, other) is not None:
                    return False
        return True

    def _standing(self, bore: Bore, spot: Spot) -> list[Spot]:
        """Return the cuts that stay and lie beside the line along which this one is moved."""
        known = self._beside.get(id(bore))
        if known is not None:
            return known
        room = max(self.panels.limits.wall, self.panels.limits.skin)
        axes = [i for i in (0, 1, 2) if i != bore.run]
        found = [
            other
            for other in self.spots.get(bore.slab.panel.id, ())
            if other.owner != spot.owner
            and (other.owner, other.station) not in self.moving
            and all(other.low[i] < spot.high[i] + room and spot.low[i] < other.high[i] + room for i in axes)
        ]
        self._beside[id(bore)] = found
        return found


def _rules(rules: StationRules | None) -> StationRules:
    if rules is None:
        raise ValueError("a method without stations has none to move")
    return rules
