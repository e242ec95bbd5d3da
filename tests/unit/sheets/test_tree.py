"""The tree under the search: sizes stay tight, nothing is lost, places are real."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from storyrod.sheets._apart import Setting, likeness, settings_of
from storyrod.sheets._tree import (
    PART,
    Node,
    from_rectangles,
    joined,
    kinds_in,
    leaf,
    put_in,
    slots_of,
    stacked,
    without_run,
    without_some,
)
from storyrod.sheets._turning import turned

W, H = 400, 300


def grown(seed: int, most: int = 30) -> Node:
    """Return a tree grown by putting random parts into random places of a sheet."""
    chance = random.Random(seed)
    tree = leaf(chance.randint(5, 90), chance.randint(5, 90), 0)
    for kind in range(1, most):
        w, h = chance.randint(5, 90), chance.randint(5, 90)
        slots = [s for s in slots_of(tree, W, H, 1, 1) if s[0] >= w and s[1] >= h]
        if slots:
            tree = put_in(tree, chance.choice(slots), leaf(w, h, kind))
    return tree


def assert_tight(node: Node) -> None:
    w, h, axis, body = node
    if axis == PART:
        return
    assert len(body) > 1
    assert all(kid[2] != axis for kid in body)
    sides = [kid[axis] for kid in body], [kid[1 - axis] for kid in body]
    assert (w, h)[axis] == sum(sides[0])
    assert (w, h)[1 - axis] == max(sides[1])
    for kid in body:
        assert_tight(kid)


def laid(node: Node, x: int = 0, y: int = 0) -> list[tuple[int, int, Node]]:
    if node[2] == PART:
        return [(x, y, node)]
    out = []
    for kid in node[3]:
        out += laid(kid, x, y)
        x, y = (x + kid[0], y) if node[2] == 0 else (x, y + kid[1])
    return out


@given(st.integers(0, 10**6))
def test_every_place_told_is_room_on_the_sheet(seed: int) -> None:
    tree = grown(seed)

    assert_tight(tree)
    assert tree[0] <= W
    assert tree[1] <= H


@given(st.integers(0, 10**6))
def test_tearing_out_loses_nothing(seed: int) -> None:
    tree = grown(seed)
    for tear in (without_some, without_run):
        gone: list[int] = []
        rest = tear(tree, 0.4 if tear is without_some else 3.0, random.Random(seed), gone)
        kept = [] if rest is None else kinds_in(rest)
        assert sorted(kept + gone) == sorted(kinds_in(tree))
        if rest is not None:
            assert_tight(rest)


@given(st.integers(0, 10**6))
def test_a_tree_can_be_had_back_from_its_places(seed: int) -> None:
    tree = grown(seed)
    back = from_rectangles(laid(tree))

    assert back is not None
    assert back[0] <= tree[0]
    assert back[1] <= tree[1]
    assert_tight(back)
    assert sorted(kinds_in(back)) == sorted(kinds_in(tree))


def test_a_pinwheel_has_no_tree() -> None:
    wheel = [(0, 0, leaf(60, 30, 0)), (60, 0, leaf(30, 60, 1)), (30, 60, leaf(60, 30, 2)), (0, 30, leaf(30, 60, 3))]

    assert from_rectangles(wheel) is None


def test_rows_in_rows_are_one_row() -> None:
    a, b, c = leaf(1, 5, 0), leaf(2, 4, 1), leaf(3, 3, 2)

    assert joined(joined(a, b, 0), c, 0) == stacked(0, [a, b, c]) == (6, 5, 0, (a, b, c))


def test_settings_by_hand() -> None:
    """Two parts of 100 x 50 and one of 100 x 40 above each other on 300 x 200: one crosscut, rips at two widths."""
    tree = stacked(1, [leaf(100, 50, 0), leaf(100, 50, 1), leaf(100, 40, 2)])
    found: dict[Setting, int] = {}
    settings_of(tree, (300, 200), found)

    assert found == {(0, 100): 1, (1, 50): 2, (1, 40): 1}


def test_the_last_of_a_full_row_needs_no_cut() -> None:
    tree = stacked(1, [leaf(100, 50, 0), leaf(100, 40, 1)])
    found: dict[Setting, int] = {}
    settings_of(tree, (100, 90), found)

    assert found == {(1, 50): 1}


def test_likeness_leaves_out_the_order_and_nothing_else() -> None:
    a, b, c = leaf(100, 50, 0), leaf(100, 40, 1), leaf(80, 90, 2)
    one = likeness(stacked(0, [stacked(1, [a, b]), c]))

    assert one == likeness(stacked(0, [c, stacked(1, [b, a])]))
    others = [stacked(1, [a, b, c]), stacked(0, [stacked(1, [a, a]), c]), stacked(0, [stacked(1, [a, b]), c, c])]
    assert one not in {likeness(tree) for tree in others}


@given(st.integers(0, 10**6))
def test_a_tree_that_is_turned_holds_the_same_parts_across(seed: int) -> None:
    tree = grown(seed)
    across = turned(tree)

    assert_tight(across)
    assert across[:2] == (tree[1], tree[0])
    assert turned(across) == tree
    assert sorted(kinds_in(across)) == sorted(kinds_in(tree))
    sides = {node[3] >> 1: node for _, _, node in laid(tree)}
    for _, _, node in laid(across):
        before = sides[node[3] >> 1]
        assert node[:2] == (before[1], before[0])
        assert (node[3] ^ before[3] == 1) == (before[0] != before[1])
