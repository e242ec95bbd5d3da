"""Panels made longer by housings and rebates, with the sum told; and what follows for joints and fittings."""

from __future__ import annotations

import pytest

from storyrod.measure.length import Unit
from storyrod.model.feature import Channel
from storyrod.model.job import Back, BackKind, Plinth
from storyrod.model.panel import Surface
from tests import builders
from tests.unit.joinery.boxes import between, choice, detailed, joined, named

HOUSED = choice(mid_panel="housing")


def rows() -> object:
    return builders.rows(builders.opening(), builders.opening())


def test_a_housed_shelf_is_as_much_longer_as_the_housings_swallow() -> None:
    boards = (builders.board(measured=17.7), *builders.boards()[1:])
    case = joined(builders.case(inside=rows(), methods=HOUSED), boards=boards)

    shelf = named(case, "shelf 1")
    assert shelf.length == pytest.approx(564.6 + 2 * 6)
    assert shelf.sums[0] == "600 - 2 x 17.7 + 2 x 6"
    assert (shelf.box.low.x, shelf.frame.origin.x) == pytest.approx((17.7 - 6, 17.7 - 6))
    assert named(case, "top").length == pytest.approx(564.6)


def test_the_sum_is_told_in_the_jobs_unit() -> None:
    case = joined(builders.case(inside=rows(), methods=HOUSED), unit=Unit.INCH)

    assert named(case, "shelf 1").sums[0].endswith("+ 2 x 0.2362")


def test_a_rebated_corner_swallows_half_the_board() -> None:
    case = joined(builders.case(methods=choice(corner="rebate")))

    assert named(case, "top").length == 564 + 2 * 9
    joint = between(case, "left side", "top")
    assert (joint.enters, joint.stations, joint.length) == (9.0, (), 400.0)


def test_a_plinth_housed_into_the_base_above_it_grows_taller() -> None:
    case = joined(builders.case(plinth=Plinth(height=100, setback=50), methods=choice(plinth="housing")))

    plinth = named(case, "plinth")
    assert (plinth.length, plinth.width) == (564 + 12, 106)
    assert plinth.sums == ("600 - 2 x 18 + 2 x 6", "100 + 6")
    assert between(case, "left side", "plinth").length == 106.0
    assert between(case, "base", "plinth").length == 564.0


def test_a_joint_along_a_grown_panel_is_measured_from_its_new_end() -> None:
    case = joined(builders.case(inside=rows(), methods=HOUSED, back=Back(kind=BackKind.APPLIED, board="b6")))

    joint = between(case, "back", "shelf 1")
    assert (joint.start, joint.length, joint.shift) == (12.0, 576.0, 12.0)


def test_the_housing_lies_where_the_shelf_stands() -> None:
    case = detailed(builders.case(inside=rows(), depth=400, methods=HOUSED))

    joint = between(case, "left side", "shelf 1")
    (housing,) = [f for f in case.on(joint.receiving) if f.joint == joint.id]
    assert isinstance(housing.shape, Channel)
    assert (housing.kind, housing.surface, housing.depth) == ("housing", Surface.FACE, 6.0)
    assert housing.shape.width == pytest.approx(18.1)
    assert (housing.shape.length, housing.shape.stopped) == (400.0, (False, False))
    shelf = named(case, "shelf 1")
    assert housing.at.u == pytest.approx((shelf.box.low.z + shelf.box.high.z) / 2)
    assert housing.at.v == 200.0


def test_a_stopped_housing_ends_short_and_the_shelf_is_notched_to_cover_it() -> None:
    case = detailed(builders.case(inside=rows(), depth=400, methods=choice(mid_panel="stopped housing")))

    joint = between(case, "right side", "shelf 1")
    housing, notch = (next(f for f in case.on(p) if f.joint == joint.id) for p in (joint.receiving, joint.entering))
    assert (housing.shape.length, housing.shape.stopped, housing.at.v) == (390.0, (True, False), 205.0)  # type: ignore[union-attr]
    assert (notch.kind, notch.shape.length, notch.shape.height) == ("cut-out", 10.0, 6.0)  # type: ignore[union-attr]
    assert (notch.at.u, notch.at.v, notch.at.w) == (576.0, 5.0, 0.0)
    assert [c.code for c in case.cautions] == ["stopped-housing"]


def test_a_rebate_lies_at_the_very_end() -> None:
    case = detailed(builders.case(height=720, methods=choice(corner="rebate")))

    joint = between(case, "left side", "top")
    (rebate,) = [f for f in case.on(joint.receiving) if f.joint == joint.id]
    assert (rebate.kind, rebate.at.u, rebate.shape.width, rebate.depth) == ("rebate", 711.0, 18.0, 9.0)  # type: ignore[union-attr]


def test_fittings_stay_in_place_on_a_panel_that_grows() -> None:
    """The top's groove for the back ran from end to end: it still does, and lies at the same depth."""
    plain = detailed(builders.case(depth=400, back=Back(kind=BackKind.GROOVED, board="b6", inset=20)))
    grown = detailed(
        builders.case(
            depth=400, back=Back(kind=BackKind.GROOVED, board="b6", inset=20), methods=choice(corner="rebate")
        )
    )

    (before,), (after,) = ([f for f in c.on(named(c, "top").id) if f.kind == "groove"] for c in (plain, grown))
    assert (before.shape.length, after.shape.length) == (564.0, 582.0)  # type: ignore[union-attr]
    assert (before.at.u, after.at.u) == (282.0, 291.0)
    assert (before.at.v, before.at.w) == (after.at.v, after.at.w)
    same = [named(c, "top").frame.to_case(f.at) for c, f in ((plain, before), (grown, after))]
    assert same[0] == same[1]


def test_a_fitting_moves_with_the_datum_end() -> None:
    """Pin holes in a divider keep their height when the divider is housed into the base."""
    inside = builders.columns(builders.shelves(2), builders.shelves(2))
    plain = detailed(builders.case(width=900, depth=400, inside=inside))
    grown = detailed(builders.case(width=900, depth=400, inside=inside, methods=HOUSED))

    heights = []
    for case in (plain, grown):
        divider = named(case, "divider 1")
        heights.append([divider.frame.to_case(f.at).z for f in case.on(divider.id) if not f.joint])
    assert len(heights[0]) > 20
    assert heights[0] == pytest.approx(heights[1])


def test_housings_back_to_back_are_told_where_they_take_more_than_half_the_board() -> None:
    inside = builders.columns(rows(), rows())  # type: ignore[arg-type]
    case = detailed(builders.case(width=900, inside=inside, methods=HOUSED))

    thin = [c for c in case.cautions if c.code == "thin-web"]
    assert [c.text for c in thin] == ["Two housings back to back leave 6 mm of a board of 18 mm."]
