"""The cheapest order of things that are changed from one to the next, with some before others.

The problem is the sequential ordering problem: a path from a start through every node, costs counted between neighbours
only, no way back. Costs are whole numbers. Proven by a bound that meets the order found, or by exact dynamic
programming over (what is done, what was last); where that would take too long, the gap is told.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from storyrod.faults import Fault, JobError
from storyrod.machining._order_bound import lower_bound
from storyrod.machining._order_heuristic import good_order
from storyrod.machining._order_prices import find_prices
from storyrod.machining._order_problem import OrderProblem, RunOrder
from storyrod.machining._order_states import order_by_states

STATES_PER_SECOND: Final = 120_000
"""States of dynamic programming that are allowed for each second of the limit: a count, so that answers repeat."""


def find_order(
    costs: Sequence[Sequence[int]],
    before: Iterable[tuple[int, int]] = (),
    *,
    limit_s: float = 10.0,
    names: Sequence[str] = (),
) -> RunOrder:
    """Return the cheapest order found of nodes 0..n-1; node 0 is the start.

    Raises:
        JobError: when the precedence is contradictory; the fault names a ring of it.
    """
    pairs = tuple(before)
    refuse_rings(len(costs), pairs, names)
    problem = OrderProblem(costs, (*pairs, *alike_in_turn(costs, pairs)))
    if problem.n <= 2:
        path = tuple(range(problem.n))
        return RunOrder(path, problem.cost_of(path), problem.cost_of(path), "nothing to choose")
    path = good_order(problem)
    prices = find_prices(problem)
    best = RunOrder(path, problem.cost_of(path), lower_bound(problem, prices), "bound")
    if best.proven:
        return best
    return order_by_states(problem, best, prices, int(limit_s * STATES_PER_SECOND)) or best


def alike_in_turn(costs: Sequence[Sequence[int]], pairs: Iterable[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Return pairs of nodes that may change places in every order at no cost: the lower may as well come first.

    Half as much is then to be searched for each pair, and no best order is lost but for its mirror. Two drills of one
    machine are such a pair.
    """
    n = len(costs)
    earlier: list[set[int]] = [set() for _ in range(n)]
    later: list[set[int]] = [set() for _ in range(n)]
    for a, b in pairs:
        earlier[b].add(a)
        later[a].add(b)
    found: list[tuple[int, int]] = []
    last: dict[tuple[object, ...], list[int]] = {}
    for j in range(1, n):
        rough = (frozenset(earlier[j]), frozenset(later[j]), tuple(sorted(costs[j])))
        before = last.setdefault(rough, [])
        i = next((i for i in before if _exchangeable(costs, i, j)), None)
        if i is None:
            before.append(j)
        else:
            found.append((i, j))
            before[before.index(i)] = j
    return tuple(found)


def _exchangeable(costs: Sequence[Sequence[int]], i: int, j: int) -> bool:
    """Return whether all costs are the same when two nodes change their numbers."""
    others = (k for k in range(len(costs)) if k not in (i, j))
    return costs[i][j] == costs[j][i] and all(costs[i][k] == costs[j][k] and costs[k][i] == costs[k][j] for k in others)


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
                allowed="an order in which nothing comes before itself",
                do="Drop one of these rules.",
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
