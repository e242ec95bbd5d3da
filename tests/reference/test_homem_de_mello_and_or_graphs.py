"""Source: Homem de Mello and Sanderson on AND/OR graphs of assemblies, 1990 to 1991.

Where: their form of graph, from memory: nodes are connected groups, arcs the ways to part one in two. The counts follow
from closed forms: a chain has n(n + 1)/2 nodes, (n^3 - n)/6 arcs and Catalan(n - 1) trees; parts all joined to all have
2^n - 1, (3^n - 2^(n + 1) + 1)/2 and (2n - 3)!!. Rows M1 and M2.
"""

from __future__ import annotations

import pytest

from tests.reference.counting import all_to_all, body, chain, count_plans


@pytest.mark.parametrize(
    ("n", "of_chain", "of_all"),
    [
        (3, (6, 4, 2), (7, 6, 3)),
        (4, (10, 10, 5), (15, 25, 15)),
        (5, (15, 20, 14), (31, 90, 105)),
        (6, (21, 35, 42), (63, 301, 945)),
    ],
)
def test_m1_chain_and_all_to_all(n: int, of_chain: tuple[int, int, int], of_all: tuple[int, int, int]) -> None:
    assert count_plans(body(n, chain(n))) == of_chain
    assert count_plans(body(n, all_to_all(n))) == of_all


def test_m2_four_parts_with_four_and_with_five_joints() -> None:
    assert count_plans(body(4, [(0, 1), (0, 2), (1, 2), (1, 3)])) == (12, 15, 8)
    assert count_plans(body(4, [(0, 1), (0, 2), (1, 2), (1, 3), (2, 3)])) == (14, 21, 12)
