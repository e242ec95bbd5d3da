"""A good order, quickly: nearest neighbours from the start, then moves of whole pieces of it to better places."""

from __future__ import annotations

from storyrod.machining._order_problem import OrderProblem

_LONGEST_PIECE = 6
_SHORT = 40
_ROUNDS = 60


def nearest_order(problem: OrderProblem, first: int | None = None) -> tuple[int, ...]:
    """Return the order that always goes on to the cheapest node that may come next; ties to the lower number."""
    path, done = [0], 1
    while len(path) < problem.n:
        last = path[-1]
        free = [j for j in range(1, problem.n) if not done >> j & 1 and not problem.before[j] & ~done]
        step = first if len(path) == 1 and first in free else min(free, key=lambda j: (problem.costs[last][j], j))
        assert step is not None  # noqa: S101  # a ring was refused before
        path.append(step)
        done |= 1 << step
    return tuple(path)


def good_order(problem: OrderProblem) -> tuple[int, ...]:
    """Return the best of several nearest-neighbour orders, each bettered by moving pieces."""
    starts = [j for j in range(1, problem.n) if not problem.before[j] & ~1]
    tried = {nearest_order(problem), *(nearest_order(problem, first) for first in starts[:12])}
    bettered = [_bettered(problem, list(path)) for path in sorted(tried)]
    return min(bettered, key=lambda p: (problem.cost_of(p), p))


def _bettered(problem: OrderProblem, path: list[int]) -> tuple[int, ...]:
    for _ in range(_ROUNDS):
        if not _move_a_piece(problem, path):
            break
    return tuple(path)


def _move_a_piece(problem: OrderProblem, path: list[int]) -> bool:
    """Exchange two neighbouring pieces where that is cheaper and keeps precedence; the best such move is made."""
    costs, n = problem.costs, len(path)
    best, move = 0, None
    for i in range(1, n - 1):
        longest = n if n <= _SHORT else min(n, i + 1 + _LONGEST_PIECE)
        piece = 0
        for j in range(i + 1, longest):
            piece |= 1 << path[j - 1]
            for k in range(j, n):
                if problem.before[path[k]] & piece:
                    break
                gain = _gain(costs, path, i, j, k)
                if gain > best:
                    best, move = gain, (i, j, k)
    if move is None:
        return False
    i, j, k = move
    path[i : k + 1] = path[j : k + 1] + path[i:j]
    return True


def _gain(costs: tuple[tuple[int, ...], ...], path: list[int], i: int, j: int, k: int) -> int:
    """Return what is gained by putting `path[j..k]` before `path[i..j-1]`."""
    before, first, last = path[i - 1], path[i], path[j - 1]
    second, end = path[j], path[k]
    old = costs[before][first] + costs[last][second]
    new = costs[before][second] + costs[end][first]
    if k + 1 < len(path):
        old += costs[end][path[k + 1]]
        new += costs[last][path[k + 1]]
    return old - new
