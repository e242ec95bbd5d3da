"""Gaps, reveals and overlays of fronts, against figures from outside the project.

Sources:
- "How much space should be between drawers" (an engineering how-to site): 3 mm (1/8 in) between fronts.
- A maker's pages on 32 mm drilling, in a trade knowledge base: half a gap, 1.5 mm, of reveal at the carcass's outside,
  and a full overlay on both sides.
- Worked by hand: a front shares a divider of thickness t with its neighbour, so each covers (t - gap) / 2, which is 7.5
  for 18 and 3; n equal fronts over a height H are (H - top - bottom - (n - 1) gap) / n high; graduated fronts are
  h_1 + (i - 1) k high with the same sum.
- Inset gaps of 2 to 3 mm (1.5 to 2 fitted by hand) are common practice, no source.
"""

from __future__ import annotations

import pytest

from storyrod.carcass import build
from storyrod.measure.space import Axis
from storyrod.model.job import Drawers, FrontKind, Fronts
from storyrod.model.panel import Panel, Role
from tests.builders import case, columns, door, drawer, job, opening, rows, workshop

DRAWERS = Drawers(board="b12", bottom_board="b6")


def test_defaults_are_3_between_fronts_and_half_of_it_at_the_outside() -> None:
    fronts = Fronts()

    assert (fronts.gap, fronts.reveal) == (3, fronts.gap / 2)


def test_half_overlay_on_a_shared_divider_of_18_is_7_and_a_half() -> None:
    of = build(job(case(inside=columns(door(), door()))), workshop()).cases[0]

    divider = next(p for p in of.panels if p.role is Role.DIVIDER)
    left, right = (p for p in of.panels if p.role is Role.DOOR)
    assert left.box.high.x - divider.box.low.x == 7.5
    assert divider.box.high.x - right.box.low.x == 7.5
    assert right.box.low.x - left.box.high.x == 3


@pytest.mark.parametrize("reveal", [0.0, 1.5, 3.0])
def test_full_overlay_leaves_the_reveal_on_every_side(reveal: float) -> None:
    of = build(job(case(inside=door(), fronts=Fronts(reveal=reveal))), workshop()).cases[0]

    front = next(p for p in of.panels if p.role is Role.DOOR)
    assert front.box.span(Axis.X) == (reveal, 600 - reveal)
    assert front.box.span(Axis.Z) == (reveal, 720 - reveal)


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
