"""The fewest jigs: placings gathered into as few groups as can be, all of a group served by one jig.

Two placings can share a jig where what runs in it is the same, both have or both lack an edge for the fence, a packer
can make up the difference of their distances, each panel is long enough to hold the jig that the other needs, and
board is left between the openings of both. A group is a set in which every two can share. Exact: as many placings of
which no two can share are a bound; where the first try does not reach it, every way of gathering is searched.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from storyrod.machining._stations import LIMIT, Pattern, can_stand_together


@dataclass(frozen=True, slots=True)
class Ask:
    """What a placing asks of its jig.

    Attributes:
        key: what must be the same for all that a jig serves.
        distance: from the fence to the middle of the cuts; packers make up `packable` of it.
        reach: how far the jig must go from its stop.
        hold: how long a jig the panel can hold.
        pattern: where its openings stand from the stop, in hundredths of a mm; empty where that is all one.
        apart: how far two openings of a jig stand apart at least, from centre to centre (hundredths of a mm).
    """

    key: tuple[object, ...]
    distance: float
    packable: float
    reach: float
    hold: float
    pattern: Pattern = ()
    apart: int = 0

    def can_share(self, other: Ask) -> bool:
        """Return whether one jig can serve both."""
        return (
            self.key == other.key
            and abs(self.distance - other.distance) <= min(self.packable, other.packable) + 1e-6
            and self.reach <= other.hold + 1e-6
            and other.reach <= self.hold + 1e-6
            and can_stand_together(self.pattern, other.pattern, self.apart)
        )


@dataclass(frozen=True, slots=True)
class Groups:
    """Placings by number, group by group, and how many groups there must be."""

    groups: tuple[tuple[int, ...], ...]
    bound: int


def fewest_groups(asks: Sequence[Ask]) -> Groups:
    """Return the fewest groups of placings found, and a bound on their number; equal asks stand together."""
    alike: dict[Ask, list[int]] = {}
    for n, ask in enumerate(asks):
        alike.setdefault(ask, []).append(n)
    keys: dict[tuple[object, ...], list[Ask]] = {}
    for ask in alike:
        keys.setdefault(ask.key, []).append(ask)
    groups: list[tuple[int, ...]] = []
    bound = 0
    for same in keys.values():
        found, least = _gathered(sorted(same, key=lambda a: (a.hold, -a.distance, -a.reach)))
        bound += least
        groups += [tuple(sorted(n for ask in group for n in alike[ask])) for group in found]
    return Groups(tuple(sorted(groups)), bound)


def _gathered(asks: Sequence[Ask]) -> tuple[list[list[Ask]], int]:
    """Return the fewest groups of asks that differ, those that a short part asks for first, and the bound."""
    found = _first_fit(asks)
    bound = _strangers(asks)
    if len(found) == bound:
        return found, bound
    search = _Search(asks, found, bound)
    search.go(0, [])
    return search.best, len(search.best) if search.nodes <= LIMIT else bound


def _first_fit(asks: Sequence[Ask]) -> list[list[Ask]]:
    groups: list[list[Ask]] = []
    for ask in asks:
        home = next((g for g in groups if all(ask.can_share(a) for a in g)), None)
        if home is None:
            groups.append([ask])
        else:
            home.append(ask)
    return groups


def _strangers(asks: Sequence[Ask]) -> int:
    """Return how many asks are found of which no two can share: each must have a group of its own."""
    found: list[Ask] = []
    for ask in asks:
        if not any(ask.can_share(a) for a in found):
            found.append(ask)
    return len(found)


class _Search:
    """Every way of gathering, ask after ask: into each group that takes it, or into a new one."""

    def __init__(self, asks: Sequence[Ask], best: list[list[Ask]], bound: int) -> None:
        self.asks = asks
        self.best = best
        self.bound = bound
        self.nodes = 0

    def go(self, at: int, groups: list[list[Ask]]) -> None:
        """Place the asks from number `at` on."""
        self.nodes += 1
        if len(groups) >= len(self.best) or len(self.best) == self.bound or self.nodes > LIMIT:
            return
        if at == len(self.asks):
            self.best = [list(g) for g in groups]
            return
        ask = self.asks[at]
        for group in groups:
            if all(ask.can_share(a) for a in group):
                group.append(ask)
                self.go(at + 1, groups)
                group.pop()
        groups.append([ask])
        self.go(at + 1, groups)
        groups.pop()
