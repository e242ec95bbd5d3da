"""Source: geometry of a guide bush; sums on guide bush sizes, a forum's thread (2004), router tables of fences.

Bush outside B, cutter d, offset e = (B - d) / 2. Worked by hand in each case; ids J1 to J10 of the check values.
"""

from __future__ import annotations

import pytest

from storyrod.faults import JobError
from storyrod.machining._bush import (
    bush_offset,
    corner_of_cut,
    cut_from_opening,
    disc_slot,
    near_wall_from_base,
    packer_for_base,
    part_round_template,
    plunge,
    slot_travel,
    template_opening,
    walls_from_straight_edge,
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


def test_j3_outside_a_template() -> None:
    assert part_round_template(300, 30, 12.7) == pytest.approx(317.3)


def test_j4_walls_from_a_straight_edge() -> None:
    assert walls_from_straight_edge(30, 12.7) == pytest.approx((8.65, 21.35))


def test_j5_plunge_through_a_template() -> None:
    assert plunge(12, 6.5) == 18.5


def test_j6_corner_of_the_cut() -> None:
    assert corner_of_cut(20, 30, 12.7) == pytest.approx(11.35)
    assert corner_of_cut(0, 30, 12.7) == pytest.approx(6.35)


def test_j7_equal_is_a_bearing_and_smaller_is_refused() -> None:
    assert bush_offset(12, 12) == 0
    with pytest.raises(JobError) as caught:
        bush_offset(10, 12)
    assert caught.value.faults[0].code == "bush-small"
    assert "wider bush" in caught.value.faults[0].do


def test_j8_base_against_a_fence() -> None:
    assert near_wall_from_base(75, 8) == 71


@pytest.mark.parametrize(("depth", "length"), [(8, 54.26), (10, 60.00), (12.3, 65.69)])
def test_j9_disc_cutter(depth: float, length: float) -> None:
    assert disc_slot(50, depth) == pytest.approx(length, abs=0.005)


@pytest.mark.parametrize("depth", [0.0, -1.0, 51.0])
def test_j9_an_impossible_plunge_is_told(depth: float) -> None:
    with pytest.raises(JobError) as caught:
        disc_slot(50, depth)
    assert caught.value.faults[0].allowed == "more than 0, up to 50 mm"


def test_j10_travel_of_a_slot() -> None:
    assert slot_travel(30, 8) == 22


@pytest.mark.parametrize(
    ("base", "centre", "packer"), [(10, 9, 1), (8, 11, -3), (9.5, 17.6 / 2, 0.7), (9, 18 / 2, 0), (9, 22 / 2, -2)]
)
def test_packers_of_the_trade_page(base: float, centre: float, packer: float) -> None:
    """Tool's base b, centre c: b - c under the work, c - b under the tool; t 17.6, b 9.5 gives 0.7."""
    assert packer_for_base(base, centre) == pytest.approx(packer)
