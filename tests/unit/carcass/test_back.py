"""Backs of four kinds, and the rebates and grooves that take them: worked by hand from the conventions."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Channel, Feature
from storyrod.model.job import REBATED_CLEARANCE, Back, BackKind, BetweenOrOver, Case, Plinth
from storyrod.model.panel import Panel, Surface
from tests.builders import board, boards, case, columns, job, opening, workshop


def built(one: Case, **more: Any) -> BuiltCase:
    return build(job(one, **more), workshop()).cases[0]


def panel(of: BuiltCase, name: str) -> Panel:
    return next(p for p in of.panels if p.name == name)


def cut(of: BuiltCase, name: str) -> tuple[Feature, Channel]:
    feature = next(f for f in of.fittings if f.panel == panel(of, name).id and f.item == "back")
    assert isinstance(feature.shape, Channel)
    return feature, feature.shape


def with_back(
    kind: BackKind,
    *,
    inset: float = 0.0,
    in_top: bool = True,
    in_base: bool = True,
    clearance: float = REBATED_CLEARANCE,
    **more: Any,
) -> Case:
    back = Back(kind=kind, board="b6", inset=inset, in_top=in_top, in_base=in_base, clearance=clearance)
    return case(back=back, plinth=Plinth(height=100, setback=40), **more)


def test_an_applied_back_covers_all_from_the_bases_underside_and_shortens_the_sides() -> None:
    of = built(with_back(BackKind.APPLIED))

    back, side = panel(of, "back"), panel(of, "left side")
    assert (back.length, back.width, side.width) == (600, 620, 394)
    assert back.sums == ("600", "720 - 100")
    assert side.sums == ("720", "400 - 6")
    assert back.box.span(Axis.Y) == (394, 400)
    assert panel(of, "top").width == 394
    assert not of.fittings


def test_a_rebated_back_lies_half_a_board_into_sides_top_and_base() -> None:
    """Less half of the clearance of 1 at each rebate: 600 - 36 + 2 x 9 - 1 = 581."""
    of = built(with_back(BackKind.REBATED, inside=columns(opening(), opening())))

    back = panel(of, "back")
    assert (back.length, back.width) == (581, 720 - 100 - 18 - 1)
    assert back.sums == ("600 - 2 x 18 + 2 x 9 - 2 x 0.5", "720 - 100 - 2 x 18 + 2 x 9 - 2 x 0.5")
    assert panel(of, "left side").width == panel(of, "top").width == 400
    assert panel(of, "divider 1").width == 394
    feature, channel = cut(of, "left side")
    assert (channel.kind, channel.width, channel.depth) == ("rebate", 6, 9)
    assert (feature.surface, feature.at.v) == (Surface.FACE, 397)


def test_a_rebate_stops_in_the_side_above_the_plinth_and_under_the_tops_outside() -> None:
    """From the base's rebate (100 + 9) to the top's (720 - 9)."""
    feature, channel = cut(built(with_back(BackKind.REBATED)), "left side")

    assert (feature.at.u - channel.length / 2, feature.at.u + channel.length / 2) == (109, 711)
    assert channel.stopped == (True, True)


def test_a_rebate_runs_through_top_and_base_on_the_faces_toward_the_inside() -> None:
    of = built(with_back(BackKind.REBATED))

    for name, surface in (("top", Surface.FAR_FACE), ("base", Surface.FACE)):
        feature, channel = cut(of, name)
        assert (feature.surface, channel.length, channel.stopped) == (surface, 564, (False, False))


def test_a_rebate_in_a_top_over_the_sides_stops_short_of_its_ends() -> None:
    of = built(with_back(BackKind.REBATED, top=BetweenOrOver.OVER_SIDES))

    feature, channel = cut(of, "top")
    assert (feature.at.u, channel.length, channel.stopped) == (300, 582, (True, True))
    assert cut(of, "left side")[1].stopped == (True, False)


def test_a_top_that_carries_no_rebate_lets_the_back_run_past_it() -> None:
    of = built(with_back(BackKind.REBATED, in_top=False))

    assert panel(of, "top").width == 394
    assert panel(of, "top").sums[1] == "400 - 6"
    assert panel(of, "back").box.span(Axis.Z) == (109.5, 720)
    assert cut(of, "left side")[1].stopped == (True, False)
    assert [f.panel for f in of.fittings] == ["A.side-left", "A.side-right", "A.base"]


@pytest.mark.parametrize("clearance", [0.0, 1.5])
def test_the_clearance_of_a_rebated_back_is_the_job_s(clearance: float) -> None:
    """The back is smaller by it in all, and the rebates are as they were: 9 wide in a board of 18."""
    of = built(with_back(BackKind.REBATED, clearance=clearance))

    back = panel(of, "back")
    assert (back.length, back.width) == (582 - clearance, 602 - clearance)
    assert cut(of, "left side")[1].depth == 9
    assert back.box.span(Axis.X) == (9 + clearance / 2, 591 - clearance / 2)


def test_a_grooved_back_is_half_a_millimetre_short_of_its_grooves() -> None:
    """Groove 18 / 3 = 6 deep: 600 - 36 + 2 x 6 - 2 x 0.5 = 575, and 620 - 36 + 12 - 1 = 595."""
    of = built(with_back(BackKind.GROOVED, inset=10))

    back = panel(of, "back")
    assert (back.length, back.width) == (575, 595)
    assert back.box.span(Axis.Y) == (384, 390)
    feature, channel = cut(of, "left side")
    assert channel.kind == "groove"
    assert (channel.width, channel.depth) == pytest.approx((6.2, 6.0))
    assert feature.at.v - channel.width / 2 == pytest.approx(384)


def test_a_groove_is_a_third_of_the_measured_board() -> None:
    of = built(with_back(BackKind.GROOVED, inset=10), boards=(board(measured=17.7), *boards()[1:]))

    assert cut(of, "left side")[1].depth == pytest.approx(5.9)
    assert panel(of, "back").length == pytest.approx(600 - 35.4 + 11.8 - 1)


def test_a_grooved_back_takes_its_inset_and_thickness_from_dividers() -> None:
    of = built(with_back(BackKind.GROOVED, inset=10, inside=columns(opening(), opening())))

    assert panel(of, "divider 1").width == 384
    assert panel(of, "divider 1").sums[1] == "400 - 10 - 6"
    assert of.inside.high.y == 384


def test_a_groove_stops_at_the_bases_underside_where_the_base_has_none() -> None:
    of = built(with_back(BackKind.GROOVED, inset=10, in_base=False))

    feature, channel = cut(of, "left side")
    assert feature.at.u - channel.length / 2 == 100
    assert panel(of, "base").width == 384
    assert panel(of, "back").box.low.z == 100


def test_a_back_between_is_fitted_inside_and_set_in() -> None:
    of = built(with_back(BackKind.BETWEEN, inset=5, inside=columns(opening(), opening())))

    back = panel(of, "back")
    assert (back.length, back.width) == (564, 584)
    assert back.box.span(Axis.Y) == (389, 395)
    assert panel(of, "top").width == 400
    assert panel(of, "divider 1").width == 389


def test_stopped_ends_are_told_to_the_maker() -> None:
    of = built(with_back(BackKind.REBATED))

    assert [c.code for c in of.cautions] == ["stopped-rebate"]


def test_back_rails_carry_the_rebate_like_a_top() -> None:
    of = built(with_back(BackKind.REBATED, top=BetweenOrOver.RAILS))

    feature, _ = cut(of, "top back rail")
    assert (feature.surface, feature.at.v) == (Surface.FAR_FACE, 97)
    assert panel(of, "top back rail").box.span(Axis.Y) == (300, 400)


@pytest.mark.parametrize(
    ("one", "code", "field"),
    [
        (case(back=Back(kind=BackKind.GROOVED, board="b6", inset=2)), "back-inset", "cases[0].back.inset"),
        (case(back=Back(kind=BackKind.BETWEEN, board="b6", inset=-1)), "back-inset", "cases[0].back.inset"),
        (case(back=Back(kind=BackKind.BETWEEN, board="b6", inset=390)), "back-leaves-nothing", "cases[0].back.inset"),
        (case(depth=25, back=Back(kind=BackKind.APPLIED, board="b6")), "back-leaves-nothing", "cases[0].depth"),
        (
            case(board="b6", back=Back(kind=BackKind.GROOVED, board="b6", inset=10)),
            "back-groove",
            "cases[0].back.kind",
        ),
    ],
)
def test_a_back_that_can_not_be_is_told_at_its_field(one: Case, code: str, field: str) -> None:
    with pytest.raises(JobError) as caught:
        built(one)

    assert [(f.code, f.field) for f in caught.value.faults] == [(code, field)]
