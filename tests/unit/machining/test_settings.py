"""Settings worked by hand, for workshops and boards of several kinds."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.measure.length import Unit
from storyrod.measure.writing import METRIC
from storyrod.model.job import Back, BackKind, Holds, MethodChoice
from storyrod.model.machining import Hand, JigKind, LineToMark, PackerSide
from storyrod.model.workshop import Bush, Registration, ToolKind
from storyrod.telling.placing import placed_from
from tests import builders
from tests.unit.machining.shops import SHOP, box, jig, job, ladder_shop, made, shop, with_plinth, worked


def test_dowels_through_a_ladder_jig() -> None:
    """Board 18: dowel 8, edge 24 and face 13 deep, 9 from the face; jig 25 thick, so 49 and 38; no packer."""
    _, work = worked(job(box()), ladder_shop())

    edge, ends = made(work, "holes 8, 24 deep")[0], made(work, "holes 8, 13 deep, in faces, along")[0]
    for set_up, plunge in ((edge, 49), (ends, 38)):
        s = set_up.setting
        assert s is not None
        assert (s.cutter, s.guide, s.plunge) == ("drill 8", 25, plunge)
        assert s.reference_to_centre == pytest.approx(9)
        assert s.wanted == pytest.approx(9)
        assert s.packer is not None
        assert s.packer.made == 0


def test_both_halves_share_the_stations_of_one_ladder() -> None:
    """Depth 400: 50, 210 and 370."""
    _, work = worked(job(box()), ladder_shop())
    edge, mid = jig(work, "edge jig"), jig(work, "line jig")

    assert [list(j.stations) for j in (edge, mid)] == [[50, 210, 370]] * 2
    assert mid.in_step_with == edge.id
    assert [j.kind for j in (edge, mid)] == [JigKind.EDGE, JigKind.LINE]
    assert set(edge.hands) == {Hand.AS_DRAWN, Hand.TURNED}


def test_the_dowelling_jig_with_its_packer() -> None:
    """Bushes 9 from the fence; board 15 wants 7.5 from the face: a packer of 1.5 between fence and work."""
    thin = replace(builders.board(thickness=15.0), code="b18")
    a_job = replace(job(box()), boards=(thin, *builders.boards()[1:]))
    _, work = worked(a_job)
    s = made(work, "in edges and ends")[0].setting

    assert s is not None
    assert (s.tool_kind, s.reference_to_centre, s.wanted) == (ToolKind.DRILL_JIG, 9, 7.5)
    assert s.packer is not None
    assert s.packer.made == pytest.approx(1.5, abs=0.1)
    assert s.packer_side is PackerSide.FENCE


def test_the_router_takes_the_smallest_bush_that_clears_its_cutter() -> None:
    """No drills but a straight 8 and a 17 bush with a bore of 14: opening 8 + 9 = 17, plunge 9 + 24 = 33."""
    straight = tuple(c for c in SHOP.cutters if c.kind.value == "straight")
    _, work = worked(
        job(box()), shop(cutters=straight, bushes=(Bush(diameter=24, bore=21), Bush(diameter=17, bore=14)))
    )
    s = made(work, "holes 8, 24 deep")[0].setting

    assert s is not None
    assert (s.bush, s.bush_offset, s.opening, s.plunge) == (17, 4.5, (17, 17), 33)
    assert s.passes == (6, 1)  # 4 mm at a time, half the cutter
    assert s.speed_rpm == 22_000


def test_biscuits_from_the_base() -> None:
    """Base to centre 9.5, board 18: 9 wanted, so 0.5 under the work."""
    methods = MethodChoice(corner="biscuits", mid_panel="biscuits", plinth="biscuits")
    _, work = worked(job(box(), methods=methods))
    s = made(work, "biscuit slots 4, 12.3 deep, in edges")[0].setting

    assert s is not None
    assert (s.reference_to_centre, s.wanted, s.packer_side) == (9.5, 9, PackerSide.WORK)
    assert s.packer is not None
    assert s.packer.pieces == (0.5,)


def test_a_mid_panel_line_is_packed_as_well() -> None:
    """The straight edge stands back from the face line by the same 0.5 that lies under the work."""
    methods = MethodChoice(corner="biscuits", mid_panel="biscuits", plinth="biscuits")
    _, work = worked(job(box(), methods=methods))
    (line,) = made(work, "from a line")

    assert line.setting is not None
    assert line.setting.packer_side is PackerSide.LINE
    assert {o.line for o in line.operations} == {LineToMark.FACE_LINE}
    assert all(o.same_face for o in line.operations)


def test_a_housing_along_a_straight_edge() -> None:
    """Base 75 from the cutter's centre, cutter 12: the near wall lies 69 from the straight edge; 18.1 in two passes."""
    _, work = worked(job(box(), methods=MethodChoice(corner="dowels", mid_panel="housing")))
    (housings,) = made(work, "housings")
    s = housings.setting

    assert s is not None
    assert (s.cutter, s.fence, s.passes) == ("straight 12", 69, (1, 2))
    assert [p.offset for p in s.beside] == pytest.approx([6.1, 0])  # 18.1 - 12: a strip in the first pass
    (place,) = housings.operations[0].places
    assert place.walls is not None
    assert place.walls[1] - place.walls[0] == pytest.approx(18.1)


def test_a_corner_flush_by_its_far_face_is_placed_from_the_far_face() -> None:
    """The base's underside is flush with the sides' lower ends: both halves are placed from there."""
    plan, work = worked(job(box()), ladder_shop())
    base = next(p for c in plan.details.cases for p in c.panels if p.name == "base")
    edges = made(work, "holes 8, 24 deep")[0]

    assert {o.reference for o in edges.operations if o.panel == base.id} == {"far face"}
    ends = made(work, "holes 8, 13 deep, in faces, along")[0]
    assert {o.reference for o in ends.operations} == {"datum end", "far end"}


def test_narrow_parts_get_their_own_jig() -> None:
    """A plinth 80 high holds no jig longer than 240: the small one. Its mates, wide panels, take the long jig."""
    plan, work = worked(job(with_plinth()), ladder_shop())
    small, long = jig(work, "small edge jig"), next(j for j in work.jigs if j.has_fence and not j.small)
    plinths = {p.id for c in plan.details.cases for p in c.panels if p.name == "plinth"}

    assert small.small
    assert small.length < 200 < long.length
    uses = [(o.panel, s.setting.jig) for s in work.set_ups if s.setting for o in s.operations]
    assert {g for p, g in uses if p in plinths and g} >= {small.id}
    assert (work.tally.to_make, work.tally.bound) == (3, 3)


def test_mirrored_sides_are_drilled_with_the_jig_turned_over() -> None:
    plan, work = worked(job(box()), ladder_shop())
    names = {p.id: p.name for c in plan.details.cases for p in c.panels}
    ends = made(work, "holes 8, 13 deep, in faces, along")[0]
    top = {names[o.panel]: o.hand for o in ends.operations if o.reference == "far end"}

    assert set(top) == {"left side", "right side"}
    assert top["left side"] is not top["right side"]


def test_a_trial_names_its_set_up_and_the_command_without_marks_of_a_file() -> None:
    _, work = worked(job(box()), ladder_shop())
    last = next(s for s in work.set_ups if s.trial_kind == "packer")

    assert f"\u201cstoryrod trial JOB --set-up {last.id} --step 0.3\u201d" in last.trial
    assert not any("`" in s.trial for s in work.set_ups)


def test_a_rebate_is_routed_in_one_pass_by_a_cutter_that_hangs_over_the_edge() -> None:
    """6.2 wide for a back that measures so; base 75 to the middle of a cutter of 8, so 71 to its inner wall."""
    back = Back(kind=BackKind.REBATED, board="b6")
    a_job = job(replace(box(), back=back))
    boards = tuple(replace(b, measured=6.2) if b.code == "b6" else b for b in a_job.boards)
    _, work = worked(replace(a_job, boards=boards), shop())
    (rebates,) = made(work, "rebates")
    s = rebates.setting

    assert s is not None
    assert (s.cutter_diameter, s.fence, s.passes[1]) == (8, 71, 1)
    assert [p.offset for p in s.beside] == [0]
    assert rebates.section is not None
    assert rebates.section.open_edge


def test_a_line_says_from_where_it_is_measured() -> None:
    _, work = worked(job(box()), ladder_shop())
    lines = [o for s in work.set_ups for o in s.operations if o.line is LineToMark.FACE_LINE]

    assert lines
    assert {o.line_from for o in lines} == {"datum end"}
    assert "from the datum end, stop A on the face edge" in placed_from(lines[0], METRIC)


def test_pilot_holes_are_drilled_by_hand_though_a_dowelling_jig_is_there() -> None:
    """It has bushes for dowels: 5 mm and up. The back's screws want holes of 3.5 and 2."""
    _, work = worked(job(replace(box(), back=Back(kind=BackKind.APPLIED, board="b6"))))
    by_jig = [s for s in work.set_ups if s.setting and s.setting.tool_kind is ToolKind.DRILL_JIG]

    assert by_jig
    assert all(s.setting is not None and s.setting.cutter_diameter >= 5 for s in by_jig)
    assert any(s.setting is not None and s.setting.cutter_diameter < 5 for s in work.set_ups if s not in by_jig)


@pytest.mark.parametrize("thickness", [18.0, 19.0])
def test_a_fence_is_hung_on_an_edge_only_where_the_cuts_are_placed_from_it(thickness: float) -> None:
    """A bolt half a board from a line in the middle of a side is not half a board from the side's end."""
    plain = job(builders.case(height=1200.0, inside=builders.rows(*[builders.opening()] * 4)))
    board = replace(builders.board(thickness=thickness), code=plain.boards[0].code)
    methods = MethodChoice(mid_panel="cam and bolt")
    _, work = worked(replace(plain, methods=methods, boards=(board, *plain.boards[1:])))
    ways = [
        s.setting.registration
        for s in work.set_ups
        if s.setting is not None and any(o.line is LineToMark.FACE_LINE for o in s.operations)
    ]

    assert ways
    assert Registration.EDGE not in ways


@pytest.mark.parametrize("unit", list(Unit))
def test_a_fence_stands_where_the_printed_mark_is(unit: Unit) -> None:
    """A groove 10 from the edge, cups 22.5 from it: the card's figure is that of the set-out sheet, in either unit."""
    drawer = replace(builders.opening(), holds=Holds.DRAWER)
    door = replace(builders.opening(), holds=Holds.DOOR)
    asked = replace(job(builders.case("A", inside=builders.columns(drawer, door))), unit=unit)
    plan, work = worked(asked)
    marks = {m.feature.id: m for c in plan.set_out.cases for p in c.panels for m in p.marks}
    panels = {p.id: p for c in plan.details.cases for p in c.panels}
    printed, seen = asked.lengths.printed, 0
    for set_up in work.set_ups:
        s = set_up.setting
        if s is None or s.fence is None or s.registration is not Registration.EDGE:
            continue
        for o in set_up.operations:
            panel = panels[o.panel]
            for mark in (marks[f] for f in o.features):
                across = mark.v if o.reference.endswith("edge") else mark.u
                size = panel.width if o.reference.endswith("edge") else panel.length
                half = getattr(mark.feature.shape, "width", 0.0) / 2
                near = printed(across - half)
                wanted = printed(size) - printed(across + half) if o.reference.startswith("far") else near
                assert s.fence == pytest.approx(wanted, abs=1e-5)
                assert printed(s.fence) == pytest.approx(s.fence, abs=1e-6)
                seen += 1
    assert seen
