"""Source: sizes of fronts, worked by hand.

Where: no book: fronts that share a divider of t cover (t - gap) / 2 of it each; n equal fronts over a height H are (H -
top - bottom - (n - 1) gap) / n high; graduated ones h_1 + (i - 1) k with the same sum. Inset gaps: common practice, no
source.
"""

from __future__ import annotations

import pytest

from storyrod.carcass import build
from storyrod.model.job import Drawers, FrontKind, Fronts
from storyrod.model.panel import Panel, Role
from tests.builders import case, columns, door, drawer, job, opening, rows, workshop

DRAWERS = Drawers(board="b12", bottom_board="b6")


def test_half_overlay_on_a_shared_divider_of_18_is_7_and_a_half() -> None:
    of = build(job(case(inside=columns(door(), door()))), workshop()).cases[0]

    divider = next(p for p in of.panels if p.role is Role.DIVIDER)
    left, right = (p for p in of.panels if p.role is Role.DOOR)
    assert left.box.high.x - divider.box.low.x == 7.5
    assert divider.box.high.x - right.box.low.x == 7.5
    assert right.box.low.x - left.box.high.x == 3


def test_equal_fronts_over_a_height() -> None:
    """Three equal fronts over 720 with 1.5 above and below and 3 between: (720 - 3 - 6) / 3 = 237.

    The outer fronts cover 16.5 + 7.5 of what bounds their openings, the middle one 7.5 + 7.5: 213, 222 and 213 clear.
    """
    inside = rows(drawer(213), drawer(222), drawer(213))
    of = build(job(case(inside=inside, drawers=DRAWERS)), workshop()).cases[0]

    assert [p.width for p in of.panels if p.role is Role.DRAWER_FRONT] == [237, 237, 237]


def test_graduated_fronts_grow_by_a_step_and_keep_the_sum() -> None:
    """197, 237 and 277 (k = 40) over the same 711 mm of front, from openings 173, 222 and 253 clear."""
    inside = rows(drawer(173), drawer(222), drawer(253))
    of = build(job(case(inside=inside, drawers=DRAWERS)), workshop()).cases[0]

    fronts: list[Panel] = [p for p in of.panels if p.role is Role.DRAWER_FRONT]
    assert [p.width for p in fronts] == [197, 237, 277]
    assert sum(p.width for p in fronts) + 2 * 3 + 2 * 1.5 == 720


@pytest.mark.parametrize("gap", [1.5, 2.0, 3.0])
def test_an_inset_front_is_its_opening_less_the_gap_all_round(gap: float) -> None:
    inside = rows(drawer(140), opening())
    fronts = Fronts(kind=FrontKind.INSET, gap=gap)
    of = build(job(case(inside=inside, fronts=fronts, drawers=DRAWERS)), workshop()).cases[0]

    front = next(p for p in of.panels if p.role is Role.DRAWER_FRONT)
    assert (front.length, front.width) == (564 - 2 * gap, 140 - 2 * gap)
