"""What no plan can do better than: by area, and by parts that cannot share a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.sheets._task import Size, Task


def bound_of(task: Task) -> tuple[int, int]:
    """Return the least cost and the least number of sheets that any plan can have."""
    apart = _apart(task)
    cost = max(_cost_by_area(task), _cost_apart(task, apart))
    cost = 0 if cost >= NEVER else cost  # Not enough area at all: that is told elsewhere.
    return cost, max(_sheets_by_area(task), len(apart))


NEVER: Final = 10**18
MOST_LOOKED_AT: Final = 40_000
MOST_FILLS: Final = 4_000


def _cost_by_area(task: Task) -> int:
    """Return the least cost of whole sheets with room for all the area; best value first, cut short by fractions.

    Where the sets are too many to look at, the last sheet counts in part: still a bound, only a weaker one.
    """
    sizes = sorted(task.sizes, key=lambda s: (s.cost / (s.w * s.h), -s.w * s.h))
    best = _brim(sizes, task.area, whole=True)
    todo = [(0, task.area, 0)]
    looked = 0
    while todo:
        n, rest, spent = todo.pop()
        looked += 1
        if looked > MOST_LOOKED_AT:
            return _brim(sizes, task.area, whole=False)
        if rest <= 0:
            best = min(best, spent)
            continue
        if n == len(sizes) or spent + _brim(sizes[n:], rest, whole=False) >= best:
            continue
        size = sizes[n]
        area = size.w * size.h
        most = min(size.copies, -(-rest // area))
        todo.extend((n + 1, rest - m * area, spent + m * size.cost) for m in range(most + 1))
    return best


def _brim(sizes: Sequence[Size], area: int, *, whole: bool) -> int:
    """Return the cost of filling sheets of the best value to the brim; the last one whole or in part."""
    rest, cost = area, 0
    for size in sizes:
        if rest <= 0:
            return cost
        one = size.w * size.h
        full = min(size.copies, rest // one)
        cost += full * size.cost
        rest -= full * one
        if rest > 0 and full < size.copies:
            return cost + (size.cost if whole else -(-rest * size.cost // one))
    return cost if rest <= 0 else NEVER


def fills_sheets(task: Task) -> bool:
    """Return whether some whole sheets have just the area of the parts: a puzzle, whose best plan may have no waste.

    Where the sets are too many to look at: no.
    """
    sizes = sorted(task.sizes, key=lambda s: -s.w * s.h)
    todo = [(0, task.area)]
    looked = 0
    while todo:
        n, rest = todo.pop()
        looked += 1
        if rest == 0:
            return True
        if looked > MOST_FILLS:
            return False
        if n == len(sizes):
            continue
        area = sizes[n].w * sizes[n].h
        todo.extend((n + 1, rest - m * area) for m in range(min(sizes[n].copies, rest // area) + 1))
    return False


def _sheets_by_area(task: Task) -> int:
    rest = task.area
    sheets = 0
    for size in sorted(task.sizes, key=lambda s: -s.w * s.h):
        area = size.w * size.h
        need = min(size.copies, -(-rest // area))
        sheets += need
        rest -= need * area
        if rest <= 0:
            break
    return sheets


def _apart(task: Task) -> list[int]:
    """Return a set of parts (kinds, once a copy) of which no two fit on one sheet of any size."""
    order = sorted(range(len(task.kinds)), key=lambda k: (-min(task.kinds[k].ways[0][:2]), -task.kinds[k].area))
    chosen: list[int] = []
    for k in order:
        if all(not _together(task, k, other) for other in set(chosen)):
            twins = len(task.kinds[k].members)
            chosen.extend([k] * (1 if _together(task, k, k) else twins))
    return chosen


def _together(task: Task, a: int, b: int) -> bool:
    return any(
        (v[0] + w[0] <= s.w and max(v[1], w[1]) <= s.h) or (v[1] + w[1] <= s.h and max(v[0], w[0]) <= s.w)
        for v in task.kinds[a].ways
        for w in task.kinds[b].ways
        for s in task.sizes
    )


def _cost_apart(task: Task, apart: Sequence[int]) -> int:
    return sum(min((s.cost for s in task.sizes if _holds(task, k, s)), default=0) for k in apart)


def _holds(task: Task, kind: int, size: Size) -> bool:
    return any(w[0] <= size.w and w[1] <= size.h for w in task.kinds[kind].ways)
