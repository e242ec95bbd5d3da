"""The least moves of a given set of stations, found by branch and bound over the job's marking step."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.joinery._clash import Panels, Spot, spot_of
from storyrod.measure.tolerance import EXACT
from storyrod.model.method import StationRules
from storyrod.model.panel import PanelId

STRETCH: Final = 1.5
"""A gap beside a moved station may grow to this many pitches; common practice, no source."""

Place = tuple[int, int]
"""A station: number of its unit, and its place in the row from 0."""

Placed = tuple[PanelId, Spot]
"""A cut put into a panel for a try."""


class Search:
    """Finds the least moves of a given set of stations, by branch and bound over the marking step."""

    def __init__(self, panels: Panels, units: Sequence[list[int]], chosen: Sequence[Place], step: float) -> None:
        self.panels = panels
        self.units = units
        self.chosen = chosen
        self.step = step
        moving = {(owner, index) for unit, index in chosen for owner in units[unit]}
        spots = panels.spots()
        self.standing = {p: [s for s in here if (s.owner, s.station) not in moving] for p, here in spots.items()}
        self.best: dict[Place, float] | None = None
        self.way = math.inf

    def least(self, below: float) -> tuple[float, dict[Place, float]] | None:
        """Return the least way in all, if it is less than `below`, and the new places."""
        self.way = below
        self._place(0, 0.0, {}, [])
        return None if self.best is None else (self.way, self.best)

    def _place(self, n: int, way: float, placed: dict[Place, float], spots: list[Placed]) -> None:
        if n == len(self.chosen):
            if way < self.way - EXACT and self._keeps_rules(placed):
                self.way, self.best = way, dict(placed)
            return
        unit, index = self.chosen[n]
        for station, move in self._candidates(unit, index):
            if way + move >= self.way - EXACT:
                return
            if not self._gaps_hold(unit, index, station, placed):
                continue
            here = self._spots_at(unit, index, station)
            if self._is_free(here, spots):
                placed[self.chosen[n]] = station
                self._place(n + 1, way + move, placed, spots + here)
                del placed[self.chosen[n]]

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
            (bore.slab.panel.id, spot_of(bore, station, owner, index))
            for owner in self.units[unit]
            for bore in self.panels.joints[owner].bores
        ]

    def _is_free(self, here: Sequence[Placed], placed: Sequence[Placed]) -> bool:
        for panel, spot in here:
            others = self.standing.get(panel, [])
            if any(o.owner != spot.owner and self.panels.room(spot, o) is not None for o in others):
                return False
            if any(p == panel and o.owner != spot.owner and self.panels.room(spot, o) for p, o in placed):
                return False
        return True


def _rules(rules: StationRules | None) -> StationRules:
    if rules is None:
        raise ValueError("a method without stations has none to move")
    return rules
