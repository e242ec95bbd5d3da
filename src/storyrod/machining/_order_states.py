"""The cheapest order by dynamic programming over (what is done, what was last), a layer for each node more."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from storyrod.machining._order_prices import Prices
from storyrod.machining._order_problem import OrderProblem, RunOrder

_NEVER: Final = 1 << 60

type _Layer = dict[int, dict[int, int]]
"""By what is done (a bit set) and what was last: the cost so far, or what came before it."""


@dataclass(frozen=True, slots=True)
class _Task:
    """One problem, as its layers are worked out.

    Attributes:
        arcs: for each node the cost from every node; without end where that may not come before it.
        through: the prices of entering and of leaving each node.
        below: only what can still end below this cost is kept.
    """

    problem: OrderProblem
    prices: Prices
    arcs: tuple[tuple[int, ...], ...]
    through: tuple[int, ...]
    below: int


def _task(problem: OrderProblem, prices: Prices, below: int) -> _Task:
    arcs = [[_NEVER] * problem.n for _ in range(problem.n)]
    for i in range(problem.n):
        for j in problem.follows[i]:
            arcs[j][i] = problem.costs[i][j]
    through = tuple(a + b for a, b in zip(prices.leave, prices.enter, strict=True))
    return _Task(problem, prices, tuple(map(tuple, arcs)), through, below)


def order_by_states(problem: OrderProblem, best: RunOrder, prices: Prices, allowed: int) -> RunOrder | None:
    """Return the best order, proven; None when the states allowed did not reach.

    Only states that can still beat `best` are kept.
    """
    task = _task(problem, prices, best.cost)
    layer: _Layer = {1: {0: 0}}
    rests = {1: prices.end + sum(task.through[1:])}
    parents: list[_Layer] = []
    count = 0
    for _ in range(problem.n - 1):
        layer, came, rests = _next_layer(task, layer, rests)
        count += sum(map(len, layer.values()))
        if count > allowed:
            return None
        parents.append(came)
    ends = {last: cost for lasts in layer.values() for last, cost in lasts.items() if cost < best.cost}
    if not ends:  # nothing is cheaper than what is known
        return RunOrder(best.path, best.cost, best.cost, "exact search")
    last = min(ends, key=lambda k: (ends[k], k))
    path = _traced((1 << problem.n) - 1, last, parents)
    return RunOrder(path, ends[last], ends[last], "exact search")


def _next_layer(task: _Task, layer: _Layer, rests: dict[int, int]) -> tuple[_Layer, _Layer, dict[int, int]]:
    """Return the states one node further that can end below the cost, what came before each, and their rests.

    The rest of what is done: the prices of all that is still to be entered and left; those of the last one come on top.
    """
    before, nodes = task.problem.before, range(1, task.problem.n)
    following: _Layer = {}
    came: _Layer = {}
    left: dict[int, int] = {}
    for done, lasts in layer.items():
        rest, ends = rests[done], lasts.items()
        for j in nodes:
            if done >> j & 1 or before[j] & ~done:
                continue
            arcs, value, last = task.arcs[j], task.below - rest + task.prices.enter[j], -1
            for i, cost in ends:
                if cost + arcs[i] < value:
                    value, last = cost + arcs[i], i
            if last < 0:
                continue
            now = done | 1 << j
            if now not in following:
                following[now], came[now], left[now] = {}, {}, rest - task.through[j]
            following[now][j] = value
            came[now][j] = last
    return following, came, left


def _traced(done: int, last: int, parents: list[_Layer]) -> tuple[int, ...]:
    path = [last]
    for came in reversed(parents):
        done, last = done & ~(1 << last), came[done][last]
        path.append(last)
    return tuple(reversed(path))
