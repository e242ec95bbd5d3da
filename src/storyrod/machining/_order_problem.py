"""What is searched for and what is found: costs and precedence of one problem, and an order with its bound."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class RunOrder:
    """An order found: its path, cost, a bound that no order beats, and how it was come by."""

    path: tuple[int, ...]
    cost: int
    bound: int
    by: str

    @property
    def proven(self) -> bool:
        """Whether no cheaper order exists."""
        return self.cost <= self.bound


class OrderProblem:
    """Costs and precedence of one problem, with everything that must come before each node as a bit set."""

    def __init__(self, costs: Sequence[Sequence[int]], before: Iterable[tuple[int, int]]) -> None:
        self.costs = tuple(tuple(row) for row in costs)
        self.n = len(self.costs)
        pairs = [(a, b) for a, b in before if a != b]
        self.before = _closed(self.n, pairs)
        for node in range(1, self.n):
            self.before[node] |= 1  # node 0 is the start
        self.follows = [[j for j in range(self.n) if self.may_follow(i, j)] for i in range(self.n)]

    def may_follow(self, i: int, j: int) -> bool:
        """Return whether j may come straight after i: not before it by precedence, and nothing must lie between."""
        if j in (i, 0) or self.before[i] >> j & 1:
            return False
        if i == 0:
            return self.before[j] & ~1 == 0
        between = self.before[j] & ~self.before[i] & ~(1 << i)
        return not any(between >> k & 1 and self.before[k] >> i & 1 for k in range(self.n))

    def cost_of(self, path: Sequence[int]) -> int:
        """Return the cost of a path."""
        return sum(self.costs[a][b] for a, b in pairwise(path))


def _closed(n: int, pairs: Sequence[tuple[int, int]]) -> list[int]:
    before = [0] * n
    for a, b in pairs:
        before[b] |= 1 << a
    for k in range(n):
        for j in range(n):
            if before[j] >> k & 1:
                before[j] |= before[k]
    return before
