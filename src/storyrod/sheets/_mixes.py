"""Which sheets to use: sets of sheets that cost less than the best plan and are large enough, the roomiest first.

Where sheets come in several sizes, a goal of cost alone leaves the search to stumble on the right set. So a set is
fixed for a while, and the search only asks whether the parts go into it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.sheets._task import Size

MOST_LOOKED_AT: Final = 60_000

type Mix = tuple[int, ...]
"""How many sheets of each size."""


def mixes_below(sizes: Sequence[Size], area: int, cost: int, most: int) -> list[Mix]:
    """Return the sets of sheets of at least the area that cost less, at most so many, the roomiest first.

    Looking stops at a fixed number of sets, so that many sizes do not take the search's own time.
    """
    found: list[tuple[int, int, Mix]] = []
    looked = 0
    todo: list[tuple[Mix, int, int]] = [((), 0, 0)]
    while todo and looked < MOST_LOOKED_AT:
        mix, spent, room = todo.pop()
        looked += 1
        if len(mix) == len(sizes):
            if room >= area:
                found.append((-room, spent, mix))
            continue
        size = sizes[len(mix)]
        one = size.w * size.h
        enough = -(-max(area - room, 0) // one)
        todo.extend(
            ((*mix, n), spent + n * size.cost, room + n * one)
            for n in range(min(size.copies, enough + 1) + 1)
            if spent + n * size.cost < cost
        )
    return [mix for *_, mix in sorted(found)[:most]]
