"""The order: least cost, precedence kept, judged by trying every order."""

from __future__ import annotations

from itertools import pairwise, permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.machining._order import alike_in_turn, find_order
from storyrod.machining._order_bound import lower_bound
from storyrod.machining._order_heuristic import good_order, nearest_order
from storyrod.machining._order_prices import find_prices
from storyrod.machining._order_problem import OrderProblem, RunOrder
from storyrod.machining._order_states import order_by_states

Problem = tuple[list[list[int]], list[tuple[int, int]]]


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    n = draw(st.integers(2, 6))
    rows = [[draw(st.integers(0, 9)) for _ in range(n)] for _ in range(n)]
    pairs = draw(st.lists(st.tuples(st.integers(1, n - 1), st.integers(1, n - 1)), max_size=4))
    return rows, [(a, b) for a, b in pairs if a < b]


def best_of_all(rows: list[list[int]], before: list[tuple[int, int]]) -> int:
    return min(
        sum(rows[a][b] for a, b in pairwise((0, *order)))
        for order in permutations(range(1, len(rows)))
        if all(order.index(a) < order.index(b) for a, b in before)
    )


@settings(max_examples=60)
@given(problem=problems())
def test_no_order_is_cheaper(problem: Problem) -> None:
    rows, before = problem
    order = find_order(rows, before)

    assert order.cost == order.bound == best_of_all(rows, before)
    assert all(order.path.index(a) < order.path.index(b) for a, b in before)


@st.composite
def problems_with_twins(draw: st.DrawFn) -> Problem:
    """Draw a problem of few kinds of node, each there once or more, with precedence between whole kinds."""
    kinds = [0, *sorted(draw(st.lists(st.integers(1, 3), min_size=3, max_size=6)))]
    between = {(a, b): draw(st.integers(0, 9)) for a in range(4) for b in range(4)}
    rows = [[between[a, b] for b in kinds] for a in kinds]
    first, then = draw(st.sampled_from([(1, 2), (1, 3), (2, 3), (3, 1), (0, 0)]))
    nodes = range(1, len(kinds))
    return rows, [(i, j) for i in nodes for j in nodes if kinds[i] == first != kinds[j] == then]


@settings(max_examples=40)
@given(problem=problems_with_twins())
def test_nodes_that_may_change_places_lose_no_cheapest_order(problem: Problem) -> None:
    rows, before = problem
    twins = alike_in_turn(rows, before)

    assert len(twins) >= len(rows) - 1 - 3
    assert find_order(rows, before).cost == best_of_all(rows, before) == best_of_all(rows, [*before, *twins])


def test_nodes_that_differ_in_one_cost_or_in_precedence_do_not_change_places() -> None:
    same = [[0, 4, 4, 7], [0, 0, 2, 5], [0, 2, 0, 5], [0, 3, 3, 0]]

    assert alike_in_turn(same, []) == ((1, 2),)
    assert alike_in_turn(same, [(1, 3)]) == ()
    assert alike_in_turn(same, [(2, 1)]) == ()
    for i, j in ((0, 1), (1, 3), (2, 1), (3, 2)):
        other = [list(row) for row in same]
        other[i][j] += 1
        assert alike_in_turn(other, []) == ()


@settings(max_examples=60)
@given(problem=problems())
def test_the_bound_is_never_above_and_the_quick_orders_never_below(problem: Problem) -> None:
    rows, before = problem
    known, best = OrderProblem(rows, before), best_of_all(rows, before)

    prices = find_prices(known)
    assert all(prices.leave[i] + prices.enter[j] <= rows[i][j] for i in range(known.n) for j in known.follows[i])
    assert prices.total <= lower_bound(known, prices) <= best
    assert known.cost_of(good_order(known)) >= best
    assert known.cost_of(good_order(known)) <= known.cost_of(nearest_order(known))


@settings(max_examples=60)
@given(problem=problems())
def test_states_find_a_cheaper_order_or_prove_that_there_is_none(problem: Problem) -> None:
    rows, before = problem
    known, best = OrderProblem(rows, before), best_of_all(rows, before)
    start = nearest_order(known)
    first = RunOrder(start, known.cost_of(start), 0, "start")
    order = order_by_states(known, first, find_prices(known), 10_000)

    assert order is not None
    assert known.cost_of(order.path) == order.cost
    assert all(order.path.index(a) < order.path.index(b) for a, b in before)
    assert order.bound == best == order.cost <= first.cost


def test_where_too_many_states_would_be_wanted_the_gap_is_told() -> None:
    rows = [[(7 * i + 11 * j + i * j) % 23 + 1 for j in range(24)] for i in range(24)]
    order = find_order(rows, [(2, 9), (9, 4), (15, 3), (6, 18)], limit_s=0.001)

    assert sorted(order.path) == list(range(24))
    assert sum(rows[a][b] for a, b in pairwise(order.path)) == order.cost > order.bound > 0


def test_the_same_problem_has_the_same_answer() -> None:
    rows = [[(7 * i + 3 * j) % 5 for j in range(9)] for i in range(9)]

    assert find_order(rows) == find_order(rows)
