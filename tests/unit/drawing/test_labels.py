"""Labels are moved apart no more than they must be."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.drawing import Bounds, Taken, Text, spread, text_box

places = st.lists(st.floats(0, 1000), min_size=1, max_size=30)


@given(wanted=places, gap=st.floats(1, 50))
def test_spread_labels_keep_their_distance_and_their_order(wanted: list[float], gap: float) -> None:
    placed = spread(wanted, gap)
    order = sorted(range(len(wanted)), key=lambda n: (wanted[n], n))

    for a, b in pairwise(order):
        assert placed[b] - placed[a] >= gap - 1e-6


@given(wanted=places, gap=st.floats(1, 50))
def test_spreading_does_not_move_the_whole(wanted: list[float], gap: float) -> None:
    """The least squares answer keeps the mean."""
    placed = spread(wanted, gap)

    assert sum(placed) == pytest.approx(sum(wanted), abs=1e-6 * len(wanted) * 1000)


def test_labels_far_enough_apart_stay_where_they_are() -> None:
    assert spread([300.0, 0.0, 100.0], 10.0) == (300.0, 0.0, 100.0)


def test_three_in_one_place_stand_about_it() -> None:
    assert spread([50.0, 50.0, 50.0], 4.0) == pytest.approx((46.0, 50.0, 54.0))


def test_a_far_neighbour_is_not_disturbed() -> None:
    assert spread([0.0, 1.0, 500.0], 10.0) == pytest.approx((-4.5, 5.5, 500.0))


def test_taken_finds_the_first_free_place() -> None:
    taken = Taken(1.0)
    taken.take(Bounds(left=-10, right=10, bottom=-3, top=3))
    tries = [Text(at=(0.0, y), text="12", height=2.5) for y in (0.0, 2.0, 8.0, 20.0)]

    found = taken.first_free(tries, 1.0)

    assert found is tries[2]
    assert not taken.is_free(text_box(tries[2], 1.0))
    assert taken.first_free(tries[:3], 1.0) is None


def test_a_leader_is_broken_where_words_stand() -> None:
    taken = Taken(unit=2.0)
    taken.take(Bounds(left=40.0, bottom=-5.0, right=60.0, top=5.0))
    taken.take(Bounds(left=0.0, bottom=30.0, right=200.0, top=40.0))

    assert taken.stretches((0.0, 0.0), (100.0, 0.0), 1.0) == [((0.0, 0.0), (39.0, 0.0)), ((61.0, 0.0), (100.0, 0.0))]
    assert taken.stretches((100.0, 0.0), (50.0, 0.0), 1.0) == [((100.0, 0.0), (61.0, 0.0))]
    assert taken.stretches((10.0, 0.0), (10.0, 60.0), 1.0) == [
        ((10.0, 0.0), (10.0, 29.0)),
        ((10.0, 41.0), (10.0, 60.0)),
    ]
    assert taken.stretches((45.0, 0.0), (55.0, 0.0), 1.0) == []
    assert taken.stretches((0.0, 20.0), (100.0, 20.0), 1.0) == [((0.0, 20.0), (100.0, 20.0))]
