"""Source: networkx 3.7, a library of graphs.

Where: `all_topological_sorts` and `find_cycle`: orders of parts under a precedence. Row M12.
"""

from __future__ import annotations

import networkx as nx
import pytest

from storyrod.assembly._loosen import find_stuck
from tests.reference.counting import CARCASS, Pairs, body, count_orders, fence, grid


def test_m12_a_cycle_has_no_order_and_is_what_is_stuck() -> None:
    after = [(0, 1), (1, 2), (2, 3), (3, 1), (0, 4)]

    (stuck,) = find_stuck(body(5, after=after))

    on_cycle = {edge[0] for edge in nx.find_cycle(nx.DiGraph(after))}
    assert {i for i in range(5) if stuck >> i & 1} >= on_cycle
    assert count_orders(body(5, after=after)) == 0


@pytest.mark.parametrize("after", [CARCASS, fence(6), grid(2, 3), [(0, 3), (1, 3), (2, 5)]])
def test_counts_agree_with_all_topological_sorts(after: Pairs) -> None:
    graph = nx.DiGraph(after)
    graph.add_nodes_from(range(6))

    assert count_orders(body(6, after=after)) == sum(1 for _ in nx.all_topological_sorts(graph))
