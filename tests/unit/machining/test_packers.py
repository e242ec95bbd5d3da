"""Packers: the fewest on the shelf within 0.1 mm, else one to mill."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.faults import JobError
from storyrod.machining import stack_packers
from storyrod.machining._packers import taped
from storyrod.measure.writing import METRIC

SHELF = (0.2, 0.3, 0.5, 0.8, 1.0, 2.0, 3.0, 4.0, 6.0, 9.0, 12.0, 18.0)


@pytest.mark.parametrize(
    ("wanted", "count", "made"),
    [(0, 0, 0), (0.1, 0, 0), (1, 1, 1), (0.7, 1, 0.8), (7.0, 2, 7), (0.15, 1, 0.2), (15.3, 3, 15.3), (0.23, 1, 0.2)],
)
def test_the_fewest_and_of_these_the_nearest(wanted: float, count: int, made: float) -> None:
    stack = stack_packers(wanted, SHELF)

    assert (len(stack.pieces), stack.mill) == (count, None)
    assert stack.made == pytest.approx(made)


@pytest.mark.parametrize(("wanted", "mill"), [(7.4, 7.4), (7.44, 7.4), (7.45, 7.5), (0.15, 0.15)])
def test_none_on_the_shelf_is_milled(wanted: float, mill: float) -> None:
    stack = stack_packers(wanted, (3.0, 9.0))

    assert (stack.pieces, stack.mill) == ((), mill)


def test_an_empty_shelf_needs_nothing_for_nothing() -> None:
    assert stack_packers(0.05, ()).made == 0
    assert stack_packers(2.0, ()).mill == 2.0


def test_a_piece_is_there_once() -> None:
    assert stack_packers(6.0, (3.0,)).mill == 6.0


def test_what_is_wanted_is_not_rounded_before_a_stack_is_taken() -> None:
    """3.1004 was taken for 3.100, and a packer of 3 for near enough: 0.1004 off, told as 0.0039" in inch jobs."""
    assert stack_packers(3.1004, (3.0,)).mill == 3.1
    assert stack_packers(3.0996, (3.0,)).pieces == (3.0,)
    assert stack_packers(3.1, (3.0,)).pieces == (3.0,)


def test_what_is_too_thin_for_a_packer_is_tape() -> None:
    assert taped(0.15).told(METRIC) == "no packer: tape 0.15 thick"
    assert taped(0.29).told(METRIC) == "no packer: tape 0.3 thick"
    assert taped(0.26).told(METRIC) == "no packer: tape 0.25 thick"
    assert (taped(0.15).made, taped(0.15).pieces) == (0.15, ())


def test_less_than_nothing_is_a_fault() -> None:
    with pytest.raises(JobError) as caught:
        stack_packers(-2.0, SHELF)
    assert caught.value.faults[0].code == "packer-negative"


@given(
    shelf=st.lists(st.integers(1, 120).map(lambda n: n / 10), max_size=8, unique=True),
    wanted=st.integers(0, 250).map(lambda n: n / 10),
)
def test_no_smaller_set_would_do(shelf: list[float], wanted: float) -> None:
    """Judged by trying every set."""
    fits = [
        len(some)
        for count in range(len(shelf) + 1)
        for some in combinations(shelf, count)
        if abs(sum(some) - wanted) <= 0.1 + 1e-9
    ]
    stack = stack_packers(wanted, shelf)

    if fits:
        assert (len(stack.pieces), stack.mill) == (min(fits), None)
        assert abs(stack.error) <= 0.1 + 1e-9
    else:
        assert stack.mill == pytest.approx(wanted)
