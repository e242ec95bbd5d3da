"""Source: twins of the published sets, which every clone can draw for itself.

Where: no book: sheets cut up without waste, so that the least is known; least orders and bounds by other searches than
ours, in `twins`.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from benchmarks.sheets.published import one_size, several_sizes
from storyrod.machining._order import find_order
from storyrod.sheets import judge, lay_out
from tests.reference.twins import cut_up, least_cost, least_sheets, one_sheet_size, some_order
from tests.unit.sheets.jobs import kerf_twin

SIZES = [(100, 60), (80, 80), (120, 50)]

TIGHT = [(1, 40, 4, 13), (1, 40, 12, 10), (1, 20, 2, 9), (3, 40, 4, 10), (3, 40, 41, 11), (3, 20, 13, 7)]
TIGHT += [(5, 20, 1, 4), (5, 20, 2, 9), (7, 40, 1, 9), (7, 40, 2, 8), (9, 40, 0, 26), (9, 40, 1, 29)]
"""Class, parts, seed, and the least number of sheets: no fewer can do by the bound, and so many are enough."""


def test_the_fewest_sheets_of_one_size_are_found() -> None:
    for of_class, count, seed, best in TIGHT:
        instance = one_sheet_size(of_class, count, seed)
        parts, stock, rules = one_size(instance)
        plan = lay_out(parts, stock, rules, rounds=1500, tidy=False)
        assert judge(plan, parts, stock, rules) == ()
        assert least_sheets(instance) == len(plan.sheets) == best, (of_class, seed)


@pytest.mark.parametrize("kerf", [0.0, 2.2, 8.0])
def test_sheets_cut_up_without_waste_are_put_together_again_with_any_kerf(kerf: float) -> None:
    for seed in range(6):
        instance = cut_up(SIZES, 3, 20, seed)
        plain, stock, _ = several_sizes(instance)
        parts, stock, rules = kerf_twin(plain, stock, kerf)
        plan = lay_out(parts, stock, rules, rounds=400, tidy=False)
        areas = {s.id: round(s.length + kerf) * round(s.width + kerf) // 100 for s in stock}
        assert judge(plan, parts, stock, rules) == ()
        assert sum(areas[s.stock] for s in plan.sheets) == instance["opt_area"]


def test_sheets_cut_up_are_put_together_again_where_parts_may_turn() -> None:
    """Parts lie as they are given, half of them turned against how they were cut."""
    for seed in range(6):
        instance = cut_up([(244, 122)], 3, 24, seed)
        given = [[h, w, n] if i % 2 else [w, h, n] for i, (w, h, n) in enumerate(instance["parts"])]
        parts, stock, rules = one_size({"sheet": (244, 122), "parts": given})
        plan = lay_out(parts, stock, rules, rounds=400, tidy=False)
        assert judge(plan, parts, stock, rules) == ()
        assert len(plan.sheets) == 3


ORDERS = [(9, 5, 9, 0, 36), (9, 5, 9, 1, 20), (11, 8, 100, 0, 313), (11, 8, 100, 1, 242)]
ORDERS += [(12, 20, 1000, 0, 4195), (12, 20, 1000, 1, 3565), (12, 20, 1000, 2, 4234)]
"""Nodes, pairs in a fixed order, the dearest change, seed, and what the best order costs."""


@pytest.mark.parametrize(("count", "pairs", "most", "seed", "best"), ORDERS)
def test_the_best_order_is_found_and_proven(count: int, pairs: int, most: int, seed: int, best: int) -> None:
    rows, before = some_order(count, pairs, most, seed)
    order = find_order(rows, before, limit_s=60)

    assert least_cost(rows, before) == order.cost == order.bound == best
    assert sum(rows[a][b] for a, b in pairwise(order.path)) == best
    place = {node: n for n, node in enumerate(order.path)}
    assert sorted(order.path) == list(range(count))
    assert all(place[a] < place[b] for a, b in before)
