"""Pieces that change places: both fit where the other was, nothing is lost, sizes stay tight."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.sheets._swaps import Piece, apart, edited, fitting, node_of, pieces_of
from storyrod.sheets._tree import PART, Node, kinds_in, leaf, stacked
from tests.unit.sheets.test_tree import H, W, assert_tight, grown


def exchanged(a: Node, b: Node, mine: Piece, its: Piece) -> tuple[Node, Node]:
    x, y = node_of(a, mine), node_of(b, its)
    return edited(a, [(mine[5], mine[6], y)]), edited(b, [(its[5], its[6], x)])


@given(st.integers(0, 10_000))
def test_every_exchange_between_two_sheets_fits_and_keeps_all_parts(seed: int) -> None:
    one, other = grown(seed), grown(seed + 1)
    chance = random.Random(seed)
    mine = pieces_of(one, W, H)
    for piece in chance.sample(mine, min(8, len(mine))):
        for its in fitting(piece, pieces_of(other, W, H)):
            a, b = exchanged(one, other, piece, its)
            assert sorted(kinds_in(a) + kinds_in(b)) == sorted(kinds_in(one) + kinds_in(other))
            for root in (a, b):
                assert root[0] <= W
                assert root[1] <= H
                assert_tight(root)


@given(st.integers(0, 10_000))
def test_every_exchange_within_one_sheet_keeps_all_parts(seed: int) -> None:
    root = grown(seed)
    chance = random.Random(seed)
    pieces = pieces_of(root, W, H)
    for piece in chance.sample(pieces, min(8, len(pieces))):
        for its in fitting(piece, pieces):
            if not apart(piece, its):
                continue
            x, y = node_of(root, piece), node_of(root, its)
            new = edited(root, [(piece[5], piece[6], y), (its[5], its[6], x)])
            assert sorted(kinds_in(new)) == sorted(kinds_in(root))
            assert_tight(new)


@given(st.integers(0, 10_000))
def test_a_piece_has_its_own_size_and_room_for_it(seed: int) -> None:
    root = grown(seed)
    for piece in pieces_of(root, W, H):
        node = node_of(root, piece)
        assert (node[0], node[1]) == piece[:2]
        assert node[0] <= piece[2] <= W
        assert node[1] <= piece[3] <= H


def test_a_sheet_of_one_part_has_no_pieces() -> None:
    assert pieces_of(leaf(10, 10, 0), W, H) == []


def test_of_equal_nodes_the_first_stands_for_all() -> None:
    row = stacked(0, [leaf(50, 40, 0), leaf(50, 40, 0), leaf(30, 20, 1)])

    singles = [p for p in pieces_of(row, W, H) if p[4] is not None]

    assert len(singles) == 2
    assert {p[4][3] >> 1 for p in singles if p[4] is not None} == {0, 1}


def test_a_run_may_grow_by_what_the_row_may() -> None:
    row = stacked(0, [leaf(50, 40, 0), leaf(30, 20, 1), leaf(60, 90, 2)])

    run = next(p for p in pieces_of(row, 150, 100) if p[4] is None)

    assert run[:4] == (80, 40, 90, 100)
    assert sorted(kinds_in(node_of(row, run))) == [0, 1]


@pytest.mark.parametrize(("room", "fits"), [(100, True), (99, False)])
def test_a_piece_goes_only_where_there_is_room(room: int, *, fits: bool) -> None:
    narrow = stacked(0, [leaf(60, 40, 0), leaf(40, 40, 1)])
    wide = stacked(0, [leaf(100, 40, 2), leaf(40, 40, 3)])
    ours = next(p for p in pieces_of(wide, 140, 40) if p[0] == 100)

    found = fitting(ours, pieces_of(narrow, 40 + room, 40))
    assert any(p[0] == 60 for p in found) == fits


def test_a_piece_within_another_is_not_apart_from_it() -> None:
    column = stacked(1, [leaf(50, 40, 0), leaf(50, 20, 1)])
    row = stacked(0, [column, leaf(60, 90, 2)])
    pieces = pieces_of(row, W, H)
    whole = next(p for p in pieces if p[4] == column)
    part = next(p for p in pieces if p[4] is not None and p[4][2] == PART and p[4][3] >> 1 == 0)
    beside = next(p for p in pieces if p[4] is not None and p[4][2] == PART and p[4][3] >> 1 == 2)

    assert not apart(whole, part)
    assert not apart(part, whole)
    assert apart(part, beside)
    assert not apart(whole, beside)  # One row: their order is free anyway.
