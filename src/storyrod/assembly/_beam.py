"""A good order soon: taken apart from the whole, with the most promising few ways kept at each panel.

What stands still is followed down to its first panel; a group that is brought is taken apart by itself, without looking
back. Nothing is proven by it: it gives the bounded search a plan to beat, and large bodies the plan that they get.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from storyrod.assembly._groups import Groups
from storyrod.assembly._search import UPRIGHT, Dive, Made
from storyrod.assembly._splits import Split, Splitter

WIDTH: Final = 6
"""So many ways are kept at each panel."""

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


class Beam:
    """Orders of one body, followed side by side."""

    def __init__(self, groups: Groups, splitter: Splitter, *, width: int = WIDTH) -> None:
        self.groups = groups
        self.splitter = splitter
        self.width = width
        self._dive = Dive(groups, splitter)
        self._brought: dict[tuple[int, int], tuple[int, Made] | None] = {}

    def made(self, group: int) -> tuple[int, Made] | None:
        """Return the points and the order for a group that is to stand upright, or None where none was found."""
        ways = [_Way(group, UPRIGHT, 0)]
        best: _Way | None = None
        while ways:
            onward: dict[tuple[int, int], _Way] = {}
            for way in ways:
                if self.groups.is_made(way.group):
                    cost = way.cost + self.groups.rest_points(way.group, way.down)
                    if best is None or cost < best.cost:
                        best = _Way(way.group, way.down, cost, way.made_down, way.split, way.mover, way.before)
                    continue
                for step in self._steps(way):
                    known = onward.get((step.group, step.down))
                    if known is None or step.cost < known.cost:
                        onward[step.group, step.down] = step
            ways = sorted(onward.values(), key=self._promise)[: self.width]
        return None if best is None else (best.cost, _as_made(best))

    def _promise(self, way: _Way) -> tuple[int, int, int, int]:
        rest = self.groups.rest_points(way.group, way.down)
        return way.cost + rest + self.groups.lower(way.group), way.cost, way.group, way.down

    def _steps(self, way: _Way) -> Iterator[_Way]:
        groups, group, down = self.groups, way.group, way.down
        turned = [0 if at == down else groups.turn_points(group, at, down) for at in range(6)]
        stands = groups.rest_points(group, down)
        for split in self.splitter.of(group)[:SPLITS]:
            for at in range(6):
                cost = way.cost + split.steps[at] + groups.rest_points(group, at)
                if at != down:
                    cost += turned[at] + stands
                mover = self._bring(split.mover, at)
                if mover is not None:
                    yield _Way(split.base, at, cost + mover[0], at, split, mover[1], way)

    def _bring(self, mover: int, at: int) -> tuple[int, Made] | None:
        key = (mover, at)
        if key not in self._brought:
            if self.groups.is_made(mover):
                self._brought[key] = 0, Made(group=mover, made_down=at, down=at)
            else:
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
