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


@dataclass(frozen=True, slots=True)
class StationRange:
    """The rules by which stations may be moved along joints: see `StationRules` of a method (mm)."""

    end: float
    end_min: float
    pitch: float
    gap_min: float
    least: int = 2


def fewest_stations(
    lengths: Sequence[float], rules: StationRange, *, grid: float = 5.0, limit_s: float = 10.0, seed: int = 0
) -> tuple[tuple[float, ...], bool]:
    """Return the fewest stations that serve joints of all these lengths, and whether that is proven on the grid.

    With `limit_s` 0 no long search is made: the answer may then be one or two too many, and says so.

    The stations of a joint: the first within `end_min`..`end` of its start, neighbours `gap_min`..`pitch` apart, the
    last within `end_min`..`pitch` of its end, at least `least` of them. Each joint uses some of the jig's stations.
    The places are those of a grid. An even ladder with the fewest that the longest joint needs is proven at once; so is
    the answer to the rules without `gap_min` and `least`, where it happens to keep them; else CP-SAT searches.
    """
    need = sorted({round(x, 3) for x in lengths})
    if not need:
        return (), True
    places = _grid(need[-1], rules, grid)
    least = _least_for(need[-1], rules)
    found = _ladder(need, rules, places, least)
    if found is not None:
        return found, True
    relaxed = _relaxed(need, rules, places)
    if relaxed and all(serves(relaxed, length, rules) for length in need):
        return relaxed, True
    if limit_s <= 0:
        return _mended(relaxed, need, rules, places)
    from storyrod.machining._stations_cp import fewest_by_cp

    least = max(least, len(relaxed))  # the rules without two of them are a bound
    return fewest_by_cp(need, rules, places, least, limit_s=limit_s, seed=seed)


def _grid(longest: float, rules: StationRange, grid: float) -> tuple[float, ...]:
    count = int((longest - 2 * rules.end_min) / grid + 1e-9)
    return tuple(round(rules.end_min + k * grid, 3) for k in range(max(0, count) + 1))


def _least_for(length: float, rules: StationRange) -> int:
    """Return how many stations the longest joint needs by itself: no jig can do with fewer."""
    count, at = 1, rules.end
    while at + rules.pitch < length - 1e-9:
        at += rules.pitch
        count += 1
    return max(count, rules.least)


def serves(stations: Sequence[float], length: float, rules: StationRange) -> bool:
    """Return whether some of the stations keep the rules in a joint of that length."""
    inside = [s for s in stations if rules.end_min - 1e-9 <= s <= length - rules.end_min + 1e-9]
    counts: dict[float, set[int]] = {}
    for at in inside:
        reached = {1} if at <= rules.end + 1e-9 else set()
        for before, numbers in counts.items():
            if rules.gap_min - 1e-9 <= at - before <= rules.pitch + 1e-9:
                reached |= {min(n + 1, rules.least) for n in numbers}
        if reached:
            counts[at] = reached
    ends = (at for at, numbers in counts.items() if at >= length - rules.pitch - 1e-9 and rules.least in numbers)
    return (rules.least <= 1 and any(True for _ in counts)) or any(True for _ in ends)


def _ladder(
    need: Sequence[float], rules: StationRange, places: Sequence[float], least: int
) -> tuple[float, ...] | None:
    """Return `least` evenly pitched stations that serve every length, or None where no such ladder does."""
    for first in reversed([p for p in places if p <= rules.end + 1e-9]):
        for pitch in reversed([p - first for p in places if rules.gap_min <= p - first <= rules.pitch + 1e-9]):
            stations = tuple(round(first + k * pitch, 3) for k in range(least))
            if all(serves(stations, length, rules) for length in need):
                return stations
    return None


def _relaxed(need: Sequence[float], rules: StationRange, places: Sequence[float]) -> tuple[float, ...]:
    """Return the fewest places that keep all rules but `gap_min` and `least`, by dynamic programming; () for none.

    From one station the next may follow within the pitch, unless a joint would have none in its last stretch. The
    widest steps are preferred, since they are most likely to keep `gap_min` as well.
    """
    windows = [(length - rules.pitch, length - rules.end_min) for length in need]
    best: dict[float, tuple[int, float, float | None]] = {}
    for at in places:
        options: list[tuple[int, float, float | None]] = []
        if at <= rules.end + 1e-9 and not _skipped(windows, -1.0, at):
            options.append((1, 0.0, None))
        for before, (count, squares, _) in best.items():
            if 0 < at - before <= rules.pitch + 1e-9 and not _skipped(windows, before, at):
                options.append((count + 1, squares + (at - before) ** 2, before))
        if options:
            best[at] = min(options, key=lambda o: (o[0], o[1]))
    last_window = max(windows)
    ends = [at for at in best if at >= last_window[0] - 1e-9]
    if not ends:
        return ()
    step: float | None = min(ends, key=lambda a: best[a][:2])
    path = []
    while step is not None:
        path.append(step)
        step = best[step][2]
    return tuple(reversed(path))


def _skipped(windows: Sequence[tuple[float, float]], before: float, at: float) -> bool:
    """Return whether the last stretch of some joint lies wholly between two neighbouring stations."""
    return any(before < low - 1e-9 and high < at - 1e-9 for low, high in windows)


def _mended(
    stations: Sequence[float], need: Sequence[float], rules: StationRange, places: Sequence[float]
) -> tuple[tuple[float, ...], bool]:
    """Return the stations with those added that serve the most of what is not served yet; () where none will do."""
    made = set(stations)

    def unserved(extra: float | None) -> int:
        tried = sorted(made if extra is None else made | {extra})
        return sum(not serves(tried, length, rules) for length in need)

    while (left := unserved(None)) > 0:
        count, place = min((unserved(p), p) for p in places)
        if count >= left:
            return (), False
        made.add(place)
    return tuple(sorted(made)), False
