"""Counts of orders and of plans that are well known.

Ways of putting n parts together by joining two connected groups at a time, as nodes, arcs and trees of an AND/OR
graph: form after Homem de Mello and Sanderson, 1990 to 1991 (from memory); the counts follow from closed forms: a
chain has n(n + 1)/2 nodes, (n^3 - n)/6 arcs and Catalan(n - 1) trees; parts all joined to all have 2^n - 1,
(3^n - 2^(n + 1) + 1)/2 and (2n - 3)!!.

Orders one part at a time under a precedence are linear extensions; the counts named (factorials, binomials, zigzag
and Catalan numbers, hook lengths of trees) are well-known sequences. General judge: networkx, all topological sorts.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cache
from math import comb, factorial

import networkx as nx
import pytest

from storyrod.assembly._body import Body
from storyrod.assembly._groups import Groups
from storyrod.assembly._loosen import find_stuck
from storyrod.assembly._splits import Splitter
from storyrod.assembly._ties import Hold, Move, Tie
from storyrod.model.workshop import Handling
from tests.unit.assembly.pieces import BUTT, LEFT, RIGHT, across, joined, joint, panel

Pairs = Sequence[tuple[int, int]]

ANY = joint(1, panel("shelf", across(0)), panel("left", LEFT), BUTT)


def body(count: int, joined_pairs: Pairs = (), after: Pairs = ()) -> Body:
    """Return parts of no shape; in `after`, the first of a pair must be there before the second goes in."""
    ties = tuple(
        Tie(
            number=n, joint=ANY, entering=a, receiving=b, hold=Hold.PLAIN, home=0, clear=0.0, travel=0.0, locks=(),
            stops=False, fast=True, glue=False, clamps=False, screws=False, opposite=(),
        )
        for n, (a, b) in enumerate(joined_pairs)
    )  # fmt: skip
    stops = [0] * count
    for first, second in after:
        stops[first] |= 1 << second
    one = joined({"left": LEFT, "right": RIGHT}, []).cases[0].panels[0]
    return Body(
        code="carcass", panels=(one,) * count, blocks=((0.0, 0.0, 0.0, 1.0, 1.0, 1.0),) * count,
        mass_kg=(1.0,) * count, ties=ties, moves=(Move(unseat=-1, by=0.0, out=0),), stops=(tuple(stops),),
        rests=((0,) * count,) * 6,
    )  # fmt: skip


def count_plans(whole: Body) -> tuple[int, int, int]:
    """Return the groups that can be made, the ways to part one in two, and whole plans."""
    splitter = Splitter(Groups(whole, Handling()), narrow=False)
    nodes: set[int] = set()
    arcs: set[tuple[int, frozenset[int]]] = set()

    @cache
    def trees(group: int) -> int:
        nodes.add(group)
        if not group & (group - 1):
            return 1
        parts = {frozenset((s.mover, s.base)) for s in splitter.of(group)}
        arcs.update((group, p) for p in parts)
        return sum(trees(min(p)) * trees(max(p)) for p in parts)

    total = trees(whole.everything)
    return len(nodes), len(arcs), total


def count_orders(whole: Body) -> int:
    """Return the orders in which parts go in one at a time."""
    splitter = Splitter(Groups(whole, Handling()), narrow=True, whole=False)

    @cache
    def orders(group: int) -> int:
        if not group & (group - 1):
            return 1
        return sum(orders(s.base) for s in splitter.of(group) if not s.mover & (s.mover - 1))

    return orders(whole.everything)


def chain(n: int) -> Pairs:
    return [(i, i + 1) for i in range(n - 1)]


def all_to_all(n: int) -> Pairs:
    return list(itertools.combinations(range(n), 2))


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


def test_m3_free_parts() -> None:
    assert [count_orders(body(n)) for n in range(1, 7)] == [factorial(n) for n in range(1, 7)]


def test_m4_two_chains() -> None:
    after = [(0, 1), (1, 2), (3, 4), (4, 5), (5, 6)]

    assert count_orders(body(7, after=after)) == comb(7, 3) == 35


def fence(n: int) -> Pairs:
    return [(i, i + 1) if i % 2 == 0 else (i + 1, i) for i in range(n - 1)]


def test_m5_fences_are_zigzag_numbers() -> None:
    assert [count_orders(body(n, after=fence(n))) for n in range(2, 8)] == [1, 2, 5, 16, 61, 272]


def grid(rows: int, columns: int) -> Pairs:
    across_row = [(r * columns + c, r * columns + c + 1) for r in range(rows) for c in range(columns - 1)]
    down = [(r * columns + c, (r + 1) * columns + c) for r in range(rows - 1) for c in range(columns)]
    return across_row + down


def test_m6_grids_are_catalan_numbers() -> None:
    assert [count_orders(body(2 * n, after=grid(2, n))) for n in range(2, 7)] == [2, 5, 14, 42, 132]
    assert count_orders(body(9, after=grid(3, 3))) == 42


def test_m7_subsets_of_three_by_inclusion() -> None:
    after = [(a, b) for a in range(8) for b in range(8) if a != b and a & b == a]

    assert count_orders(body(8, after=after)) == 48


def test_m8_full_binary_tree_of_seven() -> None:
    after = [(0, 1), (0, 2), (1, 3), (1, 4), (2, 5), (2, 6)]

    assert count_orders(body(7, after=after)) == 80


LEFT_, BASE, SHELF, TOP, RIGHT_, BACK = range(6)
CARCASS = [(LEFT_, p) for p in (BASE, SHELF, TOP)] + [(p, RIGHT_) for p in (BASE, SHELF, TOP)] + [(RIGHT_, BACK)]


def test_m9_carcass_from_one_side() -> None:
    assert count_orders(body(6, after=CARCASS)) == 6
    from_the_other = [({0: 4, 4: 0}.get(a, a), {0: 4, 4: 0}.get(b, b)) for a, b in CARCASS]
    assert count_orders(body(6, after=CARCASS)) + count_orders(body(6, after=from_the_other)) == 12


def test_m10_with_a_divider_dowelled_into_base_and_shelf() -> None:
    divider = 6
    after = [*CARCASS, (BASE, divider), (divider, SHELF), (divider, RIGHT_)]

    assert count_orders(body(7, after=after)) == 4


def test_m11_back_slid_down_grooves_then_the_top() -> None:
    left, base, shelf, right, back, top = range(6)
    after = [(left, base), (left, shelf), (base, right), (shelf, right), (right, back), (back, top)]
    assert count_orders(body(6, after=after)) == 2

    shut = [*after, (top, back)]
    assert count_orders(body(6, after=shut)) == 0
    (stuck,) = find_stuck(body(6, after=shut), 1 << back | 1 << top)
    assert stuck == 1 << back | 1 << top


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
