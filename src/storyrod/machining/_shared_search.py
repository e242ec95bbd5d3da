"""The fewest stations that serve rows whose places may be moved within limits.

Places are whole steps. A row is what the joints of one length and make-up need: so many stations, each within its own
window, neighbours at least and at most so far apart. Every row takes as many stations as it has, so that no joint
gets a connector more or fewer. Bounded by the windows that no one place can serve two of. A solver that proves its
answers finds none with fewer in the rows that the tests draw.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

Places = tuple[int, ...]

_ROUNDS = 12
"""Rounds of putting stations nearer to where they were; the answer is good long before."""


@dataclass(frozen=True, slots=True)
class StationRow:
    """Stations that are wanted together.

    Attributes:
        base: where they stand now.
        windows: lowest and highest place of each, as `tightened` leaves them.
        gap_min, gaps: least and greatest distance to the next.
        weight: how many joints stand so.
    """

    base: Places
    windows: tuple[tuple[int, int], ...]
    gap_min: int
    gaps: tuple[int, ...]
    weight: int = 1


@dataclass(frozen=True, slots=True)
class Found:
    """Stations, the places each row takes of them, and a bound on their number."""

    stations: Places
    rows: tuple[Places, ...]
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no fewer stations serve all rows."""
        return len(self.stations) <= self.bound


def tightened(row: StationRow) -> StationRow:
    """Return the row with its windows cut down to places that some choice of the others can keep."""
    windows = [list(w) for w in row.windows]
    for n, gap in enumerate(row.gaps):
        windows[n + 1][0] = max(windows[n + 1][0], windows[n][0] + row.gap_min)
        windows[n + 1][1] = min(windows[n + 1][1], windows[n][1] + gap)
    for n in reversed(range(len(row.gaps))):
        windows[n][0] = max(windows[n][0], windows[n + 1][0] - row.gaps[n])
        windows[n][1] = min(windows[n][1], windows[n + 1][1] - row.gap_min)
    return StationRow(row.base, tuple((a, b) for a, b in windows), row.gap_min, row.gaps, row.weight)


def fewest_shared(rows: Sequence[StationRow]) -> Found:
    """Return the fewest stations found for all rows.

    Every row can be served where it stands, so there is always an answer.
    """
    tight = [tightened(r) for r in rows]
    bound = bound_of(tight)
    best = min((_thinned(start, tight) for start in _starts(tight)), key=lambda s: (len(s), s))
    stations = _nearer(best, tight)
    return Found(stations, tuple(_must(r, stations) for r in tight), bound)


def bound_of(rows: Iterable[StationRow]) -> int:
    """Return how many windows lie apart from each other: each needs a station of its own."""
    count, last = 0, -1
    for low, high in sorted((w for row in rows for w in row.windows), key=lambda w: w[1]):
        if low > last or count == 0:
            count, last = count + 1, high
    return count


def place(row: StationRow, stations: Sequence[int]) -> Places | None:
    """Return which of the stations (rising) a row takes, moved the least way, or None where they do not serve it."""
    ways: dict[int, tuple[int, Places]] = {}
    for n, (low, high) in enumerate(row.windows):
        here: dict[int, tuple[int, Places]] = {}
        for at in stations[bisect_left(stations, low) : bisect_right(stations, high)]:
            move = abs(at - row.base[n])
            if n == 0:
                here[at] = (move, (at,))
                continue
            before = [
                (way + move, (*taken, at))
                for last, (way, taken) in ways.items()
                if row.gap_min <= at - last <= row.gaps[n - 1]
            ]
            if before:
                here[at] = min(before)
        if not here:
            return None
        ways = here
    return min(ways.values())[1]


def _must(row: StationRow, stations: Sequence[int]) -> Places:
    found = place(row, stations)
    if found is None:
        raise ValueError(f"{row.base} is not served")
    return found


def _serve(rows: Iterable[StationRow], stations: Sequence[int]) -> bool:
    return all(place(r, stations) is not None for r in rows)


def _starts(rows: Sequence[StationRow]) -> list[Places]:
    """Return sets of stations that serve all rows: where they stand, and as late as each can be left."""
    bases = tuple(sorted({p for r in rows for p in r.base}))
    return [bases, *(_swept(rows, early=early) for early in (False, True))]


def _swept(rows: Sequence[StationRow], *, early: bool) -> Places:
    """Return stations set one by one, each as late as the most pressing row allows.

    With `early`, every row that can takes it; else only a row that could not take a later one as well.
    """
    taken: list[list[int]] = [[] for _ in rows]
    made: list[int] = []
    while pressing := [_last_place(r, t) for r, t in zip(rows, taken, strict=True) if len(t) < len(r.base)]:
        at = min(pressing)
        made.append(at)
        for row, mine in zip(rows, taken, strict=True):
            if len(mine) < len(row.base) and (early or _last_place(row, mine) == at):
                low = row.windows[len(mine)][0]
                if at >= (max(low, mine[-1] + row.gap_min) if mine else low):
                    mine.append(at)
    return tuple(sorted(set(made)))


def _last_place(row: StationRow, taken: Sequence[int]) -> int:
    high = row.windows[len(taken)][1]
    return min(high, taken[-1] + row.gaps[len(taken) - 1]) if taken else high


def _thinned(stations: Places, rows: Sequence[StationRow]) -> Places:
    """Return the stations less those that can be left out, alone or with one put in for two neighbours."""
    if not _serve(rows, stations):  # a sweep can strand a row
        stations = tuple(sorted({p for r in rows for p in r.base}))
    ends = sorted({e for r in rows for w in r.windows for e in w})
    while True:
        less = _one_less(stations, rows) or _two_for_one(stations, rows, ends)
        if less is None:
            return stations
        stations = less


def _one_less(stations: Places, rows: Sequence[StationRow]) -> Places | None:
    used = dict.fromkeys(stations, 0)
    for row in rows:
        for at in _must(row, stations):
            used[at] += row.weight
    for left_out in sorted(stations, key=lambda s: (used[s], s)):
        rest = tuple(s for s in stations if s != left_out)
        if rest and _serve(rows, rest):
            return rest
    return None


def _two_for_one(stations: Places, rows: Sequence[StationRow], ends: Sequence[int]) -> Places | None:
    for a, b in pairwise(stations):
        rest = [s for s in stations if s not in (a, b)]
        touched = [r for r in rows if place(r, rest) is None]
        between = [e for e in ends if a <= e <= b]
        for at in dict.fromkeys(((a + b) // 2, *between)):
            tried = tuple(sorted([*rest, at]))
            if _serve(touched, tried):
                return tried
    return None


def _nearer(stations: Places, rows: Sequence[StationRow]) -> Places:
    """Return as many stations, moved to where the joints have theirs now as far as every row allows."""
    made = list(stations)
    for _ in range(_ROUNDS):
        before = list(made)
        for n in range(len(made)):
            made[n] = _best_place(made, n, rows)
        if made == before:
            break
    return tuple(made)


def _best_place(stations: list[int], n: int, rows: Sequence[StationRow]) -> int:
    """Return the place between its neighbours at which all rows together are moved least, rows kept as they are."""
    at = stations[n]
    low = stations[n - 1] + 1 if n else -(10**9)
    high = stations[n + 1] - 1 if n + 1 < len(stations) else 10**9
    wanted: list[int] = []
    for row in rows:
        taken = _must(row, stations)
        if at not in taken:
            continue
        k = taken.index(at)
        low, high = max(low, row.windows[k][0]), min(high, row.windows[k][1])
        if k:
            low, high = max(low, taken[k - 1] + row.gap_min), min(high, taken[k - 1] + row.gaps[k - 1])
        if k + 1 < len(taken):
            low, high = max(low, taken[k + 1] - row.gaps[k]), min(high, taken[k + 1] - row.gap_min)
        wanted += [row.base[k]] * row.weight
    if not wanted:
        return at
    median = sorted(wanted)[(len(wanted) - 1) // 2]
    return min(max(median, low), high)
