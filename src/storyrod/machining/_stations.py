"""The fewest stations of jigs that serve all joints of a batch, and where their stops stand.

Places are whole hundredths of a mm. A *pattern* is the places that one placing needs, from the edge that the stop
meets. A jig with stations S serves it from a stop at offset o where every place less o is a station. In one jig two
openings stand at the same place, or far enough apart that board is left between them.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

Pattern = tuple[int, ...]

LIMIT: Final = 20_000
"""Nodes of the search; beyond them the answer is the best found, and says so."""


FURTHEST: Final = 10_000
"""How far a stop may stand from the panel's edge at station 0 (hundredths of a mm): an arm longer than that bends."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Stations of jigs in step, the stop's offset for each pattern, and whether no layout has fewer stations.

    `proven` holds among the layouts in which every pattern is measured from the panel's edge, lines up with the
    stations of another by moving the stop, or, where neither leaves board between openings, stands just clear of them.
    `clear` is False where no layout was found whose openings do not run into each other.
    """

    stations: Pattern
    offsets: dict[Pattern, int]
    proven: bool
    clear: bool = True


def share_stations(
    patterns: Iterable[Pattern],
    *,
    apart: int = 0,
    jigs: Sequence[Collection[Pattern]] | None = None,
    moves: bool = True,
) -> Layout:
    """Return the layout with the fewest stations, and among these the fewest stops.

    Exact: patterns are added one by one in every order that can matter, each at offset 0 or lined up with a station
    that is there already; a branch is dropped when it cannot beat the best.

    Args:
        patterns: all that are to be served.
        apart: how far two openings of one jig stand apart at least, from centre to centre.
        jigs: the patterns of each jig, where several are kept in step; one jig for all unless set.
        moves: whether stops may be moved at all.
    """
    distinct = sorted({p for p in patterns if p}, key=lambda p: (-len(p), p))
    where = {p: tuple(n for n, jig in enumerate(jigs) if p in jig) if jigs else (0,) for p in distinct}
    kept = _not_within_another(distinct, where)
    search = _Search(kept, where, apart=apart, moves=moves)
    search.go(frozenset(), (frozenset(),) * (len(jigs) if jigs else 1), {}, tuple(kept))
    offsets = dict(search.best_offsets)
    made = _stations_by_jig(offsets, where)
    for pattern in distinct:
        if pattern not in offsets:
            offsets[pattern] = _offset_in(pattern, frozenset.intersection(*(made[n] for n in where[pattern])))
    return Layout(tuple(sorted(search.best_stations)), offsets, search.nodes <= LIMIT, search.is_clear)


def _stations_by_jig(offsets: dict[Pattern, int], where: dict[Pattern, tuple[int, ...]]) -> dict[int, frozenset[int]]:
    made: dict[int, set[int]] = {}
    for pattern, offset in offsets.items():
        for n in where[pattern]:
            made.setdefault(n, set()).update(p - offset for p in pattern)
    return {n: frozenset(stations) for n, stations in made.items()}


def _not_within_another(patterns: Sequence[Pattern], where: dict[Pattern, tuple[int, ...]]) -> list[Pattern]:
    """Leave out the patterns whose places are all among those of another, in each of their jigs: they cost nothing."""
    kept: list[Pattern] = []
    for pattern in patterns:
        if not any(set(pattern) <= set(other) and set(where[pattern]) <= set(where[other]) for other in kept):
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


@lru_cache(maxsize=1 << 14)
def can_stand_together(one: Pattern, other: Pattern, apart: int) -> bool:
    """Return whether one jig can serve two patterns with board left between its openings, a stop moved if need be."""
    if is_clear_of(other, one, apart):
        return True
    return any(is_clear_of([p - o for p in other], one, apart) for o in _moves_between(other, one, apart))


def is_clear_of(places: Iterable[int], stations: Sequence[int], apart: int) -> bool:
    """Return whether every place is one of the stations (rising), or stands apart from all of them."""
    for place in places:
        at = bisect_left(stations, place)
        if at < len(stations) and stations[at] == place:
            continue
        if at < len(stations) and stations[at] - place < apart:
            return False
        if at > 0 and place - stations[at - 1] < apart:
            return False
    return True


def _moves_between(pattern: Sequence[int], stations: Sequence[int], apart: int) -> list[int]:
    """Return the offsets at which a place of a pattern falls on a station or stands just clear of one, least first."""
    found = {p - s + by for p in pattern for s in stations for by in (-apart, 0, apart)}
    return sorted((o for o in found if abs(o) <= FURTHEST), key=lambda o: (abs(o), o))


class _Search:
    def __init__(
        self, patterns: Sequence[Pattern], where: dict[Pattern, tuple[int, ...]], *, apart: int, moves: bool
    ) -> None:
        everything = frozenset(p for pattern in patterns for p in pattern)
        self.where = where
        self.apart = apart
        self.moves = moves
        self.best_stations = everything
        self.best_offsets: dict[Pattern, int] = dict.fromkeys(patterns, 0)
        made = _stations_by_jig(self.best_offsets, where)
        self.is_clear = all(b - a >= apart for s in made.values() for a, b in pairwise(sorted(s)))
        self.best = (len(everything) if self.is_clear else sum(map(len, patterns)) + 1, 1)
        self.nodes = 0
        self.seen: set[tuple[frozenset[int], tuple[frozenset[int], ...], frozenset[Pattern]]] = set()

    def go(
        self,
        stations: frozenset[int],
        by_jig: tuple[frozenset[int], ...],
        offsets: dict[Pattern, int],
        left: tuple[Pattern, ...],
    ) -> None:
        """Add the patterns that are left in every way that can beat the best."""
        self.nodes += 1
        stops = len({0, *offsets.values()})
        least = max((len(stations), *(len(p) for p in left)), default=len(stations))
        state = (stations, by_jig, frozenset(left))
        if (least, stops) >= self.best or self.nodes > LIMIT or state in self.seen:
            return
        self.seen.add(state)
        if not left:
            self.best, self.best_stations, self.best_offsets = (len(stations), stops), stations, dict(offsets)
            self.is_clear = True
            return
        for number, pattern in enumerate(left):
            rest = left[:number] + left[number + 1 :]
            for offset in self._offsets(pattern, stations, by_jig):
                places = frozenset(p - offset for p in pattern)
                jigs = tuple(s | places if n in self.where[pattern] else s for n, s in enumerate(by_jig))
                self.go(stations | places, jigs, {**offsets, pattern: offset}, rest)
            if not stations:  # the first one may as well be the largest, at offset 0
                break

    def _offsets(self, pattern: Pattern, stations: frozenset[int], by_jig: tuple[frozenset[int], ...]) -> list[int]:
        if not stations:
            return [0]
        here = [sorted(by_jig[n]) for n in self.where[pattern]]

        def clear(offset: int) -> bool:
            places = [p - offset for p in pattern]
            return self.apart == 0 or all(is_clear_of(places, s, self.apart) for s in here)

        still = [0] if clear(0) else []
        if not self.moves:
            return still
        moved = {p - s for p in pattern for s in stations if abs(p - s) <= FURTHEST} - {0}
        gains = {o: len({p - o for p in pattern} & stations) for o in moved}
        alone = len(set(pattern) & stations) if still else -1
        useful = sorted((o for o, gain in gains.items() if gain > alone), key=lambda o: (-gains[o], abs(o), o))
        found = [*still, *(o for o in useful if clear(o))]
        if found:
            return found
        edges = _moves_between(pattern, sorted(stations), self.apart)
        return [o for o in edges if clear(o)]
