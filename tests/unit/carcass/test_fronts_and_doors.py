"""Fronts inset or overlay, doors and their hinges, and hand holds."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.length import Unit
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import CutOut, Feature, Hole
from storyrod.model.job import (
    BetweenOrOver,
    Drawers,
    Fits,
    FrontKind,
    Fronts,
    HandHold,
    HandHoldKind,
    Opening,
    Plinth,
)
from storyrod.model.panel import Grain, Panel, Surface
from tests.builders import (
    board,
    boards,
    case,
    columns,
    door,
    doors,
    drawer,
    edging,
    hinge,
    job,
    opening,
    rows,
    workshop,
)

INSET = Fronts(kind=FrontKind.INSET, gap=2.0)


def built(inside: Opening, **more: Any) -> BuiltCase:
    """Build a case with 564 x 684 clear inside."""
    shop, stock = more.pop("shop", workshop()), more.pop("boards", boards())
    one = case(inside=inside, drawers=Drawers(board="b12", bottom_board="b6"), **more)
    return build(job(one, boards=stock), shop).cases[0]


def faults(inside: Opening, **more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as caught:
        built(inside, **more)
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)
    return [(f.code, f.field) for f in caught.value.faults]


def panel(of: BuiltCase, name: str) -> Panel:
    return next(p for p in of.panels if p.name == name)


def cuts(of: BuiltCase, name: str, part: str = "") -> list[Feature]:
    own = panel(of, name).id
    return [f for f in of.fittings if f.panel == own and part in f.id.removeprefix(own)]


def fronts_at(hold: HandHold | None = None, **more: Any) -> Fronts:
    return Fronts(**more) if hold is None else Fronts(hand_hold=hold, **more)


def test_an_inset_front_has_its_gap_all_round() -> None:
    of = built(rows(drawer(140), opening()), fronts=INSET)

    front = panel(of, "drawer 1 front")
    assert (front.length, front.width) == (560, 136)
    assert front.sums == ("564 - 2 x 2", "140 - 2 x 2")
    assert front.box.span(Axis.Y) == (0, 18)


def test_an_overlay_door_leaves_the_reveal_at_the_carcasss_outside() -> None:
    of = built(door())

    front = panel(of, "door 1")
    assert (front.length, front.width) == (597, 717)
    assert front.box.span(Axis.Y) == (-18, 0)
    assert front.sums == ("564 + 2 x 16.5", "684 + 2 x 16.5")


def test_neighbouring_overlay_fronts_share_the_gap_over_a_divider() -> None:
    """Each covers (18 - 3) / 2 = 7.5 of it."""
    of = built(columns(door(), door()))

    left, right = panel(of, "door 1"), panel(of, "door 2")
    assert left.box.span(Axis.X) == (1.5, 298.5)
    assert right.box.span(Axis.X) == (301.5, 598.5)


def test_stacked_fronts_with_no_shelf_between_them_share_the_gap_at_the_line() -> None:
    of = built(rows(drawer(140, parted=False), drawer(parted=False), drawer()))

    fronts = [panel(of, f"drawer {n} front") for n in (1, 2, 3)]
    assert [f.width for f in fronts] == [155, 269, 287]
    assert [f.box.low.z for f in fronts] == [563.5, 291.5, 1.5]


def test_overlay_fronts_end_at_the_plinth_and_over_a_top_that_covers_the_sides() -> None:
    of = built(door(), plinth=Plinth(height=80, setback=30), top=BetweenOrOver.OVER_SIDES)

    assert panel(of, "door 1").box.span(Axis.Z) == (81.5, 718.5)


def test_a_pair_of_doors_is_parted_by_the_gap() -> None:
    of = built(doors())

    left, right = panel(of, "door 1"), panel(of, "door 2")
    assert left.length == right.length == 297
    assert left.sums[0] == "(597 - 3) / 2"
    assert right.box.low.x - left.box.high.x == 3
    assert [(d.hinged, d.hinges) for d in of.doors] == [("left", 2), ("right", 2)]


def test_all_edges_of_fronts_are_edged() -> None:
    stock = (board(edging="tape"), *boards()[1:])
    one = case(inside=door())
    of = build(job(one, boards=stock, edgings=(edging(thickness=1.0),)), workshop()).cases[0]

    assert (panel(of, "door 1").cut_length, panel(of, "door 1").cut_width) == (595, 715)


def test_doors_have_their_grain_upright_and_drawer_fronts_along() -> None:
    of = built(columns(door(), rows(drawer(140), opening())), boards=(board(grain=True), *boards()[1:]))

    assert panel(of, "door 1").grain is Grain.ACROSS
    assert panel(of, "drawer 1 front").grain is Grain.ALONG


def test_fronts_that_are_to_match_are_told_to_be_cut_from_one_strip() -> None:
    of = built(rows(drawer(140), drawer(200), opening()), fronts=Fronts(matching_grain=True))

    assert panel(of, "drawer 1 front").strip == panel(of, "drawer 2 front").strip == "A.inside.fronts"


def test_hinge_cups_stand_in_the_doors_back_at_its_hinged_edge() -> None:
    """Cups 22.5 in, 100 from the ends; their screws 46 apart and 8 further in."""
    of = built(door(hinged="left"), shop=workshop(hinges=(hinge(cup_depth=13.0),)))

    cups = [f for f in cuts(of, "door 1") if isinstance(f.shape, Hole) and f.shape.diameter == 35]
    assert [(f.at.u, f.at.v, f.depth, f.surface) for f in cups] == [
        (22.5, 100, 13, Surface.FAR_FACE),
        (22.5, 617, 13, Surface.FAR_FACE),
    ]
    screws = cuts(of, "door 1", "cup-1-screw")
    assert [(f.at.u, f.at.v) for f in screws] == [(30.5, 77), (30.5, 123)]


def test_a_door_hinged_on_the_right_is_the_mirror_of_one_on_the_left() -> None:
    left, right = built(door(hinged="left")), built(door(hinged="right"))

    one, other = cuts(left, "door 1"), cuts(right, "door 1")
    assert [(f.at.u, f.at.v) for f in one] == [(597 - f.at.u, f.at.v) for f in other]
    assert {f.panel for f in right.fittings} == {"A.door-1", "A.side-right"}


def test_hinge_plates_stand_37_from_the_front_edge_32_apart() -> None:
    of = built(door())

    plates = cuts(of, "left side", "plate")
    levels = [panel(of, "left side").frame.to_case(f.at).z - 1.5 for f in plates]
    assert levels == [84, 116, 601, 633]
    assert {f.at.v for f in plates} == {37}


def test_plates_of_an_inset_door_stand_37_behind_its_inner_face() -> None:
    of = built(door(), fronts=Fronts(kind=FrontKind.INSET, gap=2.0, back=1.0))

    assert {f.at.v for f in cuts(of, "left side", "plate")} == {1 + 18 + 37}


@pytest.mark.parametrize(("height", "hinges"), [(720, 2), (900, 2), (1200, 3), (1900, 4), (2300, 5)])
def test_a_taller_door_has_more_hinges(height: float, hinges: int) -> None:
    of = built(door(), height=height)

    assert of.doors[0].hinges == hinges
    assert len(cuts(of, "left side", "plate")) == 2 * hinges


def test_hinges_of_two_doors_on_one_divider_stand_half_a_step_apart() -> None:
    of = built(columns(door(hinged="right"), door(hinged="left")))

    face, far = (
        [f.at.u for f in cuts(of, "divider 1", "plate") if f.surface is s] for s in (Surface.FACE, Surface.FAR_FACE)
    )
    assert [b - a for a, b in zip(face, far, strict=True)] == [16, 16, -16, -16]


def test_a_hinge_makes_way_for_a_shelf_behind_the_door() -> None:
    """A shelf at 592 to 610 would stand where the upper plate (601 to 633) wants to be; it moves down, clear of it."""
    of = built(rows(opening(92), opening(), holds=door().holds))

    shelf = panel(of, "shelf 1").box.span(Axis.Z)
    plates = [f.at.u for f in cuts(of, "left side", "plate")]
    assert all(not shelf[0] - 12 < z < shelf[1] + 12 for z in plates)


def test_a_wide_or_heavy_door_is_a_caution() -> None:
    codes = [c.code for c in built(door(), width=800.0).cautions]

    assert codes == ["heavy-door", "front-near-floor"]


def test_hinges_are_counted_with_their_screws() -> None:
    of = built(doors())

    assert [(h.item, h.count) for h in of.hardware] == [
        ("cup", 4),
        ("countersunk screw 3.5 x 16", 8),
        ("system screw 6.3 x 13", 8),
    ]


def test_gaps_between_fronts_are_told() -> None:
    of = built(columns(door(), rows(drawer(140), drawer(200), opening())))

    gaps = [(c.about, c.side, c.wanted, round(c.left, 6)) for c in of.clearances if c.kind == "front"]
    assert gaps == [
        ("drawer 2 front", "above, to drawer 1 front", 3, 3),
        ("door 1", "right, to drawer 1 front", 3, 3),
    ]


def test_gaps_of_an_inset_front_are_told_to_each_side() -> None:
    of = built(door(), fronts=INSET)

    gaps = {c.side: (c.wanted, c.left) for c in of.clearances}
    assert gaps == {
        "left, to left side": (2, 2),
        "right, to right side": (2, 2),
        "below, to base": (2, 2),
        "above, to top": (2, 2),
    }


@pytest.mark.parametrize(
    ("inside", "more", "expected"),
    [
        (door(), {"height": 2500}, ("door-height", "cases[0].inside")),
        (rows(door(100), opening()), {}, ("door-height", "cases[0].inside.rows[0].height")),
        (columns(doors(60), opening()), {}, ("door-width", "cases[0].inside.columns[0].width")),
        (door(), {"fronts": Fronts(board="b12")}, ("door-board", "cases[0].fronts.board")),
        (
            rows(drawer(140), opening()),
            {"fronts": Fronts(kind=FrontKind.INSET, gap=70)},
            ("front-gap", "cases[0].fronts.gap"),
        ),
        (door(), {"shop": workshop(hinges=())}, ("missing-hinge", "cases[0].inside")),
        (door(), {"board": "b6", "fronts": Fronts(board="b18")}, ("hinge-plate", "cases[0].board")),
    ],
)
def test_a_front_that_can_not_be_is_told_at_its_field(
    inside: Opening, more: dict[str, Any], expected: tuple[str, str]
) -> None:
    assert faults(inside, **more) == [expected]


def test_hinges_that_find_no_room_are_told() -> None:
    shelves_everywhere = rows(*(opening() for _ in range(11)), holds=door().holds)

    assert faults(shelves_everywhere) == [("hinge-clash", "cases[0].inside")]


def test_a_slot_lies_in_the_middle_of_a_drawer_front_below_its_top_edge() -> None:
    hold = HandHold(kind=HandHoldKind.SLOT, length=110, height=28, down=40)
    of = built(rows(drawer(140), opening()), fronts=fronts_at(hold))

    (slot,) = cuts(of, "drawer 1 front", "hand-hold")
    front = panel(of, "drawer 1 front")
    assert isinstance(slot.shape, CutOut)
    assert (slot.at.u, front.width - slot.at.v) == (front.length / 2, 40)
    assert (slot.shape.outline, slot.shape.length, slot.shape.height) == ("slot", 110, 28)


def test_the_box_front_is_lowered_clear_of_the_hand_hold() -> None:
    """The slot ends 54 below the front's top edge, which stands 16.5 over the opening; the box front 3 below that."""
    hold = HandHold(kind=HandHoldKind.SLOT, length=110, height=28, down=40)
    of = built(rows(drawer(200), opening()), fronts=fronts_at(hold))

    box_front = panel(of, "drawer 1 box front")
    assert panel(of, "drawer 1 front").box.high.z - 54 - box_front.box.high.z == pytest.approx(3)
    assert panel(of, "drawer 1 left side").width - box_front.width == pytest.approx(54 + 3 - 16.5 - 10)
    assert box_front.sums[1] == "200 - 10 - 15 - 30.5"


def test_a_low_box_front_is_notched_instead() -> None:
    hold = HandHold(kind=HandHoldKind.SLOT, length=110, height=28, down=50)
    of = built(rows(drawer(120), opening()), fronts=fronts_at(hold))

    (notch,) = cuts(of, "drawer 1 box front", "notch")
    box_front = panel(of, "drawer 1 box front")
    assert isinstance(notch.shape, CutOut)
    assert box_front.width == panel(of, "drawer 1 left side").width
    assert notch.at.v == box_front.width
    assert (notch.shape.length, notch.shape.height) == pytest.approx((120, 64 + 3 - 16.5 - 10))


def test_a_scoop_is_open_at_the_fronts_top_edge() -> None:
    hold = HandHold(kind=HandHoldKind.SCOOP, length=120, height=30, corner=12)
    of = built(rows(drawer(140), opening()), fronts=fronts_at(hold, kind=FrontKind.INSET))

    (scoop,) = cuts(of, "drawer 1 front", "hand-hold")
    assert scoop.at.v == panel(of, "drawer 1 front").width


def test_a_doors_hand_hold_stands_upright_at_its_closing_edge() -> None:
    hold = HandHold(kind=HandHoldKind.SLOT, length=110, height=28, down=40)
    of = built(doors(), fronts=fronts_at(hold))

    left, right = cuts(of, "door 1", "hand-hold")[0], cuts(of, "door 2", "hand-hold")[0]
    assert (left.at.u, right.at.u) == (297 - 40, 40)
    assert left.at.v == panel(of, "door 1").width / 2
    assert isinstance(left.shape, CutOut)
    assert left.shape.run == "v"


def test_one_front_may_have_another_hand_hold() -> None:
    none = HandHold(kind=HandHoldKind.NONE)
    hold = HandHold(kind=HandHoldKind.ROUND, length=35)
    of = built(rows(drawer(140, hand_hold=none), drawer(140), opening()), fronts=fronts_at(hold))

    assert not cuts(of, "drawer 1 front")
    assert len(cuts(of, "drawer 2 front", "hand-hold")) == 1


@pytest.mark.parametrize(
    ("hold", "field"),
    [
        (HandHold(kind=HandHoldKind.SLOT, length=590), "length"),
        (HandHold(kind=HandHoldKind.SLOT, length=20), "length"),
        (HandHold(kind=HandHoldKind.SLOT, down=15), "down"),
        (HandHold(kind=HandHoldKind.ROUND, length=35, down=150), "down"),
        (HandHold(kind=HandHoldKind.SCOOP, height=150), "height"),
        (HandHold(kind=HandHoldKind.SCOOP, height=30, corner=40), "corner"),
        (HandHold(kind=HandHoldKind.SLOT, down=120), "down"),
    ],
)
def test_a_hand_hold_that_does_not_fit_is_told_at_its_field(hold: HandHold, field: str) -> None:
    assert faults(rows(drawer(140), opening()), fronts=fronts_at(hold)) == [
        ("hand-hold", f"cases[0].fronts.hand_hold.{field}")
    ]


def test_a_hand_hold_near_the_edge_or_too_low_for_fingers_is_a_caution() -> None:
    hold = HandHold(kind=HandHoldKind.SLOT, length=110, height=24, down=24)
    of = built(rows(drawer(140), opening()), fronts=fronts_at(hold))

    assert {"hand-hold-edge", "hand-hold-pinches"} <= {c.code for c in of.cautions}


def test_a_scoop_in_a_door_that_lies_over_a_side_leaves_fingers_too_little() -> None:
    """30 of scoop less 16.5 of side behind it is 13.5; in the middle of a pair all of it is free."""
    scoop = fronts_at(HandHold(kind=HandHoldKind.SCOOP, length=120, height=30, corner=12))

    assert "hand-hold-pinches" in [c.code for c in built(door(), fronts=scoop).cautions]
    assert "hand-hold-pinches" not in [c.code for c in built(doors(), fronts=scoop).cautions]


def test_a_case_in_its_place_tells_the_clearance_left() -> None:
    of = built(opening(), fits=Fits(width=612, height=730, clearance=10))

    assert [(c.side, c.wanted, c.left) for c in of.clearances] == [("width", 10, 12), ("height", 10, 10)]


def test_a_case_too_large_for_its_place_is_told_with_its_fronts() -> None:
    """400 of carcass and 18 of door in a place of 410."""
    assert faults(door(), fits=Fits(width=590, depth=410)) == [
        ("place", "cases[0].fits.width"),
        ("place", "cases[0].fits.depth"),
    ]


def test_a_door_too_thin_by_half_a_millimetre_is_told_by_figures_that_differ() -> None:
    """15.48 mm and 13 + 3 mm are both 5/8 in on a rule."""
    told = replace(job(case(inside=door(), fronts=Fronts(board="thin"))), unit=Unit.INCH)
    thin = board("thin", 15.875, measured=15.48)

    with pytest.raises(JobError) as caught:
        build(replace(told, boards=(*boards(), thin)), workshop(hinges=(hinge(cup_depth=13.0),)))
    (fault,) = caught.value.faults

    assert fault.found == 'doors of 0.6094" for hinge cups 0.5118" deep'
    assert fault.allowed == 'at least 0.630"'
