"""Source: sizes of fronts, worked by hand.

Where: no book: fronts that share a divider of t cover (t - gap) / 2 of it each; n equal fronts over a height H are (H -
top - bottom - (n - 1) gap) / n high; graduated ones h_1 + (i - 1) k with the same sum. Inset gaps: common practice, no
source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.carcass import build
from storyrod.measure.space import Axis
from storyrod.model.job import Drawers, FrontKind, Fronts, GraduatedBy, Graduation
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


def test_graduated_fronts_are_asked_for_by_their_step_or_ratio() -> None:
    """Three fronts share 720 - 1.5 - 1.5 - 2 x 3 = 711 mm.

    By a step of 40: h + (h + 40) + (h + 80) = 711, so h = 197. By a ratio of 1.25: h (1 + 1.25 + 1.5625) = 711, so
    h = 711 / 3.8125 = 186.4918, then 233.1148 and 291.3934. Equal ones are 237.
    """
    for graduated, wanted in (
        (Graduation(by=GraduatedBy.EQUAL), [237, 237, 237]),
        (Graduation(by=GraduatedBy.STEP, step=40), [197, 237, 277]),
        (Graduation(by=GraduatedBy.RATIO, ratio=1.25), [186.4918, 233.1148, 291.3934]),
    ):
        inside = rows(drawer(), drawer(), drawer(), graduated=graduated)
        of = build(job(case(inside=inside, drawers=DRAWERS)), workshop()).cases[0]

        assert [p.width for p in of.panels if p.role is Role.DRAWER_FRONT] == pytest.approx(wanted, abs=1e-4)


def test_a_front_of_a_height_of_its_own_makes_its_row() -> None:
    """A front of 180 at the top lies 16.5 over the top and 7.5 over the shelf below: its row is 156 clear.

    The others share 684 - 156 - 2 x 18 = 492: 246 each.
    """
    inside = rows(drawer(front_height=180.0), opening(), opening())
    of = build(job(case(inside=inside, drawers=DRAWERS)), workshop()).cases[0]

    assert [o.box.size(Axis.Z) for o in of.openings[1:]] == [156, 246, 246]
    assert next(p.width for p in of.panels if p.role is Role.DRAWER_FRONT) == 180


def test_gaps_at_the_case_s_sides_differ_from_those_between() -> None:
    """Strips of 4 over, 2 under, 1 at the left and 6 at the right of two fronts with 3 between them, 600 x 720 outside.

    Overlay: 600 - 1 - 6 = 593 long; 720 - 4 - 2 - 3 = 711 for both, 355.5 each. Inset, an opening of 564 x 333: the
    upper one is 564 - 1 - 6 = 557 long and 333 - 4 - 3 = 326 high, the lower one 333 - 3 - 2 = 328.
    """
    fronts = Fronts(at_top=4.0, at_bottom=2.0, at_left=1.0, at_right=6.0)
    inside = rows(drawer(), drawer(), graduated=Graduation(by=GraduatedBy.EQUAL))
    of = build(job(case(inside=inside, fronts=fronts, drawers=DRAWERS)), workshop()).cases[0]
    assert [(p.length, p.width) for p in of.panels if p.role is Role.DRAWER_FRONT] == [(593, 355.5), (593, 355.5)]

    inset = replace(fronts, kind=FrontKind.INSET)
    of = build(job(case(inside=rows(drawer(), drawer()), fronts=inset, drawers=DRAWERS)), workshop()).cases[0]
    assert [(p.length, p.width) for p in of.panels if p.role is Role.DRAWER_FRONT] == [(557, 326), (557, 328)]


def test_inset_and_overlay_fronts_stand_in_one_case() -> None:
    """An inset front is 333 - 2 x 3 = 327 high; the door below lies 7.5 over the shelf and 16.5 over the base."""
    inside = rows(drawer(front_kind=FrontKind.INSET), door())
    of = build(job(case(inside=inside, drawers=DRAWERS)), workshop()).cases[0]

    front = next(p for p in of.panels if p.role is Role.DRAWER_FRONT)
    hung = next(p for p in of.panels if p.role is Role.DOOR)
    assert (front.width, front.box.low.y) == (327, 0)
    assert (hung.width, hung.box.high.y) == (333 + 7.5 + 16.5, 0)


@pytest.mark.parametrize("gap", [1.5, 2.0, 3.0])
def test_an_inset_front_is_its_opening_less_the_gap_all_round(gap: float) -> None:
    inside = rows(drawer(140), opening())
    fronts = Fronts(kind=FrontKind.INSET, gap=gap)
    of = build(job(case(inside=inside, fronts=fronts, drawers=DRAWERS)), workshop()).cases[0]

    front = next(p for p in of.panels if p.role is Role.DRAWER_FRONT)
    assert (front.length, front.width) == (564 - 2 * gap, 140 - 2 * gap)
