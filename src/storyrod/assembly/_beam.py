"""A good order soon: taken apart from the whole, with the most promising few ways kept at each panel.

What stands still is followed down to its first panel; a group that is brought is taken apart by itself, without looking
back. Nothing is proven by it: it gives the bounded search a plan to beat, and large bodies the plan that they get.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storyrod.assembly._groups import Groups
from storyrod.assembly._search import UPRIGHT, Dive, Made
from storyrod.assembly._splits import Split, Splitter

SPLITS: Final = 8
"""So many ways of parting a group are looked at."""


@dataclass(frozen=True, slots=True)
class _Way:
    """A way of taking apart so far: what still stands and how, its points, and the step before it."""

    group: int
    down: int
    cost: int
    made_down: int = -1
    split: Split | None = None
    mover: Made | None = None
    before: _Way | None = None


_Step = tuple[_Way, Split, Made | None]
"""The way before a step, how the group is parted, and how the part that is brought is made if it is not one panel."""


def _stepped(key: int, step: tuple[int, _Step]) -> _Way:
    cost, (way, split, mover) = step
    at = key & 7
    brought = mover or Made(group=split.mover, made_down=at, down=at)
    return _Way(split.base, at, cost, at, split, brought, way)


class Beam:
    """Orders of one body, followed side by side."""

    def __init__(self, groups: Groups, splitter: Splitter) -> None:
        self.groups = groups
        self.splitter = splitter
        self._dive = Dive(groups, splitter)
        self._brought: dict[int, tuple[int, Made] | None] = {}

    def made(self, group: int, width: int) -> tuple[int, Made] | None:
        """Return the points and the order for a group that is to stand upright, or None where none was found.

        So many ways (`width`) are kept at each panel.
        """
        ways = [_Way(group, UPRIGHT, 0)]
        best: _Way | None = None
        while ways:
            onward: dict[int, tuple[int, _Step]] = {}
            for way in ways:
                if self.groups.is_made(way.group):
                    cost = way.cost + self.groups.rest_points(way.group, way.down)
                    if best is None or cost < best.cost:
                        best = _Way(way.group, way.down, cost, way.made_down, way.split, way.mover, way.before)
                else:
                    self._step_on(way, onward)
            ways = [_stepped(*step) for step in sorted(onward.items(), key=self._promise)[:width]]
        return None if best is None else (best.cost, _as_made(best))

    def _promise(self, step: tuple[int, tuple[int, _Step]]) -> tuple[int, int, int]:
        key, (cost, _) = step
        group, down = key >> 3, key & 7
        return cost + self.groups.rest_points(group, down) + self.groups.lower(group), cost, key

    def _step_on(self, way: _Way, onward: dict[int, tuple[int, _Step]]) -> None:
        """Add what each step leads to, where no cheaper one leads there."""
        groups, group, down = self.groups, way.group, way.down
        stands = groups.rest_points(group, down)
        turned = [
            way.cost
            + groups.rest_points(group, at)
            + (0 if at == down else groups.turn_points(group, at, down) + stands)
            for at in range(6)
        ]
        for split in self.splitter.of(group).first(SPLITS):
            single = groups.is_made(split.mover)
            for at in range(6):
                cost = turned[at] + split.steps[at]
                mover = None
                if not single:
                    mover = self._bring(split.mover, at)
                    if mover is None:
                        continue
                    cost += mover[0]
                key = split.base << 3 | at
                known = onward.get(key)
                if known is None or cost < known[0]:
                    onward[key] = cost, (way, split, None if mover is None else mover[1])

    def _bring(self, mover: int, at: int) -> tuple[int, Made] | None:
        key = mover << 3 | at
        if key not in self._brought:
            self._brought[key] = self._dive.made(mover, at)
        return self._brought[key]


def _as_made(last: _Way) -> Made:
    """Return the order whose last panel left is that of a way."""
    made = Made(group=last.group, made_down=last.down, down=last.down)
    way = last
    while way.before is not None:
        before = way.before
        made = Made(
            group=before.group,
            made_down=way.made_down,
            down=before.down,
            split=way.split,
            mover=way.mover,
            base=made,
        )
        way = before
    return made
