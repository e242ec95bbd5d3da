"""The least troublesome order for one body: a search from the finished body apart, over groups and how they rest.

A state is a group of panels and the direction that is down. `_stand` gives the least points to have a group stand so,
`_build` the least when its last step is done so. Both are bounded: they give the true least when it lies below
`limit`, else a figure at or above it that the true least cannot go below. What is known of a state is kept.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Final

from storyrod.assembly._groups import Groups
from storyrod.assembly._shapes import NUMBER
from storyrod.assembly._splits import Split, Splitter
from storyrod.measure.space import Direction

NEVER: Final = 10**8
"""More points than any order has: there is no order."""

UPRIGHT: Final = NUMBER[Direction.DOWN]


class OutOfWorkError(Exception):
    """The search was not finished in the work allowed, or there is too much of it to be listed."""


class Allowance:
    """Work that a search may do: ways looked at, and ways listed. Counted, so that it ends alike on every machine."""

    def __init__(self, work: int) -> None:
        self.left = work

    def spend(self, work: int) -> None:
        """Take so much away.

        Raises:
            OutOfWorkError: there is no more.
        """
        self.left -= work
        if self.left < 0:
            raise OutOfWorkError


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A group as it was made: the step that closed it, how it lay then, and the two parts as they were made.

    `down` is how it lies when it is needed; it is turned there from `made_down` when they differ.
    """

    group: int
    made_down: int
    down: int
    split: Split | None = None
    mover: Made | None = None
    base: Made | None = None


class Search:
    """A bounded search over the states of one body."""

    def __init__(self, groups: Groups, splitter: Splitter, allowance: Allowance) -> None:
        self.groups = groups
        self.splitter = splitter
        self.states = 0
        self.looked = 0
        self._allowance = allowance
        self._each = max(
            1, len(groups.body.panels) ** 2 // 256
        )  # What a way costs to look at, beside one of 16 panels.
        self._stood: dict[int, tuple[int, bool]] = {}
        self._built: dict[int, tuple[int, bool]] = {}
        self._turned: dict[int, int] = {}
        self._split: dict[int, Split] = {}

    def least(self, group: int, down: int, limit: int = NEVER) -> int:
        """Return the least points for a group to stand so, if that is below `limit`."""
        if self.groups.is_made(group):
            return self.groups.rest_points(group, down)
        return self._stand(group, down, limit)

    def _standing(self, group: int, down: int) -> int:
        """Return what is known of `_stand` without looking further."""
        known = self._stood.get(group << 3 | down)
        return self._at_least(group, down) if known is None else known[0]

    def _at_least(self, group: int, down: int) -> int:
        """Return a bound on having a group stand so: what every order of it costs, and how it rests at the end."""
        groups = self.groups
        if groups.is_made(group):
            return groups.rest_points(group, down)
        return groups.lower(group) + groups.rest_points(group, down)

    def _stand(self, group: int, down: int, limit: int) -> int:
        key = group << 3 | down
        known, exact = self._stood.get(key) or (self._at_least(group, down), False)
        if exact or known >= limit:
            return known
        groups = self.groups
        rest = groups.rest_points(group, down)
        best, bound, how = limit, NEVER, -1
        for made_down in (down, *(d for d in range(6) if d != down)):
            extra = 0 if made_down == down else groups.turn_points(group, made_down, down) + rest
            known, exact = self._built.get(group << 3 | made_down) or (self._at_least(group, made_down), False)
            cost = known + extra
            if not exact and cost < best:
                cost = self._build(group, made_down, best - extra) + extra
            bound = min(bound, cost)
            if cost < best:
                best, how = cost, made_down
        if how >= 0:
            self._turned[key] = how
            self._stood[key] = (best, True)
            return best
        return self._lift(self._stood, key, bound)

    def _lift(self, states: dict[int, tuple[int, bool]], key: int, bound: int) -> int:
        """Keep that a state costs at least so much; where nothing brings it about, that is exact."""
        bound = min(bound, NEVER)
        states[key] = (bound, bound >= NEVER)
        return bound

    def _build(self, group: int, down: int, limit: int) -> int:
        key = group << 3 | down
        self.states += 1
        rest = self.groups.rest_points(group, down)
        best, bound, chosen = limit, NEVER, None
        before = self.splitter.work
        splits = self.splitter.of(group)
        self._allowance.spend(self.splitter.work - before)
        if self.splitter.overflowed:
            raise OutOfWorkError
        number = 0
        while True:
            before = self.splitter.work
            split = splits.look(number, best - rest)
            self._allowance.spend(self._each + self.splitter.work - before)
            if isinstance(split, int):
                bound = min(bound, rest + split)
                break
            number += 1
            self.looked += 1
            cost = self._by(split, down, rest, best)
            bound = min(bound, cost)
            if cost < best:
                best, chosen = cost, split
        if chosen is not None:
            self._split[key] = chosen
            self._built[key] = (best, True)
            return best
        return self._lift(self._built, key, bound)

    def _by(self, split: Split, down: int, rest: int, best: int) -> int:
        """Return the least points by one split, or a bound on them as soon as it is no better than `best`."""
        cost = rest + split.steps[down]
        brought_is_made = self.groups.is_made(split.mover)
        brought = 0 if brought_is_made else self._standing(split.mover, down)
        still = self._standing(split.base, down)
        if cost + brought + still >= best:
            return cost + brought + still
        if not brought_is_made:
            brought = self._stand(split.mover, down, best - cost - still)
            if cost + brought + still >= best:
                return cost + brought + still
        still = self.least(split.base, down, best - cost - brought)
        return cost + brought + still

    def made(self, group: int, down: int) -> Made:
        """Return how the least points of a state, found before, come about."""
        if self.groups.is_made(group):
            return Made(group=group, made_down=down, down=down)
        made_down = self._turned[group << 3 | down]
        split = self._split[group << 3 | made_down]
        mover = Made(group=split.mover, made_down=made_down, down=made_down)
        if not self.groups.is_made(split.mover):
            mover = self.made(split.mover, made_down)
        return Made(
            group=group,
            made_down=made_down,
            down=down,
            split=split,
            mover=mover,
            base=self.made(split.base, made_down),
        )


class Dive:
    """An order found without looking back: at each group the most promising split, at the best lie for its step."""

    def __init__(self, groups: Groups, splitter: Splitter, chance: Random | None = None) -> None:
        self.groups = groups
        self.splitter = splitter
        self._chance = chance
        self._kept: dict[tuple[int, int], tuple[int, Made] | None] = {}

    def made(self, group: int, down: int) -> tuple[int, Made] | None:
        """Return the points and the order for a group that is to stand so, or None where it does not come apart."""
        if self._chance is None:
            if (group, down) not in self._kept:
                self._kept[group, down] = self._follow(group, down)
            return self._kept[group, down]
        return self._follow(group, down)

    def _follow(self, group: int, down: int) -> tuple[int, Made] | None:
        groups = self.groups
        if groups.is_made(group):
            return groups.rest_points(group, down), Made(group=group, made_down=down, down=down)
        splits = self.splitter.of(group).first(3 if self._chance else 1)
        if not splits:
            return None
        split = self._chance.choice(splits) if self._chance else splits[0]
        costs = [self._cost(split, group, at, down) for at in range(6)]
        at = min(range(6), key=costs.__getitem__)
        base = self.made(split.base, at)
        mover = (0, Made(group=split.mover, made_down=at, down=at))
        brought = mover if groups.is_made(split.mover) else self.made(split.mover, at)
        if base is None or brought is None:
            return None
        made = Made(group=group, made_down=at, down=down, split=split, mover=brought[1], base=base[1])
        resting = groups.rest_points(split.base, at)  # Counted once more in what the base costs.
        return costs[at] - resting + base[0] + brought[0], made

    def _cost(self, split: Split, group: int, at: int, down: int) -> int:
        cost = split.steps[at] + self.groups.rest_points(group, at) + self.groups.rest_points(split.base, at)
        if at != down:
            cost += self.groups.turn_points(group, at, down) + self.groups.rest_points(group, down)
        return cost
