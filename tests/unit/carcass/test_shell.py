"""Sides, top, base, rails and plinth: sizes worked by hand from the conventions."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.hung import Hung, WallKind
from storyrod.model.job import Back, BackKind, BetweenOrOver, Case, Plinth, RailsStand
from storyrod.model.panel import Grain, Panel, Role, Surface
from tests.builders import board, boards, case, columns, edging, job, opening, rows, workshop


def built(one: Case, **more: Any) -> BuiltCase:
    return build(job(one, **more), workshop()).cases[0]


def panel(of: BuiltCase, name: str) -> Panel:
    return next(p for p in of.panels if p.name == name)


def size(of: BuiltCase, name: str) -> tuple[float, float]:
    p = panel(of, name)
    return (round(p.length, 6), round(p.width, 6))


def test_plain_box_has_full_height_sides_with_top_and_base_between_them() -> None:
    of = built(case(width=600, height=720, depth=400))

    assert [p.name for p in of.panels] == ["left side", "right side", "top", "base"]
    assert size(of, "left side") == size(of, "right side") == (720, 400)
    assert size(of, "top") == size(of, "base") == (564, 400)
    assert panel(of, "top").box.span(Axis.Z) == (702, 720)
    assert panel(of, "base").box.span(Axis.Z) == (0, 18)


def test_sizes_follow_the_measured_board_not_its_name() -> None:
    of = built(case(width=600), boards=(board(measured=17.7),))

    assert size(of, "top") == (564.6, 400)
    assert panel(of, "top").sums == ("600 - 2 x 17.7", "400")


def test_a_board_in_use_that_nobody_measured_is_a_caution() -> None:
    carcass = build(job(case(), boards=(board(), board("b6", 6.0))), workshop())
    measured = build(job(case(), boards=(board(measured=17.7),)), workshop())

    assert [(c.code, c.about) for c in carcass.cautions] == [("board-not-measured", "board 18")]
    assert not measured.cautions


def test_top_over_the_sides_shortens_them_and_spans_the_whole_width() -> None:
    of = built(case(top=BetweenOrOver.OVER_SIDES))

    assert size(of, "left side") == (702, 400)
    assert size(of, "top") == (600, 400)
    assert panel(of, "left side").sums == ("720 - 18", "400")


def test_base_under_the_sides_lifts_them() -> None:
    of = built(case(base=BetweenOrOver.UNDER_SIDES))

    assert size(of, "base") == (600, 400)
    assert panel(of, "left side").box.span(Axis.Z) == (18, 720)


def test_rails_take_the_place_of_a_top() -> None:
    of = built(case(top=BetweenOrOver.RAILS, rail_width=90))

    rails = [p for p in of.panels if p.role is Role.RAIL]
    assert [(p.id, p.name, p.width) for p in rails] == [
        ("A.rail-1", "top front rail", 90),
        ("A.rail-2", "top back rail", 90),
    ]
    assert [p.box.span(Axis.Y) for p in rails] == [(0, 90), (310, 400)]
    assert of.inside.high.z == 702


def test_a_third_rail_stands_in_the_middle_of_the_two() -> None:
    of = built(case(top=BetweenOrOver.RAILS, rail_width=90, rail_count=3))

    rails = [p for p in of.panels if p.role is Role.RAIL]
    assert [p.name for p in rails] == ["top front rail", "top middle rail", "top back rail"]
    assert [p.box.span(Axis.Y) for p in rails] == [(0, 90), (155, 245), (310, 400)]


@pytest.mark.parametrize(
    ("back", "rear"),
    [
        (BackKind.NONE, 400),
        (BackKind.APPLIED, 394),
        (BackKind.REBATED, 394),
        (BackKind.GROOVED, 384),
        (BackKind.BETWEEN, 384),
    ],
)
def test_upright_rails_stand_before_the_back_which_runs_up_behind_them(back: BackKind, rear: float) -> None:
    inset = 10 if back in {BackKind.GROOVED, BackKind.BETWEEN} else 0
    upright = case(
        top=BetweenOrOver.RAILS,
        rail_width=90,
        rails_stand=RailsStand.UPRIGHT,
        back=Back(kind=back, board="b6", inset=inset),
    )
    of = built(upright)

    rails = [p for p in of.panels if p.role is Role.RAIL]
    assert [(p.box.span(Axis.Y), p.box.span(Axis.Z)) for p in rails] == [
        ((0, 18), (630, 720)),
        ((rear - 18, rear), (630, 720)),
    ]
    assert [(p.length, p.width, p.thickness) for p in rails] == [(564, 90, 18)] * 2
    assert of.inside.high.z == 630
    assert all(p.box.high.z == 720 for p in of.panels if p.role is Role.BACK)


def test_a_back_rail_lies_behind_a_set_in_back_under_the_top() -> None:
    of = built(case(back_rail=90, back=Back(kind=BackKind.BETWEEN, board="b6")))

    rail = panel(of, "back rail")
    assert rail.role is Role.HANGING_RAIL
    assert (rail.box.span(Axis.Y), rail.box.span(Axis.Z)) == ((382, 400), (612, 702))
    assert panel(of, "back").box.high.y == 382
    assert of.hung is None


@pytest.mark.parametrize(
    "wrong",
    [
        {"back": Back(kind=BackKind.APPLIED, board="b6")},
        {"back": Back(kind=BackKind.REBATED, board="b6")},
        {"back": Back(kind=BackKind.GROOVED, board="b6", in_top=False)},
        {"back": Back(kind=BackKind.BETWEEN, board="b6", inset=9)},
        {"top": BetweenOrOver.NONE},
        {"top": BetweenOrOver.RAILS, "rails_stand": RailsStand.UPRIGHT},
        {"height": 140},
    ],
)
def test_a_back_rail_wants_a_flat_top_and_a_back_that_is_set_in(wrong: dict[str, Any]) -> None:
    with pytest.raises(JobError) as told:
        built(case(back_rail=90, **wrong))
    (fault,) = told.value.faults

    assert (fault.code, fault.field) == ("back-rail", "cases[0].back_rail")


def test_without_a_top_the_inside_runs_up_to_the_sides_ends() -> None:
    of = built(case(top=BetweenOrOver.NONE))

    assert of.inside.span(Axis.Z) == (18, 720)


def test_plinth_stands_between_the_sides_and_the_base_on_it() -> None:
    of = built(case(plinth=Plinth(height=100, setback=40)))

    assert size(of, "plinth") == (564, 100)
    assert panel(of, "plinth").box.span(Axis.Y) == (40, 58)
    assert panel(of, "base").box.span(Axis.Z) == (100, 118)
    assert size(of, "left side") == (720, 400)


def test_plinth_back_rail_stands_50_in_front_of_the_back() -> None:
    of = built(case(plinth=Plinth(height=100, setback=40, back_rail=True)))

    rail = panel(of, "plinth back rail")
    assert rail.role is Role.PLINTH
    assert rail.box.span(Axis.Y) == (332, 350)


def test_plinth_back_rail_stands_against_the_front_board_in_a_shallow_case() -> None:
    of = built(case(depth=80, plinth=Plinth(height=100, setback=10, back_rail=True)))

    assert panel(of, "plinth back rail").box.span(Axis.Y) == (28, 46)


def test_a_case_of_one_board_tells_ids_marks_twins_and_causes() -> None:
    of = built(case("B", inside=rows(columns(opening(), opening()), opening()), plinth=Plinth(height=80, setback=0)))

    assert [p.id for p in of.panels] == [
        "B.side-left",
        "B.side-right",
        "B.top",
        "B.base",
        "B.plinth",
        "B.shelf-1",
        "B.divider-1",
    ]
    assert [p.mark for p in of.panels] == ["B1", "B2", "B3", "B4", "B5", "B6", "B7"]
    assert panel(of, "left side").twin == "B.side-right"
    assert panel(of, "divider 1").cause == "cases[0].inside.rows[0].columns"
    assert {p.body for p in of.panels} == {"carcass"}


def test_grain_runs_along_all_panels_but_stands_up_in_backs_and_doors() -> None:
    ply = board(grain=True)
    of = built(case(back=Back(kind=BackKind.APPLIED)), boards=(ply,))

    assert panel(of, "left side").grain is Grain.ALONG
    assert panel(of, "back").grain is Grain.ACROSS
    assert {p.grain for p in built(case()).panels} == {Grain.FREE}


def test_edging_is_part_of_the_finished_size_and_comes_off_at_the_saw() -> None:
    stock = (board(edging="tape"), *boards()[1:])
    of = built(case(top=BetweenOrOver.OVER_SIDES), boards=stock, edgings=(edging(thickness=2.0),))

    side, top = panel(of, "left side"), panel(of, "top")
    assert (side.width, side.cut_width, side.cut_length) == (400, 398, 702)
    assert {e.surface for e in top.edged} == {Surface.FACE_EDGE, Surface.DATUM_END, Surface.FAR_END}
    assert (top.cut_length, top.cut_width) == (596, 398)


def test_a_case_that_is_not_edged_is_cut_at_its_finished_size() -> None:
    of = built(case(edged=False), boards=(board(edging="tape"),), edgings=(edging(),))

    assert all(not p.edged for p in of.panels)


@pytest.mark.parametrize(
    ("one", "code", "field"),
    [
        (case(width=50), "case-too-small", "cases[0].width"),
        (case(height=50), "case-too-small", "cases[0].height"),
        (case(top=BetweenOrOver.RAILS, rail_width=210), "rails-too-wide", "cases[0].rail_width"),
        (case(top=BetweenOrOver.UNDER_SIDES), "top-kind", "cases[0].top"),
        (case(base=BetweenOrOver.OVER_SIDES), "base-kind", "cases[0].base"),
        (
            case(base=BetweenOrOver.UNDER_SIDES, plinth=Plinth(height=80, setback=0)),
            "base-kind",
            "cases[0].base",
        ),
        (case(plinth=Plinth(height=720, setback=0)), "plinth-height", "cases[0].plinth.height"),
        (case(plinth=Plinth(height=700, setback=0)), "case-too-small", "cases[0].height"),
        (case(plinth=Plinth(height=80, setback=390)), "plinth-setback", "cases[0].plinth.setback"),
    ],
)
def test_a_shell_that_can_not_be_is_told_at_its_field(one: Case, code: str, field: str) -> None:
    with pytest.raises(JobError) as caught:
        built(one)

    assert [(f.code, f.field) for f in caught.value.faults] == [(code, field)]
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)


def test_a_plinth_taller_than_its_case_is_told_in_the_makers_unit() -> None:
    with pytest.raises(JobError, match=r"found 800 mm in a case 720 mm high; allowed: less than 664 mm"):
        built(case(plinth=Plinth(height=800, setback=0)))


SIDES = ("left side", "right side")


@pytest.mark.parametrize(
    ("more", "ends"),
    [
        ({}, {Surface.FAR_END}),
        ({"top": BetweenOrOver.RAILS}, {Surface.FAR_END}),
        ({"top": BetweenOrOver.OVER_SIDES}, set()),
        ({"hung": Hung(top_at=2000.0, wall=WallKind.MASONRY)}, {Surface.FAR_END, Surface.DATUM_END}),
    ],
)
def test_ends_of_sides_that_show_are_edged_where_the_case_says_so(more: dict[str, Any], ends: set[Surface]) -> None:
    """A side 720 long keeps that, and is cut 1 mm shorter for each end of 1 mm tape."""
    taped = {"boards": (board(edging="tape"),), "edgings": (edging(),)}
    plain, edged = built(case(**more), **taped), built(case(edged_ends=True, **more), **taped)

    for name in SIDES:
        before, after = (next(p for p in of.panels if p.name == name) for of in (plain, edged))
        assert {e.surface for e in before.edged} == {Surface.FACE_EDGE}
        assert {e.surface for e in after.edged} == {Surface.FACE_EDGE} | ends
        assert (after.length, after.sums) == (before.length, before.sums)
        assert before.cut_length - after.cut_length == pytest.approx(len(ends))
