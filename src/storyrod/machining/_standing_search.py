"""Which lines of cuts are worth a jig that is kept, and on how many jigs: an exact search over all sets of them.

A jig costs minutes to make, by itself and for each station; it saves minutes in every job that would make one anew, or
set each cut to its mark. Lines share a jig where they can; their stations, with the stops moved as need be, are those
of `share_stations`. Every way of parting every set of lines is weighed, by the sets within it: the answer is the best
there is up to `MOST` lines. Of more, those that save most are weighed so, and the others one by one.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.machining._jig_groups import Ask
from storyrod.machining._stations import Layout, Pattern, share_stations

MOST: Final = 8
"""Lines that are weighed all together: twice as many sets for each one more, three times as many partings."""

_NONE: Final = float("inf")


@dataclass(frozen=True, slots=True)
class Want:
    """Lines of cuts that are served together or not at all: the two halves of joints, and all that are alike.

    Attributes:
        halves: the patterns of each jig that makes a half of them: with a fence (False) and without (True).
        asks: what each asks of its jig, by the same.
    """

    halves: tuple[tuple[bool, frozenset[Pattern]], ...]
    asks: tuple[tuple[bool, Ask], ...]


@dataclass(frozen=True, slots=True)
class Kept:
    """The best set of lines to keep jigs for.

    Attributes:
        parts: the lines (by number) of each set of jigs in step, and `layouts` their stations.
        making: minutes of making them all.
        without: of each line kept what the making falls by where it is left out; of each other what it would rise by.
        proven: whether every set was weighed, and no jig could have fewer stations.
    """

    parts: tuple[tuple[int, ...], ...]
    layouts: tuple[Layout, ...]
    making: float
    without: Mapping[int, float]
    proven: bool

    @property
    def served(self) -> frozenset[int]:
        """The lines that are kept."""
        return frozenset(n for part in self.parts for n in part)


type Saves = Callable[[frozenset[int]], float]
"""Minutes a year that are saved where some lines have jigs that are kept."""


class Weigher:
    """Weighs sets of lines, all cut through openings of one kind.

    Args:
        wants: the lines.
        minutes: what a jig with so many stations takes to make.
        apart: how far two openings of one jig stand apart at least (hundredths of a mm).
    """

    def __init__(self, wants: Sequence[Want], minutes: Callable[[int], float], apart: int) -> None:
        self.wants, self.minutes, self.apart = wants, minutes, apart
        self._layouts: dict[frozenset[int], Layout | None] = {}
        self._best: dict[frozenset[int], tuple[float, tuple[frozenset[int], ...]]] = {frozenset(): (0.0, ())}

    def making(self, lines: frozenset[int]) -> float:
        """Return the least minutes in which jigs for some lines are made."""
        return self._made(lines)[0]

    def kept(self, saves: Saves, years: float) -> Kept:
        """Return the lines whose jigs save more over `years` than they take to make, and the cheapest jigs for them."""

        def gain(lines: frozenset[int]) -> float:
            return round(years * saves(lines) - self.making(lines), 6)

        by_value = sorted(range(len(self.wants)), key=lambda n: (-saves(frozenset({n})), n))
        chosen = max(_subsets(by_value[:MOST]), key=lambda s: (gain(s), -len(s)))
        rest = by_value[MOST:]
        for n in rest:
            chosen = max(chosen, chosen | {n}, key=gain)
        making, parts = self._made(chosen)
        layouts = tuple(layout for p in parts if (layout := self.layout(p)) is not None)
        return Kept(
            parts=tuple(tuple(sorted(p)) for p in parts),
            layouts=layouts,
            making=making,
            without={n: abs(making - self.making(chosen ^ {n})) for n in range(len(self.wants))},
            proven=not rest and all(layout.proven for layout in layouts),
        )

    def _made(self, chosen: frozenset[int]) -> tuple[float, tuple[frozenset[int], ...]]:
        """Return the least minutes in which jigs for these lines are made, and how the lines are parted among them."""
        known = self._best.get(chosen)
        if known is not None:
            return known
        first = min(chosen)
        rest = sorted(chosen - {first})
        if len(rest) >= MOST:  # one more than are weighed: it goes where it costs least
            found = self._one_more(chosen, max(chosen))
        else:
            found = (_NONE, ())
            for others in _subsets(rest):
                part = others | {first}
                cost = self._cost(part)
                if cost < found[0]:
                    more, parts = self._made(chosen - part)
                    found = min(found, (cost + more, (part, *parts)), key=lambda f: f[0])
        self._best[chosen] = found
        return found

    def _one_more(self, chosen: frozenset[int], last: int) -> tuple[float, tuple[frozenset[int], ...]]:
        making, parts = self._made(chosen - {last})
        found = (making + self._cost(frozenset({last})), (*parts, frozenset({last})))
        for n, part in enumerate(parts):
            wider = part | {last}
            cost = making - self._cost(part) + self._cost(wider)
            found = min(found, (cost, (*parts[:n], wider, *parts[n + 1 :])), key=lambda f: f[0])
        return found

    def _cost(self, part: frozenset[int]) -> float:
        layout = self.layout(part)
        if layout is None:
            return _NONE
        return sum(self.minutes(len(stations_of(layout, own))) for own in self._halves(part) if own)

    def layout(self, part: frozenset[int]) -> Layout | None:
        """Return the stations of the jigs in step that serve some lines; None where one set of them cannot."""
        if part not in self._layouts:
            self._layouts[part] = self._laid(part)
        return self._layouts[part]

    def _laid(self, part: frozenset[int]) -> Layout | None:
        for half in (False, True):
            asks = [a for n in part for h, a in self.wants[n].asks if h is half]
            if not all(a.can_share(b) for a, b in itertools.combinations(asks, 2)):
                return None
        jigs = [own for own in self._halves(part) if own]
        layout = share_stations((p for own in jigs for p in own), apart=self.apart, jigs=jigs)
        return layout if layout.clear else None

    def _halves(self, part: frozenset[int]) -> tuple[frozenset[Pattern], frozenset[Pattern]]:
        """Return the patterns of the jig with a fence, and of the one without, that serve some lines."""
        fenced = frozenset(p for n in part for half, own in self.wants[n].halves if not half for p in own)
        free = frozenset(p for n in part for half, own in self.wants[n].halves if half for p in own)
        return fenced, free


def stations_of(layout: Layout, patterns: frozenset[Pattern]) -> frozenset[int]:
    """Return the stations of a layout that a jig for some of its patterns has."""
    return frozenset(p - layout.offsets[pattern] for pattern in patterns for p in pattern)


def _subsets(of: Sequence[int]) -> Iterator[frozenset[int]]:
    for size in range(len(of) + 1):
        for chosen in itertools.combinations(of, size):
            yield frozenset(chosen)
