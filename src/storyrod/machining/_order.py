"""The cheapest order of things that are changed from one to the next, with some before others.

The problem is the sequential ordering problem: a path from a start through every node, costs counted between neighbours
only, no way back. Costs are whole numbers. Proven by a bound that meets the order found, by exact dynamic programming
over (what is done, what was last), or, after a longer search by exchanges, by constraint programming; else the gap is
told.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from storyrod.faults import Fault, JobError
from storyrod.machining._order_bound import arborescence_bound
from storyrod.machining._order_heuristic import good_order, kicked_order
from storyrod.machining._order_search import LOOKS_PER_SECOND, searched_order

_WIDTHS: Final = (300, 4000, None)
"""States kept in each layer: narrow searches first, whose orders let the exact one drop more."""

STATES_PER_SECOND: Final = 60_000
"""States of dynamic programming that are allowed for each second of the limit: a count, so that answers repeat."""


@dataclass(frozen=True, slots=True)
class Order:
    """An order found: its path, cost, a bound that no order beats, and how it was come by."""

    path: tuple[int, ...]
    cost: int
    bound: int
    by: str

    @property
    def proven(self) -> bool:
        """Whether no cheaper order exists."""
        return self.cost <= self.bound


class Sequence_:  # noqa: N801  # `Sequence` is a name of the language
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


def find_order(
    costs: Sequence[Sequence[int]],
    before: Iterable[tuple[int, int]] = (),
    *,
    limit_s: float = 10.0,
    seed: int = 0,
    names: Sequence[str] = (),
) -> Order:
    """Return the cheapest order found of nodes 0..n-1; node 0 is the start.

    Raises:
        JobError: when the precedence is contradictory; the fault names a ring of it.
    """
    pairs = tuple(before)
    refuse_rings(len(costs), pairs, names)
    problem = Sequence_(costs, pairs)
    if problem.n <= 2:
        path = tuple(range(problem.n))
        return Order(path, problem.cost_of(path), problem.cost_of(path), "nothing to choose")
    path = good_order(problem)
    best = Order(path, problem.cost_of(path), arborescence_bound(problem), "bound")
    if best.proven:
        return best
    path = kicked_order(problem, path, best.bound, seed=seed)
    best = Order(path, problem.cost_of(path), best.bound, "bound")
    if best.proven:
        return best
    for width in _WIDTHS:
        best = _by_states(problem, best, int(limit_s * STATES_PER_SECOND), width) or best
        if best.proven:
            return best
    path = searched_order(problem, best.path, best.bound, seed=seed, looks=int(limit_s * LOOKS_PER_SECOND))
    best = Order(path, problem.cost_of(path), best.bound, "search of exchanges")
    if best.proven:
        return best
    from storyrod.machining._order_cp import order_by_cp

    return order_by_cp(problem, best, limit_s=limit_s, seed=seed)


def refuse_rings(n: int, pairs: Sequence[tuple[int, int]], names: Sequence[str] = ()) -> None:
    """Raise the fault that names a ring of contradictory precedence, where there is one."""
    ring = _ring(n, pairs)
    if ring:
        told = [names[i] if i < len(names) else str(i) for i in ring]
        raise JobError(
            Fault(
                code="order-ring",
                field="run",
                found=f"{' before '.join([*told, told[0]])}",
                allowed="an order in which nothing must come before itself",
                do="Take one of these demands away.",
            )
        )


def _ring(n: int, pairs: Sequence[tuple[int, int]]) -> list[int]:
    after: list[list[int]] = [[] for _ in range(n)]
    for a, b in pairs:
        after[a].append(b)
    colour = [0] * n
    for start in range(n):
        path: list[int] = []
        stack = [(start, iter(after[start]))] if colour[start] == 0 else []
        while stack:
            node, following = stack[-1]
            if colour[node] == 0:
                colour[node] = 1
                path.append(node)
            step = next(following, None)
            if step is None:
                colour[node] = 2
                path.pop()
                stack.pop()
            elif colour[step] == 1:
                return path[path.index(step) :]
            elif colour[step] == 0:
                stack.append((step, iter(after[step])))
    return []


def _closed(n: int, pairs: Sequence[tuple[int, int]]) -> list[int]:
    before = [0] * n
    for a, b in pairs:
        before[b] |= 1 << a
    for k in range(n):
        for j in range(n):
            if before[j] >> k & 1:
                before[j] |= before[k]
    return before


def _by_states(problem: Sequence_, best: Order, allowed: int, width: int | None) -> Order | None:
    """Return a better order by dynamic programming, or the proof that there is none.

    Only states that can still beat `best` are kept, and only the `width` most promising of a layer, where it is given;
    nothing was left out as long as no layer was wider. None when the states allowed did not reach, or when a narrow
    search found nothing better.
    """
    least_in = _least_in(problem)
    layer: dict[tuple[int, int], int] = {(1, 0): 0}
    left_of = {1: sum(least_in[1:])}
    parents: list[dict[tuple[int, int], int]] = []
    count, whole = 0, True
    for _ in range(problem.n - 1):
        layer, came, left_of = _next_layer(problem, layer, left_of, least_in, best.cost)
        if width is not None and len(layer) > width:
            whole = False
            kept = sorted(layer, key=lambda k: (layer[k] + left_of[k[0]], k))[:width]
            layer = {k: layer[k] for k in kept}
        count += len(layer)
        if count > allowed:
            return None
        parents.append(came)
    if not layer:  # nothing is cheaper than what is known
        return Order(best.path, best.cost, best.cost, "exact search") if whole else None
    key = min(layer, key=lambda k: (layer[k], k))
    return Order(_traced(key, parents), layer[key], layer[key] if whole else best.bound, "exact search")


def _least_in(problem: Sequence_) -> list[int]:
    least = [1 << 60] * problem.n
    for i in range(problem.n):
        for j in problem.follows[i]:
            least[j] = min(least[j], problem.costs[i][j])
    return least


_Layer = dict[tuple[int, int], int]


def _next_layer(
    problem: Sequence_, layer: _Layer, left_of: dict[int, int], least_in: list[int], below: int
) -> tuple[_Layer, _Layer, dict[int, int]]:
    """Return the states one node further that can end below a cost, whence each came, and the least still to come."""
    following: _Layer = {}
    came: _Layer = {}
    left: dict[int, int] = {}
    for (done, last), cost in layer.items():
        rest, row = left_of[done], problem.costs[last]
        for j in problem.follows[last]:
            if done >> j & 1 or problem.before[j] & ~done:
                continue
            value = cost + row[j]
            if value + rest - least_in[j] >= below:
                continue
            key = (done | 1 << j, j)
            if value < following.get(key, below):
                following[key] = value
                came[key] = last
                left[key[0]] = rest - least_in[j]
    return following, came, left


def _traced(key: tuple[int, int], parents: list[dict[tuple[int, int], int]]) -> tuple[int, ...]:
    path = [key[1]]
    for came in reversed(parents):
        done, last = key
        key = (done & ~(1 << last), came[key])
        path.append(key[1])
    return tuple(reversed(path))
