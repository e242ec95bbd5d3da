"""The fewest stations of a jig that serve all joints of a batch, and where its stops stand.

Places are whole hundredths of a mm. A *pattern* is the places that one placing needs, from the edge that the stop
meets. A jig with stations S serves it from a stop at offset o where every place less o is a station.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

Pattern = tuple[int, ...]

_LIMIT: Final = 20_000
"""Nodes of the search; beyond them the answer is the best found, and says so."""


FURTHEST: Final = 10_000
"""How far a stop may stand from the panel's edge at station 0 (hundredths of a mm): an arm longer than that bends."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Stations of a jig, the stop's offset for each pattern, and whether no layout has fewer stations.

    `proven` holds among the layouts in which every pattern is measured from the panel's edge, or lines up with the
    stations of another by moving the stop.
    """

    stations: Pattern
    offsets: dict[Pattern, int]
    proven: bool


def share_stations(patterns: Iterable[Pattern], *, moves: bool = True) -> Layout:
    """Return the layout with the fewest stations, and among these the fewest stops.

    Exact: patterns are added one by one in every order that can matter, each at offset 0 or lined up with a station
    that is there already; a branch is dropped when it can not beat the best.
    """
    distinct = sorted({p for p in patterns if p}, key=lambda p: (-len(p), p))
    kept = _not_within_another(distinct)
    search = _Search(kept, moves=moves)
    search.go(frozenset(), {}, tuple(kept))
    offsets = dict(search.best_offsets)
    for pattern in distinct:
        if pattern not in offsets:
            offsets[pattern] = _offset_in(pattern, search.best_stations)
    return Layout(tuple(sorted(search.best_stations)), offsets, search.nodes <= _LIMIT)


def _not_within_another(patterns: Sequence[Pattern]) -> list[Pattern]:
    """Leave out the patterns whose places are all among those of another: they cost nothing."""
    kept: list[Pattern] = []
    for pattern in patterns:
        if not any(set(pattern) <= set(other) for other in kept):
            kept.append(pattern)
    return kept


def _offset_in(pattern: Pattern, stations: frozenset[int]) -> int:
    if set(pattern) <= stations:
        return 0
    for station in sorted(stations):
        offset = pattern[0] - station
        if all(p - offset in stations for p in pattern):
            return offset
    raise ValueError(f"{pattern} is not served")


class _Search:
    def __init__(self, patterns: Sequence[Pattern], *, moves: bool) -> None:
        everything = frozenset(p for pattern in patterns for p in pattern)
        self.moves = moves
        self.best_stations = everything
        self.best_offsets: dict[Pattern, int] = dict.fromkeys(patterns, 0)
        self.best = (len(everything), 1)
        self.nodes = 0
        self.seen: set[tuple[frozenset[int], frozenset[Pattern]]] = set()

    def go(self, stations: frozenset[int], offsets: dict[Pattern, int], left: tuple[Pattern, ...]) -> None:
        """Add the patterns that are left in every way that can beat the best."""
        self.nodes += 1
        stops = len({0, *offsets.values()})
        least = max((len(stations), *(len(p) for p in left)), default=len(stations))
        state = (stations, frozenset(left))
        if (least, stops) >= self.best or self.nodes > _LIMIT or state in self.seen:
            return
        self.seen.add(state)
        if not left:
            self.best, self.best_stations, self.best_offsets = (len(stations), stops), stations, dict(offsets)
            return
        for number, pattern in enumerate(left):
            rest = left[:number] + left[number + 1 :]
            for offset in self._offsets(pattern, stations):
                added = stations | {p - offset for p in pattern}
                self.go(added, {**offsets, pattern: offset}, rest)
            if not stations:  # the first one may as well be the largest, at offset 0
                break

    def _offsets(self, pattern: Pattern, stations: frozenset[int]) -> list[int]:
        if not self.moves or not stations:
            return [0]
        moved = {p - s for p in pattern for s in stations if abs(p - s) <= FURTHEST} - {0}
        gains = {o: len({p - o for p in pattern} & stations) for o in moved}
        alone = len(set(pattern) & stations)
        useful = [o for o, gain in gains.items() if gain > alone]
        return [0, *sorted(useful, key=lambda o: (-gains[o], abs(o)))]
