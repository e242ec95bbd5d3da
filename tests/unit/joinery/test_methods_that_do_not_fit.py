"""A method that cannot hold a joint: told with the joint, what is allowed, and which methods would do."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from storyrod.faults import Fault, JobError
from storyrod.model.job import Back, BackKind, Case, Limits, Plinth
from storyrod.model.method import Cut, CutKind, SizeForBoard
from tests import builders
from tests.unit.joinery.boxes import choice, detailed, joined, method, workshop


def told(case: Case, shop: object = None, **job: Any) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as caught:
        joined(case, shop, **job)  # type: ignore[arg-type]
    return caught.value.faults


def two_rows() -> object:
    return builders.rows(builders.opening(), builders.opening())


def with_sizes(code: str, *sizes: SizeForBoard) -> object:
    return workshop(replace(method(code), code="mine", name="my own", sizes=sizes))


def test_a_board_that_the_method_has_no_size_for() -> None:
    boards = (*builders.boards(), builders.board("b10", 10.0))
    faults = told(builders.case(board="b10"), boards=boards, methods=choice(corner="carcass screws"))

    assert {(f.code, f.field) for f in faults} == {("method-board", "methods.corner")}
    assert faults[0].found.startswith("carcass screws in a board of 10 mm")
    assert faults[0].allowed == "14.6 mm to under 30 mm"
    assert faults[0].do.startswith("Choose another method for these joints: glued butt, plain screws.")


def test_a_connector_deeper_than_the_board() -> None:
    hole = Cut(kind=CutKind.HOLE, diameter=8, depth=20)
    shop = with_sizes("dowels", SizeForBoard(low=10, high=40, receiving=(hole,), entering=(hole,)))
    faults = told(builders.case(), shop, methods=choice(corner="mine"))

    assert faults[0].code == "method-skin"
    assert faults[0].found.startswith("my own: a cut 20 mm deep in a board of 18 mm, deeper than the board")
    assert faults[0].allowed == "up to 15 mm deep, so that 3 mm of board is left"
    assert "dowels" in faults[0].do


def test_a_pocket_that_is_longer_than_a_low_plinth_is_high() -> None:
    """Its axis meets the face 9 / tan 15 = 33.6 from the edge, its mouth ends 4.75 / sin 15 = 18.4 further."""
    low = builders.case(plinth=Plinth(height=50, setback=40))
    faults = told(low, methods=choice(plinth="pocket screws"))

    assert [(f.code, f.field) for f in faults] == [("method-wall", "methods.plinth")]
    assert faults[0].found.startswith(
        "pocket screws: its angled pocket reaches 51.94 mm from the edge, in a panel 50 mm"
    )
    assert faults[0].allowed == "panels at least 53.95 mm across"
    assert "dowels" in faults[0].do
    assert joined(replace(low, plinth=Plinth(height=54, setback=40)), methods=choice(plinth="pocket screws")).joints


def test_a_groove_deeper_than_the_board() -> None:
    shop = with_sizes("housing", SizeForBoard(low=10, high=40, enters=19))
    faults = told(builders.case(inside=two_rows()), shop, methods=choice(mid_panel="mine"))

    assert faults[0].found.startswith(
        "my own: a housing or rebate 19 mm deep in a board of 18 mm, deeper than the board"
    )


def test_the_skin_is_the_jobs_own() -> None:
    joined(builders.case(), limits=Limits(skin=5.0))
    faults = told(builders.case(), limits=Limits(skin=5.5))

    assert {f.code for f in faults} == {"method-skin"}
    assert faults[0].allowed == "up to 12.5 mm deep, so that 5.5 mm of board is left"


def test_a_bore_too_wide_for_the_edge() -> None:
    faults = told(builders.case(), limits=Limits(wall=5.5))

    assert {f.code for f in faults} == {"method-wall"}
    assert faults[0].found.startswith("dowels: a hole 8 mm wide in an edge of 18 mm")
    assert faults[0].allowed == "at least 5.5 mm of board on either side of it"


def test_a_hole_that_would_break_out_of_the_end() -> None:
    wide = Cut(kind=CutKind.HOLE, diameter=17, depth=10)
    thin = Cut(kind=CutKind.HOLE, diameter=8, depth=10)
    shop = with_sizes("dowels", SizeForBoard(low=10, high=40, receiving=(wide,), entering=(thin,)))
    faults = told(builders.case(inside=two_rows()), shop, methods=choice(corner="mine", mid_panel="mine"))

    assert {f.field for f in faults} == {"methods.corner"}
    assert faults[0].found.startswith("my own: a hole 17 mm wide, 9 mm from the panel's end")


def test_a_hole_deeper_than_the_panel_is_wide() -> None:
    long = Cut(kind=CutKind.HOLE, diameter=8, depth=80)
    short = Cut(kind=CutKind.HOLE, diameter=8, depth=10)
    shop = with_sizes("dowels", SizeForBoard(low=10, high=40, receiving=(short,), entering=(long,)))
    faults = told(builders.case(plinth=Plinth(height=80, setback=50)), shop, methods=choice(plinth="mine"))

    assert [f.found for f in faults] == ["my own: a hole 80 mm deep in a panel 80 mm across (plinth and base)"]
    assert faults[0].allowed == "up to 77 mm deep"


def test_station_rules_without_a_solution() -> None:
    rules = replace(method("dowels").rules, single=False)  # type: ignore[type-var]
    shop = workshop(replace(method("dowels"), code="mine", rules=rules))
    faults = told(builders.case(plinth=Plinth(height=80, setback=50)), shop, methods=choice(plinth="mine"))

    assert {f.code for f in faults} == {"method-stations"}
    assert faults[0].found.startswith("dowels in a joint 80 mm long")
    assert faults[0].allowed == "at least 82 mm for 2 connectors, 25 mm from each end"


def test_cuts_longer_than_their_stations_are_apart() -> None:
    rules = replace(method("biscuits").rules, gap_min=40, end_min=36)  # type: ignore[type-var]
    shop = workshop(replace(method("biscuits"), code="mine", rules=rules))
    faults = told(builders.case(depth=112), shop, methods=choice(corner="mine"))

    assert faults[0].code == "method-stations"
    assert "40 mm apart" in faults[0].found


def test_a_cut_that_runs_out_of_the_joint() -> None:
    rules = replace(method("biscuits").rules, end=30, end_min=30)  # type: ignore[type-var]
    shop = workshop(replace(method("biscuits"), code="mine", rules=rules))
    faults = told(builders.case(), shop, methods=choice(corner="mine"))

    assert faults[0].found.startswith(
        "biscuits: a cut that reaches 32.84 mm from its station, 30 mm from the end of the joint"
    )


def test_a_housing_at_the_end_of_a_panel_wants_a_rebate() -> None:
    faults = told(builders.case(), methods=choice(corner="housing"))

    assert {f.code for f in faults} == {"method-class"}
    assert [f.found for f in faults] == [
        "housing (dado) for a corner joint (top and left side; base and left side; top and right side; and 1 more)"
    ]
    assert "rebate" in faults[0].do


def test_a_rebate_in_the_middle_of_a_panel_wants_a_housing() -> None:
    faults = told(builders.case(inside=two_rows()), methods=choice(mid_panel="rebate"))

    assert faults[0].found.startswith("rebate (rabbet) for a mid-panel joint")
    assert "housing" in faults[0].do


def test_a_plinth_flush_with_the_front_is_at_the_end_of_the_sides() -> None:
    faults = told(builders.case(plinth=Plinth(height=80, setback=0)), methods=choice(plinth="housing"))

    assert {f.found.split(" (plinth and")[0] for f in faults} == {"housing (dado) at the end of a panel"}


def test_a_groove_is_for_what_lies_in_a_groove() -> None:
    faults = told(
        builders.case(back=Back(kind=BackKind.APPLIED, board="b6")),
        methods=choice(back="groove"),
    )

    assert faults[0].found.startswith("in a groove without a groove")
    assert "screwed back" in faults[0].do


def test_a_thin_back_between_is_glued_in_and_that_is_told() -> None:
    """No connector goes into the edge of 6 mm board; whoever writes no more than the kind gets a case all the same."""
    made = detailed(builders.case(back=Back(kind=BackKind.BETWEEN, board="b6")))

    backs = [j for j in made.joints if j.entering == "A.back"]
    assert {(j.receiving, j.method, j.stations) for j in backs} == {
        (f"A.{name}", "glued butt", ()) for name in ("side-left", "side-right", "top", "base")
    }
    (caution,) = (c for c in made.cautions if c.code == "glued-back")
    assert "6 mm" in caution.text
    assert len(caution.ids) == 4


def test_a_method_named_for_a_thin_back_between_is_not_changed_in_silence() -> None:
    faults = told(builders.case(back=Back(kind=BackKind.BETWEEN, board="b6")), methods=choice(back="dowels"))

    assert [(f.code, f.field) for f in faults] == [("method-board", "methods.back")]
    assert faults[0].do.startswith("Choose another method for these joints: glued butt.")


def test_two_shelves_in_line_cannot_both_be_screwed_through_one_divider() -> None:
    inside = builders.columns(two_rows(), two_rows())  # type: ignore[arg-type]
    faults = told(builders.case(width=900, inside=inside), methods=choice(mid_panel="carcass screws"))

    assert [(f.code, f.field) for f in faults] == [("screws-covered", "methods.mid_panel")]
    assert faults[0].found.startswith("shelf 1 and shelf 2 both screwed through divider 1 at the same place")


def test_every_joint_of_every_case_is_told_at_once() -> None:
    from storyrod import carcass
    from storyrod.joinery import join

    shop = workshop()
    job = builders.job(
        builders.case("A", methods=choice(corner="housing")), builders.case("B", methods=choice(corner="rebat"))
    )
    with pytest.raises(JobError) as caught:
        join(carcass.build(job, shop), shop)

    fields = [f.field for f in caught.value.faults]
    assert fields == ["cases[0].methods.corner", "cases[1].methods.corner"]


def test_one_rule_that_is_broken_by_figures_that_differ_is_told_once() -> None:
    """A shelf of 6 and one of 5.9: the same slot has no room in either edge."""
    boards = (*builders.boards(), builders.board("b59", 6.0, measured=5.9))
    inside = builders.columns(
        builders.rows(builders.opening(), builders.opening(), divider_board="b6"),
        builders.rows(builders.opening(), builders.opening(), divider_board="b59"),
    )
    slot = Cut(kind=CutKind.HOLE, diameter=4, depth=10)
    shop = with_sizes("dowels", SizeForBoard(low=2, high=40, receiving=(slot,), entering=(slot,)))
    faults = told(builders.case(inside=inside, width=1200), shop, boards=boards, methods=choice(mid_panel="mine"))

    assert [f.code for f in faults] == ["method-wall"]
    assert "wide in an edge of 6 mm (shelf 1 and left side" in faults[0].found
    assert "wide in an edge of 5.9 mm (shelf 2 and " in faults[0].found
