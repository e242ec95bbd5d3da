"""Source: sums on guide bush sizes, a forum's thread, 2004.

Where: offset e = (B - d) / 2 of a bush B and a cutter d, the opening for a cut, and back; the rest is geometry worked
by hand. Rows J1, J2, J5 to J8.
"""

from __future__ import annotations

import pytest

from storyrod.faults import JobError
from storyrod.trade.bush import (
    bush_offset,
    corner_of_cut,
    cut_from_opening,
    near_wall_from_base,
    opening_corner,
    plunge,
    template_opening,
)


@pytest.mark.parametrize(
    ("bush", "cutter", "offset"),
    [(30, 12.7, 8.65), (17, 8, 4.5), (24, 10, 7.0), (40, 6, 17.0), (27, 16, 5.5), (15, 9, 3)],
)
def test_j1_offset(bush: float, cutter: float, offset: float) -> None:
    assert bush_offset(bush, cutter) == pytest.approx(offset, rel=1e-9)


def test_j2_opening_and_back() -> None:
    """18.0 + (30 - 12.7) = 35.3; a slot 40 x 8 with a bush of 16 takes 48 x 16."""
    assert template_opening(18.0, 30, 12.7) == pytest.approx(35.3)
    assert cut_from_opening(35.3, 30, 12.7) == pytest.approx(18.0)
    assert (template_opening(40, 16, 8), template_opening(8, 16, 8)) == (48, 16)


def test_j5_plunge_through_a_template() -> None:
    assert plunge(12, 6.5) == 18.5


def test_j6_corner_of_the_cut() -> None:
    assert corner_of_cut(20, 30, 12.7) == pytest.approx(11.35)
    assert corner_of_cut(0, 30, 12.7) == pytest.approx(6.35)
    assert opening_corner(11.35, 30, 12.7) == pytest.approx(20)
    assert opening_corner(0, 30, 12.7) == 0


def test_j7_equal_is_a_bearing_and_smaller_is_refused() -> None:
    assert bush_offset(12, 12) == 0
    with pytest.raises(JobError) as caught:
        bush_offset(10, 12)
    assert caught.value.faults[0].code == "bush-small"
    assert "wider bush" in caught.value.faults[0].do


def test_j8_base_against_a_fence() -> None:
    assert near_wall_from_base(75, 8) == 71


def test_an_opening_s_corner_as_tight_as_the_bush_is_not_tighter_than_it() -> None:
    """A bush of 20 turns in a corner of radius 10 and no tighter: the cutter of 12 leaves its own 6."""
    assert corner_of_cut(10.0, 20.0, 12.0) == 6.0
    assert corner_of_cut(10.5, 20.0, 12.0) == 6.5
    assert corner_of_cut(9.9, 20.0, 12.0) == 6.0
