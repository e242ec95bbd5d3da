"""The proof passes what is sound, and tells every single thing put wrong on purpose, with its figure."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.measure.space import Axis, Direction, PanelAxis, PanelPoint
from storyrod.model.carcass import Clearance, ClearanceKind, DrawerPlace
from storyrod.model.detail import Details
from storyrod.model.feature import Channel, CutOut, Feature, FeatureId, Hole, Shape
from storyrod.model.job import Fits
from storyrod.model.panel import Panel, PanelId, Role, Surface
from storyrod.model.proof import Claim, Proof
from storyrod.proof import prove
from tests import builders
from tests.unit.proof import small

SHELF, LEFT = PanelId("A.shelf-1"), PanelId("A.left-side")


def proof_of(details: Details) -> Proof:
    return prove(details, small.set_out(details))


def failing(proof: Proof) -> set[Claim]:
    return {f.claim for f in proof.findings if not f.passed}


def cut(panel: PanelId, surface: Surface, at: tuple[float, float, float], shape: Shape, **more: str) -> Feature:
    plain = Feature(
        id=FeatureId(f"{panel}.more.{at}"), panel=panel, surface=surface, at=PanelPoint(*at), shape=shape, why="test"
    )
    return replace(plain, **more)  # type: ignore[arg-type]


def test_a_sound_case_passes_with_all_its_figures() -> None:
    proof = proof_of(small.details())

    assert proof.passed, proof.faults
    assert not proof.faults
    assert proof.of(Claim.MATES).checked == 12  # 6 joints of 2 dowels
    assert proof.of(Claim.MARKS).checked == 12
    assert proof.of(Claim.INSIDE).checked == 24
    assert proof.of(Claim.SKIN).worst == 5  # 18 less 13
    assert proof.of(Claim.WALL).worst == 5  # half of 18 less half of 8
    assert proof.of(Claim.BOXES).checked == 10
    assert proof.of(Claim.SUMS).checked == 4
    assert proof.of(Claim.TWINS).checked == 1
    assert proof.of(Claim.STATIONS).worst == pytest.approx(20)  # 50 from the end, 30 at the least
    assert "12 pairs of holes and slots meet within 0.000001 mm (farthest off: 0 mm)." in proof.lines()


def test_every_line_is_a_sentence_that_begins_with_its_figure() -> None:
    for line in proof_of(small.details()).lines():
        assert line[0].isdigit()
        assert line.endswith(".")


def test_a_mate_shifted_by_half_a_millimetre_is_told() -> None:
    wrong = small.with_feature(small.details(), "A.J5.1.e", lambda f: small.moved(f, PanelAxis.V, 0.5))

    proof = proof_of(wrong)

    assert failing(proof) == {Claim.MATES, Claim.MARKS, Claim.PRINTED_MATES}
    (fault,) = proof.of(Claim.MATES).faults
    assert "shelf 1 of case A" in fault.found
    assert "0.5 mm apart" in fault.found
    assert fault.field == "cases[0]"
    assert proof.of(Claim.MATES).worst == pytest.approx(0.5)
    assert proof.of(Claim.MATES).line().startswith("1 of 12 pairs of holes and slots do not meet")


@pytest.mark.parametrize("by", [2e-6, -2e-6])
def test_two_millionths_are_told_too(by: float) -> None:
    wrong = small.with_feature(small.details(), "A.J5.1.e", lambda f: small.moved(f, PanelAxis.W, by))

    assert Claim.MATES in failing(proof_of(wrong))


def test_a_half_without_its_mate_is_told() -> None:
    whole = small.details()
    case = whole.cases[0]
    lost = replace(case, features=tuple(f for f in case.features if f.id != "A.J3.2.r"), _by_panel={})

    proof = proof_of(replace(whole, cases=(lost,)))

    assert Claim.MATES in failing(proof)
    assert "whose mate is not there" in proof.of(Claim.MATES).faults[0].found


def test_a_half_that_names_no_mate_is_told() -> None:
    wrong = small.with_feature(small.details(), "A.J3.2.r", lambda f: replace(f, mate=None))

    found = [f.found for f in proof_of(wrong).of(Claim.MATES).faults]

    assert any("without its other half" in f for f in found)


def test_a_mark_that_was_rounded_apart_from_its_mate_is_told() -> None:
    whole = small.details()
    drawn = small.set_out(whole)
    first = drawn.cases[0].panels[0]
    shifted = replace(first, marks=(replace(first.marks[0], v=first.marks[0].v + 0.2), *first.marks[1:]))
    wrong = replace(drawn, cases=(replace(drawn.cases[0], panels=(shifted, *drawn.cases[0].panels[1:])),))

    proof = prove(whole, wrong)

    assert failing(proof) == {Claim.MARKS, Claim.MARKS_TRUE, Claim.PRINTED_MATES}  # and 50.2 is no whole step
    assert "0.2 mm apart" in proof.of(Claim.MARKS).faults[0].found


def test_a_mark_farther_off_than_rounding_is_told() -> None:
    whole = small.details()
    drawn = small.set_out(whole)
    first = drawn.cases[0].panels[0]
    shifted = replace(first, marks=tuple(replace(m, v=m.v + 0.3) for m in first.marks))
    wrong = replace(drawn, cases=(replace(drawn.cases[0], panels=(shifted, *drawn.cases[0].panels[1:])),))

    assert Claim.MARKS_TRUE in failing(prove(whole, wrong))


def test_a_mark_that_is_no_whole_step_is_told() -> None:
    """Both mates 0.2 mm off, alike: they agree and stand near enough, but nobody can read 50.2 on the rule."""
    whole = small.details()
    drawn = small.set_out(whole)
    case = drawn.cases[0]
    panels = tuple(
        replace(p, marks=tuple(replace(m, v=m.v + 0.2) if m.feature.id.startswith("A.J5.1.") else m for m in p.marks))
        for p in case.panels
    )

    proof = prove(whole, replace(drawn, cases=(replace(case, panels=panels),)))

    assert failing(proof) == {Claim.MARKS_TRUE}
    assert len(proof.faults) == 2
    assert "0.2 mm off a whole step" in proof.faults[0].found


def test_a_hole_bored_too_deep_is_told_with_what_is_left() -> None:
    wrong = small.with_feature(small.details(), "A.J5.1.r", lambda f: replace(f, shape=Hole(diameter=8, depth=15.5)))

    proof = proof_of(wrong)

    assert failing(proof) == {Claim.SKIN}
    assert proof.of(Claim.SKIN).worst == 2.5
    assert "2.5 mm of board under the hole" in proof.faults[0].found


def test_a_drills_point_counts_toward_the_skin() -> None:
    wrong = small.with_feature(
        small.details(), "A.J5.1.r", lambda f: replace(f, shape=Hole(diameter=8, depth=13, point=2.5))
    )

    assert proof_of(wrong).of(Claim.SKIN).worst == pytest.approx(2.5)


def test_a_bore_too_wide_for_the_edge_is_told() -> None:
    wrong = small.with_feature(small.details(), "A.J5.1.e", lambda f: replace(f, shape=Hole(diameter=15, depth=23)))

    proof = proof_of(wrong)

    assert failing(proof) == {Claim.WALL}
    assert proof.of(Claim.WALL).worst == pytest.approx(1.5)


def test_a_hole_that_breaks_out_of_the_edge_is_told() -> None:
    wrong = small.with_more(small.details(), cut(SHELF, Surface.FACE, (300, 3, 0), Hole(diameter=8, depth=10)))

    proof = proof_of(wrong)

    assert failing(proof) == {Claim.INSIDE}
    assert "breaks out of the panel by 1 mm" in proof.faults[0].found


def test_a_through_hole_that_does_not_go_through_is_told() -> None:
    shape = Hole(diameter=5, depth=17.5, through=True)

    proof = proof_of(small.with_more(small.details(), cut(SHELF, Surface.FACE, (300, 60, 0), shape)))

    assert failing(proof) == {Claim.INSIDE}
    assert "does not" in proof.faults[0].found


def test_a_groove_that_is_said_to_stop_and_does_not_is_told() -> None:
    shape = Channel(kind="groove", length=564, width=6, depth=6, run=PanelAxis.U, stopped=(True, False))
    wrong = small.with_more(small.details(), cut(SHELF, Surface.FAR_FACE, (282, 150, 18), shape))

    assert failing(proof_of(wrong)) == {Claim.INSIDE}


def test_two_cuts_that_meet_are_told() -> None:
    """A 5 mm hole from the face of the shelf into the dowel's bore in its end."""
    wrong = small.with_more(small.details(), cut(SHELF, Surface.FACE, (15, 50, 0), Hole(diameter=5, depth=10)))

    proof = proof_of(wrong)

    assert failing(proof) == {Claim.MEETINGS}
    assert "0 mm between the hole in the" in proof.faults[0].found


def test_cuts_from_opposite_faces_keep_a_skin() -> None:
    """The dowel goes 13 into the side's inside; a 4 mm hole from the outside, right behind it, leaves 1 mm."""
    wrong = small.with_more(small.details(), cut(LEFT, Surface.FAR_FACE, (200, 50, 18), Hole(diameter=4, depth=4)))

    proof = proof_of(wrong)

    assert failing(proof) == {Claim.OPPOSITE}
    assert proof.of(Claim.OPPOSITE).worst == pytest.approx(1)


def test_cuts_of_one_station_meet_on_purpose() -> None:
    """A cam's hole opens into its bolt's bore; it needs no mate of its own."""
    more = cut(SHELF, Surface.FAR_FACE, (20, 50, 18), Hole(diameter=15, depth=12.5))
    cam = replace(more, joint="A.J5", station=1)

    assert proof_of(small.with_more(small.details(), cam)).passed


def test_the_same_cut_of_another_station_is_told() -> None:
    more = cut(SHELF, Surface.FAR_FACE, (20, 50, 18), Hole(diameter=15, depth=12.5))
    cam = replace(more, joint="A.J5", station=2)

    assert Claim.MEETINGS in failing(proof_of(small.with_more(small.details(), cam)))


def test_channels_may_cross_but_not_lie_in_each_other() -> None:
    along = cut(
        LEFT, Surface.FACE, (200, 280, 0), Channel(kind="groove", length=400, width=6, depth=6, run=PanelAxis.U)
    )
    across = cut(
        LEFT, Surface.FACE, (300, 150, 0), Channel(kind="housing", length=300, width=18, depth=6, run=PanelAxis.V)
    )
    beside = cut(
        LEFT, Surface.FACE, (200, 284, 0), Channel(kind="groove", length=400, width=6, depth=6, run=PanelAxis.U)
    )

    assert proof_of(small.with_more(small.details(), along, across)).passed
    assert failing(proof_of(small.with_more(small.details(), along, beside))) == {Claim.MEETINGS}


def test_a_panel_out_of_its_place_is_told() -> None:
    """The shelf 3 mm too far right: its dowels miss, and it stands 3 mm in the right side."""

    def to_the_right(p: Panel) -> Panel:
        return p.with_box(p.box.with_span(Axis.X, 21, 585))

    proof = proof_of(small.with_panel(small.details(), "shelf 1", to_the_right))

    assert Claim.BOXES in failing(proof)
    assert proof.of(Claim.BOXES).worst == pytest.approx(3)
    assert "3 × 300 × 18 mm" in proof.of(Claim.BOXES).faults[0].found


def test_a_panel_may_stand_in_the_housing_cut_for_it() -> None:
    """The shelf 6 mm longer at the right, with a housing 6 deep in the right side: no room is shared."""

    def longer(p: Panel) -> Panel:
        return replace(p, box=p.box.with_span(Axis.X, 18, 588))

    long_shelf = small.with_panel(small.details(), "shelf 1", longer)
    right = PanelId("A.right-side")
    housing = Channel(kind="housing", length=300, width=18, depth=6, run=PanelAxis.V)
    housed = small.with_more(long_shelf, cut(right, Surface.FACE, (200, 150, 0), housing, joint="A.J6"))
    shallow = replace(housing, depth=5.0)
    too_shallow = small.with_more(long_shelf, cut(right, Surface.FACE, (200, 150, 0), shallow, joint="A.J6"))

    assert proof_of(housed).of(Claim.BOXES).passed
    assert proof_of(too_shallow).of(Claim.BOXES).worst == pytest.approx(1)


def test_sizes_that_do_not_add_up_are_told() -> None:
    def lower(p: Panel) -> Panel:
        return p.with_box(p.box.with_span(Axis.Z, 190.7, 208.7))

    proof = proof_of(small.with_panel(small.details(), "shelf 1", lower))

    assert Claim.SUMS in failing(proof)
    assert proof.of(Claim.SUMS).worst == pytest.approx(0.3)


def test_a_frame_in_the_wrong_corner_or_of_the_wrong_hand_is_told() -> None:
    def turned(p: Panel) -> Panel:
        frame = replace(p.frame, into=Direction.RIGHT)
        return replace(p, frame=frame)

    proof = proof_of(small.with_panel(small.details(), "left side", turned))

    assert {Claim.FRAMES, Claim.TWINS} <= failing(proof)


def test_twins_of_different_size_are_told() -> None:
    def shorter(p: Panel) -> Panel:
        return replace(p, box=p.box.with_span(Axis.Y, 0, 299))

    proof = proof_of(small.with_panel(small.details(), "right side", shorter))

    assert proof.of(Claim.TWINS).worst == pytest.approx(1)


def test_stations_too_near_an_end_or_each_other_are_told() -> None:
    whole = small.details()
    case = whole.cases[0]
    squeezed = tuple(replace(j, stations=(25.0, 250.0)) if j.number == "J1" else j for j in case.joints)

    proof = proof_of(replace(whole, cases=(replace(case, joints=squeezed),)))

    assert proof.of(Claim.STATIONS).worst == pytest.approx(-5)
    assert "joint J1 of case A" in proof.of(Claim.STATIONS).faults[0].found


def test_a_list_with_a_dowel_too_few_is_told() -> None:
    whole = small.details()
    case = whole.cases[0]
    short = (replace(case.connectors[0], count=11),)

    proof = proof_of(replace(whole, cases=(replace(case, connectors=short),)))

    assert failing(proof) == {Claim.CONNECTORS}
    assert "11 dowel 8 x 35" in proof.faults[0].found


def with_built(details: Details, **more: object) -> Details:
    case = details.cases[0]
    return replace(details, cases=(replace(case, built=replace(case.built, **more)),))  # type: ignore[arg-type]


def test_a_clearance_that_was_not_kept_is_told() -> None:
    tight = Clearance(kind=ClearanceKind.SHELF, about="loose shelf 1", side="left", wanted=1.0, left=0.4)

    proof = proof_of(with_built(small.details(), clearances=(tight,)))

    assert failing(proof) == {Claim.CLEARANCES}
    assert "0.4 mm left of loose shelf 1" in proof.faults[0].found


def test_a_place_is_measured_from_the_panels() -> None:
    case = small.details().cases[0].built.case
    proof = proof_of(with_built(small.details(), case=replace(case, fits=Fits(width=603.0, clearance=4.0))))

    assert failing(proof) == {Claim.MEASURED}
    assert proof.of(Claim.MEASURED).worst == pytest.approx(-1)


def test_fronts_are_measured_to_what_they_could_rub_against() -> None:
    """Two inset doors: 3 mm round them, but only 2 between them."""
    whole = small.details()
    doors = [
        small.panel(
            Role.DOOR,
            f"door {n}",
            small.box(x, (0, 18), (212, 379)),
            (Direction.RIGHT, Direction.UP, Direction.BACKWARD),
            body=f"A.door-{n}",
        )
        for n, x in ((1, (21.0, 299.0)), (2, (301.0, 579.0)))
    ]
    case = whole.cases[0]
    wrong = replace(whole, cases=(replace(case, panels=(*case.panels, *doors)),))

    proof = proof_of(wrong)

    assert failing(proof) == {Claim.MEASURED}
    (fault,) = proof.faults
    assert "2 mm between door 1 and door 2" in fault.found


def test_a_loose_shelf_that_jams_is_told() -> None:
    whole = small.details()
    loose = small.panel(
        Role.LOOSE_SHELF, "loose shelf 1", small.box((18.5, 581), (10, 290), (100, 118)), small.FLAT, body="A.loose-1"
    )
    case = whole.cases[0]

    proof = proof_of(replace(whole, cases=(replace(case, panels=(*case.panels, loose)),)))

    assert failing(proof) == {Claim.MEASURED}
    assert "0.5 mm left of loose shelf 1" in proof.faults[0].found


def drawer_case(rail: bool) -> Details:
    whole = small.details()
    parts = [
        small.panel(
            Role.DRAWER_SIDE, "drawer 1 left side", small.box((31, 43), (18, 280), (30, 150)), small.UPRIGHT_LEFT
        )
    ]
    parts = [replace(p, body="A.drawer-1", frame=p.frame) for p in parts]
    if rail:
        parts.append(small.panel(Role.RAIL, "rail 1", small.box((18, 582), (0, 18), (140, 158)), small.FLAT))
    place = DrawerPlace(
        id="A.drawer-1",
        name="drawer 1",
        opening="A.below",
        box=small.box((31, 569), (18, 280), (30, 150)),
        inside=small.box((43, 557), (30, 268), (46, 150)),
        runner="side",
        runner_length=250,
        extension=250,
        load_kg=10,
        panels=(parts[0].id,),
        front=None,
    )
    room = {"wanted": 13.0, "left": 13.0, "body": "A.drawer-1", "toward": Direction.LEFT}
    clearances = (Clearance(kind=ClearanceKind.DRAWER, about="any drawer", side="any side", **room),)  # type: ignore[arg-type]
    case = whole.cases[0]
    built = replace(case.built, drawers=(place,), clearances=clearances)
    return replace(whole, cases=(replace(case, built=built, panels=(*case.panels, *parts)),))


def test_a_drawer_is_measured_and_comes_out() -> None:
    proof = proof_of(drawer_case(rail=False))

    assert {Claim.MEASURED, Claim.DRAWERS_OUT}.isdisjoint(failing(proof))
    assert proof.of(Claim.MEASURED).checked == 1
    assert proof.of(Claim.DRAWERS_OUT).checked == 1


def test_a_drawer_shut_in_by_a_rail_is_told() -> None:
    proof = proof_of(drawer_case(rail=True))

    assert "meets rail 1 on its way out" in proof.of(Claim.DRAWERS_OUT).faults[0].found


def test_all_that_is_wrong_is_told_at_once() -> None:
    wrong = small.with_feature(small.details(), "A.J5.1.e", lambda f: small.moved(f, PanelAxis.V, 0.5))
    wrong = small.with_feature(wrong, "A.J5.2.r", lambda f: replace(f, shape=Hole(diameter=8, depth=16)))
    wrong = small.with_more(wrong, cut(SHELF, Surface.FACE, (300, 3, 0), Hole(diameter=8, depth=10)))

    proof = proof_of(wrong)

    assert {Claim.MATES, Claim.SKIN, Claim.INSIDE} <= failing(proof)
    assert all(f.code and f.found and f.allowed and f.do for f in proof.faults)


@pytest.mark.parametrize("corner", [0, 12, 25])
def test_a_job_without_cases_features_is_proven_too(corner: float) -> None:
    """A scoop alone, its corners up to its whole height: no mates to check, and their lines are left out."""
    whole = small.details()
    case = whole.cases[0]
    scoop = CutOut(outline="scoop", length=100, height=25, corner=corner, depth=18, run=PanelAxis.U)
    bare = replace(
        case, joints=(), connectors=(), features=(cut(SHELF, Surface.FACE, (282, 0, 0), scoop),), _by_panel={}
    )

    proof = proof_of(Details(job=builders.job(case.built.case), methods=(), cases=(bare,)))

    assert proof.passed, proof.faults
    assert not any("pairs of holes" in line for line in proof.lines())


def test_a_scoop_that_breaks_out_at_its_side_is_told() -> None:
    case = small.details().cases[0]
    scoop = CutOut(outline="scoop", length=100, height=25, corner=25, depth=18, run=PanelAxis.U)
    bare = replace(
        case, joints=(), connectors=(), features=(cut(SHELF, Surface.FACE, (40, 0, 0), scoop),), _by_panel={}
    )

    proof = proof_of(Details(job=builders.job(case.built.case), methods=(), cases=(bare,)))

    assert failing(proof) == {Claim.INSIDE}
