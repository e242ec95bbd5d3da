"""The least troublesome order for one body: a search from the finished body apart, over groups and how they rest.

A state is a group of panels and the direction that is down. `_stand` gives the least points to have a group stand so,
`_build` the least when its last step is done so. Both are bounded: they give the true least when it lies below
`limit`, else a figure at or above it that the true least cannot go below. What is known of a state is kept.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Final

from storyrod.assembly import _points as points
from storyrod.assembly._groups import Groups
from storyrod.assembly._shapes import NUMBER
from storyrod.assembly._splits import Split, Splitter
from storyrod.measure.space import Direction

NEVER: Final = 10**8
"""More points than any order has: there is no order."""

UPRIGHT: Final = NUMBER[Direction.DOWN]


class OutOfWorkError(Exception):
    """The search was not finished in the work allowed."""


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
        self._known: dict[tuple[bool, int, int], tuple[int, bool]] = {}
        self._turned: dict[tuple[int, int], int] = {}
        self._split: dict[tuple[int, int], Split] = {}

    def least(self, group: int, down: int, limit: int = NEVER) -> int:
        """Return the least points for a group to stand so, if that is below `limit`."""
        return self._stand(group, down, limit)

    def _stand(self, group: int, down: int, limit: int) -> int:
        if self.groups.is_made(group):
            return self.groups.rest_points(group, down)
        key = (True, group, down)
        known, exact = self._known.get(key, (self.groups.lower(group), False))
        if exact or known >= limit:
            return known
        rest = self.groups.rest_points(group, down)
        best, bound, how = limit, NEVER, -1
        for made_down in (down, *(d for d in range(6) if d != down)):
            if made_down != down:
                least = self._least_built(group, made_down) + points.plain_turn(made_down, down) + rest
                if least >= best:
                    bound = min(bound, least)
                    continue
            extra = 0 if made_down == down else self.groups.turn_points(group, made_down, down) + rest
            cost = self._build(group, made_down, best - extra) + extra
            bound = min(bound, cost)
            if cost < best:
                best, how = cost, made_down
        return self._keep(key, best, bound, found=how >= 0, how=how)

    def _least_built(self, group: int, down: int) -> int:
        """Return what is known of `_build` without looking further."""
        known = self._known.get((False, group, down))
        return self.groups.lower(group) if known is None else known[0]

    def _keep(self, key: tuple[bool, int, int], best: int, bound: int, *, found: bool, how: int) -> int:
        if found:
            self._turned[key[1:]] = how
            self._known[key] = (best, True)
            return best
        bound = min(bound, NEVER)
        self._known[key] = (bound, bound >= NEVER)
        return bound

    def _build(self, group: int, down: int, limit: int) -> int:
        key = (False, group, down)
        known, exact = self._known.get(key, (self.groups.lower(group), False))
        if exact or known >= limit:
            return known
        self.states += 1
        rest = self.groups.rest_points(group, down)
        best, bound, chosen = limit, NEVER, None
        if rest + self.groups.lower(group) >= limit:
            return self._lift(key, rest + self.groups.lower(group))
        before = self.splitter.work
        splits = self.splitter.of(group)
        self._allowance.spend(self.splitter.work - before)
        for split in splits:
            if rest + split.least >= best:
                bound = min(bound, rest + split.least)
                break
            self.looked += 1
            self._allowance.spend(self._each)
            cost = self._by(split, down, rest, best)
            bound = min(bound, cost)
            if cost < best:
                best, chosen = cost, split
        if chosen is not None:
            self._split[group, down] = chosen
            self._known[key] = (best, True)
            return best
        return self._lift(key, bound)

    def _lift(self, key: tuple[bool, int, int], bound: int) -> int:
        bound = min(bound, NEVER)
        self._known[key] = (bound, bound >= NEVER)
        return bound

    def _by(self, split: Split, down: int, rest: int, best: int) -> int:
        """Return the least points by one split, or a bound on them as soon as it is no better than `best`."""
        lower, cost = self.groups.lower, rest + split.steps[down]
        still = lower(split.base)
        brought = lower(split.mover)
        if cost + brought + still >= best:
            return cost + brought + still
        if not self.groups.is_made(split.mover):
            brought = self._stand(split.mover, down, best - cost - still)
            if cost + brought + still >= best:
                return cost + brought + still
        still = self._stand(split.base, down, best - cost - brought)
        return cost + brought + still

    def made(self, group: int, down: int) -> Made:
        """Return how the least points of a state, found before, come about."""
        if self.groups.is_made(group):
            return Made(group=group, made_down=down, down=down)
        made_down = self._turned[group, down]
        split = self._split[group, made_down]
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

    def made(self, group: int, down: int) -> tuple[int, Made] | None:
        """Return the points and the order for a group that is to stand so, or None where it does not come apart."""
        groups = self.groups
        if groups.is_made(group):
            return groups.rest_points(group, down), Made(group=group, made_down=down, down=down)
        splits = self.splitter.of(group)
        if not splits:
            return None
        split = self._chance.choice(splits[:3]) if self._chance else splits[0]
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
