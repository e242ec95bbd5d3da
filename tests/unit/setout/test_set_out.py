"""Setting out: figures from the datum, rounded once, the same for both mates; gangs and rods."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings

from storyrod import carcass, joinery, setout
from storyrod.adapters.files import packaged_workshop
from storyrod.faults import JobError
from storyrod.measure.length import Unit
from storyrod.measure.space import PanelAxis
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.detail import Choices, Details
from storyrod.model.feature import Hole, Keyhole
from storyrod.model.job import Job, MethodChoice
from storyrod.model.joint import JointId
from storyrod.model.mark import Hand, Mark, PanelSetOut, SetOut
from storyrod.model.panel import PanelId, Role, Surface
from storyrod.setout._gangs import _numbers as mark_numbers
from storyrod.setout._words import size_words
from tests.builders import board, boards, case, columns, door, drawer, job, opening, rows, shelves
from tests.strategies import jobs


def detailed(made: Job) -> Details:
    """Return a job built and joined by the built-in workshop."""
    shop = packaged_workshop()
    return joinery.detail(joinery.join(carcass.build(made, shop), shop), Choices())


def out_of(made: Job) -> SetOut:
    """Return a job set out."""
    return setout.set_out(detailed(made))


def joint_marks(out: PanelSetOut, surface: Surface) -> list[Mark]:
    """Return a panel's marks on one surface that belong to joints."""
    return [m for m in out.marks if m.surface is surface and m.joint]


def test_a_shelf_at_a_third_of_a_millimetre_is_marked_at_the_same_half_on_both_sides() -> None:
    """Inside 720 - 36 = 684; three rows with two 18 mm shelves leave 216 each: the upper shelf's face is at 486."""
    made = job(case(inside=rows(opening(), opening(), opening())))
    sides = [out_of(made).of(PanelId(f"A.side-{s}")) for s in ("left", "right")]

    for side in sides:
        shelf_lines = [line for line in side.lines if line.mate in ("A.shelf-1", "A.shelf-2")]
        assert sorted(line.face_side_line for line in shelf_lines) == [252.0, 486.0]


def test_the_face_line_is_rounded_and_the_far_line_keeps_the_measured_thickness() -> None:
    """With 17.7 mm board and rows in thirds the face line is not a half; it is rounded, the other follows exactly.

    Inside height 720 - 2 x 17.7 = 684.6; three equal rows: (684.6 - 2 x 17.7) / 3 = 216.4.
    The lower shelf's face (upper side) stands at 17.7 + 216.4 + 17.7 = 251.8, marked at 252, its underside at 234.3.
    """
    thin = (board(measured=17.7), *boards()[1:])
    made = job(case(inside=rows(opening(), opening(), opening())), boards=thin)
    side = out_of(made).of(PanelId("A.side-left"))

    lower = min((line for line in side.lines if line.mate.startswith("A.shelf")), key=lambda line: line.near)
    assert lower.far == lower.face_side_line == 252.0
    assert lower.near == pytest.approx(234.3)


def test_a_corner_s_line_is_flush_and_its_marks_are_not_rounded_along_the_side() -> None:
    """Board of 17.7, marks to the half: top and base lie flush with the sides' ends, so dowels are half of 17.7 in."""
    thin = (board(measured=17.7), *boards()[1:])
    made = job(case(inside=rows(opening(), opening())), boards=thin, mark_to=0.5)
    result = out_of(made)

    for name in ("left", "right"):
        side = result.of(PanelId(f"A.side-{name}"))
        at_ends = [m.u for m in side.marks if m.joint and not 30 < m.u < side.panel.length - 30]
        assert {round(u, 6) for u in at_ends} == {8.85, round(side.panel.length - 8.85, 6)}
        corners = [line for line in side.lines if "shelf" not in line.mate]
        assert corners
        assert all(min(line.near, side.panel.length - line.far) == pytest.approx(0) for line in corners)


def test_stations_carry_the_same_rounded_figure_on_both_mates() -> None:
    made = job(case(depth=417.3, inside=rows(opening(), opening())), mark_to=0.5)
    result = out_of(made)
    by_label = {m.label: m for p in result.cases[0].panels for m in p.marks}

    checked = 0
    for shelf in result.cases[0].panels:
        if shelf.panel.role is not Role.SHELF:
            continue
        for mark in joint_marks(shelf, Surface.DATUM_END) + joint_marks(shelf, Surface.FAR_END):
            assert mark.v * 2 == int(mark.v * 2)
            assert by_label[mark.mate].v == mark.v
            checked += 1
    assert checked >= 4


def test_a_plinth_set_back_shifts_its_marks_on_the_side_exactly() -> None:
    """The plinth's face is 33.3 mm behind the front: its marks on the side keep the measured middle of its board."""
    from storyrod.model.job import Plinth

    made = job(case(plinth=Plinth(height=100.0, setback=33.3, field="cases[0].plinth")))
    result = out_of(made)
    side = result.of(PanelId("A.side-left"))

    lines = [line for line in side.lines if line.mate == "A.plinth"]
    assert [(line.across_length, line.face_side_line) for line in lines] == [(False, 33.5)]
    marks = [m for m in joint_marks(side, Surface.FACE) if m.joint == lines[0].number]
    assert {m.v for m in marks} == {33.5 + 9.0}


def test_marks_are_numbered_from_one_and_labelled_with_the_panel_mark() -> None:
    result = out_of(job(case(inside=columns(shelves(2), drawer()))))

    for panel in result.cases[0].panels:
        assert [m.number for m in panel.marks] == list(range(1, len(panel.marks) + 1))
        assert all(m.label == f"{panel.panel.mark}.{m.number}" for m in panel.marks)


def test_a_row_of_pin_holes_has_running_numbers() -> None:
    result = out_of(job(case(inside=shelves(2))))
    side = result.of(PanelId("A.side-left"))

    pins = [
        m for m in side.marks if isinstance(m.feature.shape, Hole) and not m.joint and m.feature.shape.diameter == 5
    ]
    front_row = [m for m in pins if m.v == pins[0].v]
    assert len(front_row) > 5
    assert [m.number for m in front_row] == list(range(front_row[0].number, front_row[0].number + len(front_row)))
    assert {round(b.u - a.u, 6) for a, b in pairwise(front_row)} == {32.0}


def test_like_sides_are_one_mirrored_gang_and_unlike_ones_are_not() -> None:
    alike = out_of(job(case(inside=rows(opening(), opening()))))
    gang = next(g for g in alike.gangs if "A.side-left" in g.panels)
    assert set(gang.panels) == {"A.side-left", "A.side-right"}
    assert gang.hand is Hand.MIRRORED

    unlike = out_of(job(case(width=900, inside=columns(shelves(2), opening()))))
    assert [g.panels for g in unlike.gangs if "A.side-left" in g.panels] == [("A.side-left",)]


def test_like_panels_of_two_cases_are_marked_together() -> None:
    result = out_of(job(case("A", inside=rows(opening(), opening())), case("B", inside=rows(opening(), opening()))))

    shelf_gang = next(g for g in result.gangs if "A.shelf-1" in g.panels)
    like = {f"{c}.{p}" for c in "AB" for p in ("top", "base", "shelf-1")}
    assert set(shelf_gang.panels) == like, "tops, bases and shelves have the same ends, so one line across serves all"
    assert shelf_gang.hand is Hand.SAME


def test_a_rod_carries_every_line_and_mark_of_its_gang() -> None:
    result = out_of(job(case(inside=rows(opening(), opening()))))
    gang = next(g for g in result.gangs if "A.side-left" in g.panels)
    rod = next(r for r in result.rods if r.gang == gang.id)
    side = result.of(PanelId("A.side-left"))

    bands = {(t.at, t.band_to) for t in rod.lengths if t.is_band_start}
    assert bands == {(line.near, line.far) for line in side.lines if line.across_length}
    places = {t.at for t in rod.lengths if not t.is_band_start}
    assert places == {m.u for m in side.marks if m.surface.axis is not PanelAxis.U}
    assert rod.length == 720.0


def test_size_words_are_written_as_the_trade_does() -> None:
    hole = Hole(diameter=8, depth=13)
    assert size_words(hole, METRIC) == "hole Ø8, 13 deep"
    assert size_words(replace(hole, through=True, countersink=10.5), METRIC) == ("hole Ø8, through, countersunk Ø10.5")
    keyhole = Keyhole(
        entry_diameter=12,
        slot_width=5,
        undercut_width=10,
        lip=5,
        depth=9,
        travel=15,
        run=PanelAxis.V,
        lock_sign=1,
    )
    assert size_words(keyhole, METRIC) == "keyhole, entry Ø12, travel 15, 9 deep"
    assert size_words(Hole(diameter=9.525, depth=12.7), LengthWriter(Unit.INCH)) == 'hole Ø3/8", 1/2" deep'
    assert size_words(hole, LengthWriter(Unit.INCH)) == 'hole Ø8 mm, 0.5118" deep'


@pytest.mark.parametrize("method", ["biscuits", "one-part keyhole connector", "cam and bolt", "pocket screws"])
def test_every_method_is_marked(method: str) -> None:
    chosen = MethodChoice(corner=method, mid_panel=method)
    result = out_of(job(case(inside=rows(opening(), opening())), methods=chosen))

    assert all(m.what for p in result.cases[0].panels for m in p.marks)
    assert any(m.feature.joint for p in result.cases[0].panels for m in p.marks)


@given(made=jobs())
@settings(max_examples=15)
def test_marks_move_by_rounding_alone_and_both_mates_share_their_stations(made: Job) -> None:
    """No mark is farther than half a step from its exact place along any axis; along the joint mates move alike."""
    try:
        details = detailed(made)
    except JobError:
        return
    result = setout.set_out(details)
    moved = {}
    for panel in (p for c in result.cases for p in c.panels):
        frame = panel.panel.frame
        for mark in panel.marks:
            at = mark.feature.at
            offsets = (mark.u - at.u, mark.v - at.v, mark.w - at.w)
            assert max(map(abs, offsets)) <= made.mark_step / 2 + 1e-6
            exact, shown = frame.to_case(at), frame.to_case(replace(at, u=mark.u, v=mark.v, w=mark.w))
            moved[mark.feature.id] = shown - exact
    for case_ in details.cases:
        runs = {j.id: j.run.axis for j in case_.joints}
        for feature in case_.features:
            if feature.mate is not None and feature.joint in runs:
                axis = runs[JointId(feature.joint)]
                assert abs(moved[feature.id].along(axis) - moved[feature.mate].along(axis)) < 1e-5


def test_across_its_own_thickness_a_cut_is_marked_exactly() -> None:
    """The line on the side is rounded, from 251.8 to 252; the shelf is put to it, and its holes stay in its middle."""
    thin = (board(measured=17.7), *boards()[1:])
    made = job(case(inside=rows(opening(), opening(), opening())), boards=thin)
    result = out_of(made)
    shelf, side = result.of(PanelId("A.shelf-2")), result.of(PanelId("A.side-left"))

    ends = joint_marks(shelf, Surface.DATUM_END)
    assert {m.w for m in ends} == {8.85}
    line = next(n for n in side.lines if n.mate == "A.shelf-2")
    assert {m.u for m in side.marks if m.joint == line.number} == {round(line.face_side_line - 8.85, 6)}


def test_cups_and_plates_stay_within_half_a_step_of_each_other() -> None:
    """Cup and plate are each a round figure from their own panel's datum; a hinge's adjusters take up a quarter mm."""
    from storyrod.model.job import Plinth

    plinth = Plinth(height=83.3, setback=30.0, field="cases[0].plinth")
    result = out_of(job(case(height=723.3, plinth=plinth, inside=door())))
    door_out, side = result.of(PanelId("A.door-1")), result.of(PanelId("A.side-left"))

    cups = [m for m in door_out.marks if m.what.startswith("hole Ø35")]
    plates = sorted(m.u for m in side.marks if "hinge" in m.feature.item)
    heights = sorted(door_out.panel.frame.to_case(replace(m.feature.at, u=m.u, v=m.v)).z for m in cups)
    middles = [(low + high) / 2 for low, high in zip(plates[::2], plates[1::2], strict=True)]
    assert len(cups) == 2
    assert middles == pytest.approx(heights, abs=0.25)
    assert all(m.v * 2 == int(m.v * 2) for m in cups)


@pytest.mark.parametrize(
    ("numbers", "told"),
    [([4], "4"), ([1, 2, 3, 7], "1\u20133, 7"), ([9, 2, 1, 5, 6, 2], "1\u20132, 5\u20136, 9"), ([3, 5], "3, 5")],
)
def test_marks_at_one_place_of_a_rod_are_told_in_runs(numbers: list[int], told: str) -> None:
    assert mark_numbers(numbers) == told
