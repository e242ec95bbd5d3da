"""A worktop: as large as its overhangs ask, screwed on from below, free to move where it must."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Axis, PanelAxis
from storyrod.model.carcass import BuiltCase, ClearanceKind
from storyrod.model.feature import CutOut, Feature, Hole
from storyrod.model.fixing import Fixing, FixingKind
from storyrod.model.hung import Hung, WallKind
from storyrod.model.job import Back, BackKind, BetweenOrOver, BoardKind, Fits, RailsStand, Worktop
from storyrod.model.panel import Panel, Role, Surface
from tests.builders import board, boards, case, columns, edging, job, opening, workshop

RAILS: dict[str, Any] = {"top": BetweenOrOver.RAILS, "rail_width": 100}


def built(worktop: Worktop | None = None, *, stock: Any = None, **more: Any) -> BuiltCase:
    made = case(worktop=worktop or Worktop(front=30), **more)
    return build(job(made, boards=stock or boards()), workshop()).cases[0]


def top_of(of: BuiltCase) -> Panel:
    return next(p for p in of.panels if p.role is Role.WORKTOP)


def holes(of: BuiltCase) -> list[Feature]:
    return [f for f in of.fittings if f.item == "worktop screw"]


def fixed(of: BuiltCase) -> list[Fixing]:
    return [f for f in of.fixings if f.kind is FixingKind.WORKTOP]


def faults(**more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as told:
        built(**more)
    assert all(f.do and f.allowed for f in told.value.faults)
    return [(f.code, f.field) for f in told.value.faults]


def test_it_lies_on_the_case_with_its_overhangs() -> None:
    """600 x 720 x 400: 20 + 600 + 150 long, 30 + 400 + 10 wide, on top of 720."""
    of = built(Worktop(front=30, back=10, left=20, right=150))

    top = top_of(of)
    assert (top.length, top.width, top.thickness) == (770, 440, 18)
    assert [top.box.span(a) for a in (Axis.X, Axis.Y, Axis.Z)] == [(-20, 750), (-30, 410), (720, 738)]
    assert top.sums == ("600 + 20 + 150", "400 + 30 + 10")
    assert top.body == top.id


def test_front_and_ends_are_edged_and_the_rear_where_it_is_asked_for() -> None:
    tape = edging("tape", thickness=1.0)
    stock = (board("b18", edging="tape"),)

    def edged(**more: Any) -> list[Surface]:
        made = job(case(worktop=Worktop(front=30, **more)), boards=stock, edgings=(tape,))
        return [e.surface for e in top_of(build(made, workshop()).cases[0]).edged]

    three = [Surface.FACE_EDGE, Surface.DATUM_END, Surface.FAR_END]
    assert edged() == three
    assert set(edged(edged_back=True)) == {*three, Surface.FAR_EDGE}


def test_two_rows_of_screws_pass_a_whole_top() -> None:
    """564 clear, 414 from the first to the last: three, 75 from the sides; rows 50 in from front and rear."""
    of = built()

    top = next(p for p in of.panels if p.role is Role.TOP)
    places = [top.frame.to_case(f.at) for f in holes(of)]
    assert [(p.x, p.y, p.z) for p in places] == [
        (93, 50, 702),
        (300, 50, 702),
        (507, 50, 702),
        (93, 350, 702),
        (300, 350, 702),
        (507, 350, 702),
    ]
    assert {f.shape for f in holes(of)} == {Hole(diameter=5.0, depth=18, through=True)}
    assert {(f.surface, f.panel) for f in holes(of)} == {(Surface.FAR_FACE, top.id)}


def test_flat_rails_have_a_row_each_in_the_middle_of_what_is_free() -> None:
    """The back, set in by 20 and 6 thick, leaves 300 to 374 of the rear rail: 337."""
    back = Back(kind=BackKind.BETWEEN, board="b6", inset=20)
    of = built(**RAILS, back=back)

    by_rail = {f.about: [c for c in holes(of) if c.panel == f.about] for f in fixed(of)}
    levels = {about: {of.panel(c.panel).frame.to_case(c.at).y for c in cuts} for about, cuts in by_rail.items()}
    assert levels == {"A.rail-1": {50}, "A.rail-2": {337}}
    assert [(f.screws.count, f.count) for f in fixed(of) if f.screws] == [(3, 3)] * 2


def test_a_screw_over_a_divider_stands_beside_it() -> None:
    """A divider from 291 to 309 under the middle screw, at 300: it goes to 20 left of it."""
    of = built(inside=columns(opening(), opening()))

    assert sorted({top.x for top in (of.panel(f.panel).frame.to_case(f.at) for f in holes(of))}) == [93, 271, 507]


@pytest.mark.parametrize(
    ("thick", "length", "skin"),
    [(18, 30, 6), (22, 35, 5), (28, 40, 6)],
)
def test_the_longest_screw_that_stays_in_it_is_taken(thick: float, length: float, skin: float) -> None:
    """Through 18 of the top, 3 left under the tip at the least: 33, 37 and 43 from 16, 20, 25, 30, 35 and 40."""
    stock = (*boards(), board("thick", thickness=thick, measured=thick))
    of = built(Worktop(front=30, board="thick"), stock=stock)

    (one,) = fixed(of)
    assert one.screws is not None
    assert (one.screws.item, one.screws.count) == (f"pan-head screw 4 x {length}", 6)
    assert (one.screws.skin, one.item) == (skin, "")
    assert {h.item: h.count for h in of.hardware} == {f"pan-head screw 4 x {length}": 6}


def test_solid_wood_moves_in_slots_behind_the_first_row() -> None:
    """Oak, flat-sawn, 35 to 65 %: 6.94 to 11.96 % moisture (Wood Handbook); 300 x 0.00369 x 5.02 = 5.56: 6 each way.

    A slot is 8 wide and 8 + 2 x 6 long; each head has a washer of 1 under it, which the screw passes.
    """
    oak = board("oak", name="red oak", kind=BoardKind.SOLID, thickness=26, measured=26, grain=True, density_kg_m3=700)
    of = built(Worktop(front=30, board="oak"), stock=(*boards(), oak))

    shapes = {round(of.panel(f.panel).frame.to_case(f.at).y): f.shape for f in holes(of)}
    assert shapes[50] == Hole(diameter=5.0, depth=18, through=True)
    slot = shapes[350]
    assert isinstance(slot, CutOut)
    assert (slot.outline, slot.length, slot.height, slot.run) == ("slot", 20, 8, PanelAxis.V)
    (one,) = fixed(of)
    assert one.screws is not None
    assert (one.screws.item, one.screws.seat, one.screws.skin) == ("pan-head screw 4 x 40", 19, 5)
    assert (one.item, one.count) == ("washer 4.3 x 16", 6)
    assert ("washer 4.3 x 16", 6) in {(h.item, h.count) for h in of.hardware}


def test_what_has_nothing_to_lie_on_is_told() -> None:
    assert faults(top=BetweenOrOver.NONE) == [("worktop-seat", "cases[0].top")]
    upright = {"top": BetweenOrOver.RAILS, "rails_stand": RailsStand.UPRIGHT}
    assert faults(**upright) == [("worktop-seat", "cases[0].rails_stand")]
    hung = Hung(top_at=1900, wall=WallKind.MASONRY)
    assert faults(hung=hung)[0] == ("worktop-hung", "cases[0].worktop")


def test_a_rear_rail_behind_the_back_takes_no_screws() -> None:
    """60 wide, of which the back's 20 + 6 leave 34: less than a row needs."""
    back = Back(kind=BackKind.BETWEEN, board="b6", inset=20)
    assert faults(top=BetweenOrOver.RAILS, rail_width=60, back=back) == [("worktop-rows", "cases[0].rail_width")]


def test_a_worktop_that_no_screw_holds_is_told() -> None:
    """12 thick, 3 of it left: 9 at the most, and 18 + 9 = 27 is 25 at the most, which goes in by 7."""
    stock = (*boards(), board("thin", thickness=12, measured=12))
    assert faults(worktop=Worktop(front=30, board="thin"), stock=stock) == [
        ("fitting-screws", "cases[0].worktop.board")
    ]


def test_the_place_that_it_must_fit_counts_it_in() -> None:
    over = Worktop(front=30, left=20, right=10)
    of = built(over, fits=Fits(width=640, height=745, depth=440, clearance=5))

    left = {c.side: c.left for c in of.clearances if c.kind is ClearanceKind.PLACE}
    assert left == {"width": 10, "height": 7, "depth": 10}
    assert [c for c, _ in faults(worktop=over, fits=Fits(width=634, clearance=5))] == ["place"]


JOB = """
[boards.b18]
kind = "plywood"
thickness = 18
measured = 17.5
[[cases]]
code = "A"
{sizes}
worktop = {{ front = 30, left = 20, right = 10 }}
fits = {{ width = 1000, height = 900, depth = 600, clearance = 4 }}
"""


def test_a_size_that_is_left_out_leaves_room_for_it() -> None:
    """1000 - 4 - 30, 900 - 4 - 17.5, 600 - 4 - 30."""
    made = job_from_text(JOB.format(sizes=""), name="job.toml").job.cases[0]
    assert (made.width, made.height, made.depth) == (966, 878.5, 566)


def test_a_size_that_leaves_no_room_for_it_is_told() -> None:
    with pytest.raises(JobError) as told:
        job_from_text(JOB.format(sizes="height = 896"), name="job.toml")

    (fault,) = told.value.faults
    assert (fault.code, fault.field) == ("fits", "cases[0].height")
    assert "17.5 mm for the worktop" in fault.allowed


def test_screws_that_the_workshop_has_not_are_told() -> None:
    text = JOB.format(sizes="").replace("right = 10", 'right = 10, fixed_with = "nail", board = "oak"')
    with pytest.raises(JobError) as told:
        job_from_text(text, name="job.toml")

    assert {(f.code, f.field) for f in told.value.faults} == {
        ("missing-screw", "cases[0].worktop.fixed_with"),
        ("missing-board", "cases[0].worktop.board"),
    }


def test_ends_of_sides_under_a_worktop_are_not_edged() -> None:
    stock = (board("b18", edging="tape"),)

    def ends(**more: Any) -> set[Surface]:
        made = job(case(edged_ends=True, **more), boards=stock, edgings=(edging("tape", thickness=1.0),))
        (side,) = (p for p in build(made, workshop()).cases[0].panels if p.role is Role.SIDE_LEFT)
        return {e.surface for e in side.edged}

    assert Surface.FAR_END in ends()
    assert ends(worktop=Worktop(front=30)) == {Surface.FACE_EDGE}


def test_a_screw_bites_nine_at_the_least() -> None:
    """12 thick, 3 of it left: 25 through 16 bites 9, the least; through 16.2 it bites 8.8, and none holds."""
    thin = board("thin", thickness=12, measured=12)

    def through(rail: float) -> Any:
        return {"stock": (board("b18", thickness=16, measured=rail), thin), "worktop": Worktop(front=30, board="thin")}

    (one,) = fixed(built(**through(16.0)))
    assert one.screws is not None
    assert one.screws.item == "pan-head screw 4 x 25"
    assert faults(**through(16.2)) == [("fitting-screws", "cases[0].worktop.board")]


def test_a_rail_of_forty_takes_a_row_and_one_of_less_does_not() -> None:
    rails: dict[str, Any] = {"top": BetweenOrOver.RAILS}
    assert len(holes(built(**rails, rail_width=40))) == 6
    assert faults(**rails, rail_width=39.5) == [("worktop-rows", "cases[0].rail_width")]


def test_in_a_narrow_case_screws_stand_a_quarter_in() -> None:
    """200 clear between sides of 18: a quarter is 50, less than the usual 75; two screws, at 68 and 168."""
    of = built(width=236)

    assert sorted({of.panel(f.panel).frame.to_case(f.at).x for f in holes(of)}) == [68, 168]


@pytest.mark.parametrize(("depth", "moves"), [(153, False), (155, True)])
def test_a_worktop_that_hardly_moves_has_play_enough_in_its_holes(depth: float, moves: bool) -> None:
    """Red oak grows 0.00369 x 5.02 of what lies between the rows: 1 over 54, so rows 53 apart stay, 55 apart slide."""
    oak = board("oak", name="red oak", kind=BoardKind.SOLID, thickness=26, measured=26, grain=True, density_kg_m3=700)
    of = built(Worktop(front=30, board="oak"), stock=(*boards(), oak), depth=depth)

    assert any(isinstance(f.shape, CutOut) for f in holes(of)) == moves
