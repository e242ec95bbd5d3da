"""Source: well-known counts of linear extensions: factorials, binomials, zigzag and Catalan numbers, hook lengths of
trees.

Where: no book: orders one part at a time under a precedence; the counts can be worked out by hand. Rows M3 to M11.
"""

from __future__ import annotations

from math import comb, factorial

from storyrod.assembly._loosen import find_stuck
from tests.reference.counting import BASE, CARCASS, RIGHT_, SHELF, body, count_orders, fence, grid


def test_m3_free_parts() -> None:
    assert [count_orders(body(n)) for n in range(1, 7)] == [factorial(n) for n in range(1, 7)]


def test_m4_two_chains() -> None:
    after = [(0, 1), (1, 2), (3, 4), (4, 5), (5, 6)]

    assert count_orders(body(7, after=after)) == comb(7, 3) == 35


def test_m5_fences_are_zigzag_numbers() -> None:
    assert [count_orders(body(n, after=fence(n))) for n in range(2, 8)] == [1, 2, 5, 16, 61, 272]


def test_m6_grids_are_catalan_numbers() -> None:
    assert [count_orders(body(2 * n, after=grid(2, n))) for n in range(2, 7)] == [2, 5, 14, 42, 132]
    assert count_orders(body(9, after=grid(3, 3))) == 42


def test_m7_subsets_of_three_by_inclusion() -> None:
    after = [(a, b) for a in range(8) for b in range(8) if a != b and a & b == a]

    assert count_orders(body(8, after=after)) == 48


def test_m8_full_binary_tree_of_seven() -> None:
    after = [(0, 1), (0, 2), (1, 3), (1, 4), (2, 5), (2, 6)]

    assert count_orders(body(7, after=after)) == 80


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
