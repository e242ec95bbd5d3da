"""What no plan can do better than: by area, and by parts that can not share a sheet."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.sheets._task import Size, Task


def bound_of(task: Task) -> tuple[int, int]:
    """Return the least cost and the least number of sheets that any plan can have."""
    apart = _apart(task)
    cost = max(_cost_by_area(task), _cost_apart(task, apart))
    return cost, max(_sheets_by_area(task), len(apart))


def _cost_by_area(task: Task) -> int:
    """Fill the sheets of the best value to the brim; the last one in part. Whole steps of cost, rounded up."""
    if len({s.cost for s in task.sizes}) == 1 and len(task.sizes) == 1:
        size = task.sizes[0]
        return -(-task.area // (size.w * size.h)) * size.cost
    rest = task.area
    cost = 0
    for size in sorted(task.sizes, key=lambda s: s.cost / (s.w * s.h)):
        area = size.w * size.h
        whole = min(size.copies, rest // area)
        cost += whole * size.cost
        rest -= whole * area
        if rest <= 0:
            return cost
        if whole < size.copies:
            return cost + -(-rest * size.cost // area)
    return cost


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
