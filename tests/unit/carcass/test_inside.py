"""The inside tree: rows from the top down, columns from the left, sizes given, in parts or equal."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase, OpeningPlace
from storyrod.model.job import FrontKind, Fronts, Holds, Opening
from tests.builders import case, columns, door, drawer, job, opening, rows, shelves, workshop


def built(inside: Opening, **more: Any) -> BuiltCase:
    """Build a case with 564 x 684 clear inside."""
    return build(job(case(inside=inside, **more)), workshop()).cases[0]


def faults(inside: Opening, **more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as caught:
        built(inside, **more)
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)
    return [(f.code, f.field) for f in caught.value.faults]


def heights(of: BuiltCase) -> list[float]:
    return [round(o.box.size(Axis.Z), 6) for o in of.openings if o.depth_order == 1]


def place(of: BuiltCase, name: str) -> OpeningPlace:
    return next(o for o in of.openings if o.name == name)


def test_rows_share_equally_what_the_shelves_leave() -> None:
    of = built(rows(opening(), opening(), opening()))

    assert heights(of) == [216, 216, 216]
    assert [p.box.span(Axis.Z) for p in of.panels if p.role == "shelf"] == [(468, 486), (234, 252)]


def test_a_given_height_is_kept_and_the_rest_shared_in_parts() -> None:
    """684 - 2 x 18 - 148 = 500, in parts of 2 and 3."""
    of = built(rows(opening(148), opening(parts=2.0), opening(parts=3.0)))

    assert heights(of) == [148, 200, 300]


def test_the_first_row_is_the_uppermost_and_the_first_column_the_leftmost() -> None:
    of = built(rows(opening(100), columns(opening(200), opening())))

    assert place(of, "row 1").box.high.z == 702
    assert place(of, "row 2, column 1").box.low.x == 18
    assert place(of, "row 2, column 1").box.size(Axis.X) == 200
    assert place(of, "row 2, column 2").box.size(Axis.X) == 564 - 200 - 18


def test_neighbours_that_are_not_parted_have_no_panel_between_them() -> None:
    of = built(rows(drawer(140, parted=False), drawer(parted=False), drawer()))

    assert heights(of) == [140, 272, 272]
    assert not [p for p in of.panels if p.role == "shelf"]


def test_sums_tell_how_a_row_and_its_shelf_came_about() -> None:
    of = built(rows(columns(opening(), opening()), opening(200)))

    divider = next(p for p in of.panels if p.role == "divider")
    assert divider.length == 466
    assert divider.sums == ("684 - 18 - 200", "400")


def test_a_divider_may_be_of_another_board() -> None:
    of = built(columns(opening(), opening(), divider_board="b12"))

    divider = next(p for p in of.panels if p.role == "divider")
    assert divider.thickness == pytest.approx(12)
    assert [o.box.size(Axis.X) for o in of.openings[1:]] == pytest.approx([276, 276])


def test_panels_behind_an_inset_door_are_set_back_clear_of_it() -> None:
    """The door is 18 thick and stands 1 behind the front edge; 2 mm stay free behind it."""
    of = built(rows(opening(), opening(), holds=Holds.DOOR), fronts=Fronts(kind=FrontKind.INSET, back=1.0, gap=2.0))

    shelf = next(p for p in of.panels if p.role == "shelf")
    assert shelf.box.low.y == 21
    assert shelf.sums[1] == "400 - 21"


def test_openings_know_what_they_hold_and_where_they_were_written() -> None:
    of = built(rows(opening(load_kg=20.0, name="scores"), shelves(1)))

    assert [(o.id, o.name, o.children) for o in of.openings] == [
        ("A.inside", "inside", ("A.inside.1", "A.inside.2")),
        ("A.inside.1", "scores", ()),
        ("A.inside.2", "row 2", ()),
    ]
    assert of.openings[1].load_kg == 20.0
    assert of.openings[2].cause == "cases[0].inside.rows[1]"


def test_rows_that_come_to_more_than_the_opening_are_told_with_their_sum() -> None:
    with pytest.raises(JobError) as caught:
        built(rows(opening(300), opening(300), opening(100)))

    (fault,) = caught.value.faults
    assert (fault.code, fault.field) == ("rows-too-much", "cases[0].inside.rows")
    assert "736 mm in all" in fault.found
    assert fault.allowed == "684 mm clear"
    assert "Take 52 mm off" in fault.do


def test_rows_that_leave_nothing_for_the_one_without_a_height_are_told() -> None:
    assert faults(rows(opening(400), opening(240), opening())) == [("rows-too-much", "cases[0].inside.rows")]


def test_rows_that_come_to_less_than_the_opening_say_by_how_much() -> None:
    with pytest.raises(JobError) as caught:
        built(rows(opening(300), opening(300)))

    (fault,) = caught.value.faults
    assert fault.code == "rows-too-little"
    assert "Add 66 mm" in fault.do


def test_rows_that_add_up_exactly_are_taken() -> None:
    assert heights(built(rows(opening(300), opening(366)))) == [300, 366]


def test_a_row_higher_than_the_whole_is_told_at_its_height() -> None:
    assert faults(rows(opening(900), opening())) == [("opening-too-large", "cases[0].inside.rows[0].height")]


def test_an_opening_without_room_is_told_at_its_width() -> None:
    assert faults(columns(opening(0.0), opening())) == [("opening-too-small", "cases[0].inside.columns[0].width")]


def test_parts_of_nothing_are_told() -> None:
    assert faults(rows(opening(parts=0.0), opening())) == [("opening-too-small", "cases[0].inside.rows[0].height")]


@pytest.mark.parametrize("needs_a_panel", [drawer(), shelves(1), door(hinged="right"), rows(opening(), opening())])
def test_what_hangs_on_a_column_that_is_not_parted_is_told(needs_a_panel: Opening) -> None:
    inside = columns(replace(needs_a_panel, parted=False), opening())
    assert faults(inside) == [("nothing-to-hang-on", "cases[0].inside.columns[0]")]


def test_columns_that_are_not_parted_may_hold_what_hangs_on_nothing() -> None:
    of = built(columns(door(hinged="left", parted=False), door(hinged="right")))

    assert not [p for p in of.panels if p.role == "divider"]


def test_a_divider_with_no_panel_above_or_below_is_told() -> None:
    middle = columns(opening(), opening(), parted=False)

    assert faults(rows(opening(parted=False), middle, opening())) == [("nothing-to-hang-on", "cases[0].inside.rows[1]")]


def test_a_divider_held_at_one_end_only_is_a_caution() -> None:
    of = built(rows(columns(opening(), opening(), parted=False), opening()))

    assert [c.code for c in of.cautions] == ["divider-held-at-one-end"]


def test_a_door_behind_a_door_and_a_drawer_that_is_cut_are_told() -> None:
    told = faults(rows(door(), rows(opening(), opening(), holds=Holds.DRAWER), holds=Holds.DOOR))

    assert told == [
        ("door-behind-door", "cases[0].inside.rows[0].holds"),
        ("held-and-cut", "cases[0].inside.rows[1].holds"),
    ]


@pytest.mark.parametrize("inside", [shelves(0), drawer(loose_shelves=2), rows(opening(), opening(), loose_shelves=1)])
def test_loose_shelves_where_they_can_not_be_are_told(inside: Opening) -> None:
    assert faults(inside) == [("loose-shelves", "cases[0].inside.loose_shelves")]


def test_faults_of_all_cases_and_openings_are_told_at_once() -> None:
    bad = rows(opening(900), columns(opening(300), opening(300)))
    with pytest.raises(JobError) as caught:
        build(job(case("A", inside=bad), case("B", width=10), case("C", inside=shelves(0))), workshop())

    assert {f.field for f in caught.value.faults} == {
        "cases[0].inside.rows[0].height",
        "cases[1].width",
        "cases[2].inside.loose_shelves",
    }
