"""Sources of the plain workshop's figures: measuring guides of several drawer-box suppliers, which agree (runners, room
below and above), a trade exam question on side-mounted guides (12.5 to 13 mm a side), and an account of the 32 mm
system (37, 32, 5); hinge cups and how many hinges a door takes: common practice, no source.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import Fronts, HandHold, HandHoldKind, LooseShelves
from storyrod.model.workshop import RunnerMount


def test_side_mounted_runners_leave_half_an_inch_each_side() -> None:
    """600 outside, two sides of 18: opening 564, box 538.6."""
    for runner in packaged_workshop().runners:
        if runner.mount is RunnerMount.SIDE:
            assert 12.5 <= runner.room_each_side <= 13.0
            assert 564 - 2 * runner.room_each_side == pytest.approx(538.6)


def test_under_mounted_runners_make_the_inside_42_less() -> None:
    assert {r.inside_less for r in packaged_workshop().runners if r.mount is RunnerMount.UNDER} == {42.0}


def test_rooms_of_runners_are_those_of_the_guides() -> None:
    for runner in packaged_workshop().runners:
        assert runner.room_above == 10.0
        assert 12.0 <= runner.room_below <= 15.0
        assert runner.clear_behind >= 5.0
        assert runner.screws[0] == 37.0
        assert all((b - a) % 32 == 0 for a, b in pairwise(runner.screws))
        assert all(b - a == 50 for a, b in pairwise(runner.lengths))


def test_light_runners_carry_drawers_up_to_600_or_700_and_heavy_ones_to_1000() -> None:
    widths = {r.code: r.width_max for r in packaged_workshop().runners}

    assert widths["side light"] == 600.0
    assert 900.0 <= widths["side heavy"] <= 1000.0


def test_the_cup_hinge_has_usual_figures() -> None:
    (hinge,) = packaged_workshop().hinges

    assert (hinge.cup, hinge.plate_in, hinge.plate_pitch) == (35.0, 37.0, 32.0)
    assert 20.5 <= hinge.cup_in <= 23.5
    assert 11.0 <= hinge.cup_depth <= 13.5


def test_rows_of_holes_are_the_32_mm_system() -> None:
    rows = LooseShelves()

    assert (rows.hole, rows.pitch, rows.from_front) == (5.0, 32.0, 37.0)
    assert 12.0 <= rows.hole_depth <= 13.0
    assert rows.margin == 64.0  # `test_system_32` counts the holes that this gives


def test_fronts_leave_3_between_and_half_of_it_at_the_outside() -> None:
    fronts = Fronts()

    assert (fronts.gap, fronts.reveal) == (3.0, 1.5)
    hold = HandHold(kind=HandHoldKind.SLOT)
    assert 90 <= hold.length <= 110  # four fingers
    assert 22 <= hold.height <= 30


def test_saw_and_handling_are_within_usual_figures() -> None:
    shop = packaged_workshop()

    assert 2.4 <= shop.saw.kerf <= 3.2  # a table saw
    assert 15 <= shop.handling.one_person_kg <= 20
    assert 4 <= shop.handling.open_time_min <= 6  # white glue


def test_no_router_cutter_to_25_mm_is_said_to_turn_faster_than_the_slower_chart() -> None:
    """Router speeds: general charts, the slower of each; 22,000 to 25 mm.

    A disc of 100 mm in a fence tool is no router cutter: its own tool turns it at about 10,000 (common practice).
    """
    for cutter in packaged_workshop().cutters:
        if cutter.max_rpm is not None and cutter.diameter <= 25.4:
            assert cutter.max_rpm <= 22_000
