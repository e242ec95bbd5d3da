"""A bound on any order: the cheapest tree of arcs that reaches every node from the start.

A path is such a tree, so no path is cheaper. Worked out by the method of Chu, Liu and Edmonds (from memory). What is
left of each arc after the prices of leaving and entering has a cheapest tree of its own, which comes on top of the
prices: the additive bound of Fischetti and Toth (1989, from memory).
"""

from __future__ import annotations

from storyrod.machining._order_prices import Prices
from storyrod.machining._order_problem import OrderProblem

type _Arc = tuple[int, int, int]


def lower_bound(problem: OrderProblem, prices: Prices) -> int:
    """Return the better of the bounds by the cheapest tree alone and by the prices with a tree on top."""
    arcs = [(i, j, problem.costs[i][j]) for i in range(problem.n) for j in problem.follows[i]]
    left = [(i, j, cost - prices.leave[i] - prices.enter[j]) for i, j, cost in arcs]
    return max(_cheapest_tree(arcs, problem.n), prices.total + _cheapest_tree(left, problem.n))


def _cheapest_tree(arcs: list[_Arc], count: int) -> int:
    """Return the cost of the cheapest tree of arcs (from, to, cost) out of node 0 to all others."""
    total = 0
    root = 0
    while True:
        best: list[tuple[int, int]] = [(1 << 60, -1)] * count
        for i, j, cost in arcs:
            if j not in (i, root) and cost < best[j][0]:
                best[j] = (cost, i)
        total += sum(best[j][0] for j in range(count) if j != root)
        label, rings = _rings(best, root, count)
        if rings == 0:
            return total
        arcs = [(label[i], label[j], cost - (best[j][0] if j != root else 0)) for i, j, cost in arcs
                if label[i] != label[j]]  # fmt: skip
        root, count = label[root], max(label) + 1


def _rings(best: list[tuple[int, int]], root: int, count: int) -> tuple[list[int], int]:
    """Return a label for each node, one and the same for the nodes of a ring, and how many rings there are."""
    label, seen = [-1] * count, [-1] * count
    rings = 0
    for start in range(count):
        node = start
        while node != root and seen[node] == -1 and label[node] == -1:
            seen[node] = start
            node = best[node][1]
        if node != root and seen[node] == start and label[node] == -1:
            step = best[node][1]
            label[node] = rings
            while step != node:
                label[step] = rings
                step = best[step][1]
            rings += 1
    number = rings
    for node in range(count):
        if label[node] == -1:
            label[node] = number
            number += 1
    return label, rings
