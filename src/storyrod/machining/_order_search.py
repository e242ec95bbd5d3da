"""A longer search for a cheap order: neighbouring pieces exchanged, shaken by seeded chance, and begun anew when stuck.

The move is the exchange of two neighbouring pieces of a path, which turns neither round, and so keeps precedence where
nothing of the second must come after something of the first: the path-preserving 3-exchange. For each first piece the
second is grown until precedence breaks, so that few are looked at where much is laid down. The work is counted in
exchanges looked at, so that the same input gives the same answer.
"""

from __future__ import annotations

import random
from typing import Final

from storyrod.machining._order_problem import OrderProblem

LOOKS_PER_SECOND: Final = 800_000
"""Exchanges that are looked at for each second of the limit: a count, so that answers repeat."""

_STUCK: Final = 400
"""Shakes without a better order after which it is begun anew from a path shaken long."""

_FEW: Final = 3
"""So few nodes have no pieces to exchange that are worth a shake."""

_SHORT: Final = 4
_LONG: Final = 60
_LONGEST: Final = 8
"""Exchanges of a short and of a long shake, and the longest piece exchanged in one."""


def searched_order(
    problem: OrderProblem, path: tuple[int, ...], bound: int, *, seed: int, looks: int
) -> tuple[int, ...]:
    """Return an order no dearer than `path`, found by so many looks at exchanges; it stops at the bound."""
    if problem.n <= _FEW:
        return path
    chance = random.Random(seed)
    search = _Search(problem, looks)
    here = search.bettered(list(path))
    best, least = here, problem.cost_of(here)
    cost_here, since = least, 0
    while search.looks_left > 0 and least > bound:
        since += 1
        if since > _STUCK:
            here = search.bettered(_shaken(problem, list(best), chance, _LONG))
            cost_here, since = problem.cost_of(here), 0
        tried = search.bettered(_shaken(problem, list(here), chance, _SHORT))
        cost = problem.cost_of(tried)
        if cost < cost_here:
            since = 0
        if cost <= cost_here:
            here, cost_here = tried, cost
        if cost_here < least:
            best, least = here, cost_here
    return tuple(best)


def _shaken(problem: OrderProblem, path: list[int], chance: random.Random, times: int) -> list[int]:
    """Exchange neighbouring pieces drawn by chance, where precedence is kept."""
    n = len(path)
    for _ in range(times):
        i = chance.randrange(1, n - 1)
        j = min(n - 1, i + chance.randrange(1, _LONGEST))
        k = min(n, j + chance.randrange(1, _LONGEST))
        piece = sum(1 << node for node in path[i:j])
        if not any(problem.before[node] & piece for node in path[j:k]):
            path[i:k] = path[j:k] + path[i:j]
    return path


class _Search:
    """Betters paths, and counts the exchanges it has looked at."""

    def __init__(self, problem: OrderProblem, looks: int) -> None:
        self.problem = problem
        self.looks_left = looks

    def bettered(self, path: list[int]) -> list[int]:
        """Return the path after all exchanges that make it cheaper, the best at each place at once."""
        found = True
        while found and self.looks_left > 0:
            found, i = False, 1
            while i < len(path) - 1:
                move = self._best_at(path, i)
                if move is None:
                    i += 1
                    continue
                j, k = move
                path[i : k + 1] = path[j : k + 1] + path[i:j]
                found, i = True, max(1, i - 1)
        return path

    def _best_at(self, path: list[int], i: int) -> tuple[int, int] | None:
        """Return (j, k) where putting `path[j..k]` before `path[i..j-1]` gains most, or None where nothing gains."""
        costs, before, n = self.problem.costs, self.problem.before, len(path)
        ahead, first = path[i - 1], path[i]
        row, piece, best = costs[ahead], 0, 0
        move = None
        for j in range(i + 1, n):
            last, second = path[j - 1], path[j]
            piece |= 1 << last
            if before[second] & piece:
                break
            out = costs[last]
            base = row[first] + out[second] - row[second]
            for k in range(j, n):
                end = path[k]
                if before[end] & piece:
                    break
                self.looks_left -= 1
                gain = base - costs[end][first]
                if k + 1 < n:
                    gain += costs[end][path[k + 1]] - out[path[k + 1]]
                if gain > best:
                    best, move = gain, (j, k)
        return move
