"""Walls, ends and the straight edge's own place, worked by hand; stopped cuts on tables; packers left out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.machining import check_run
from storyrod.measure.length import Unit
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.bench_lines import LineKind
from storyrod.model.job import Back, BackKind, Drawers, HandHold, HandHoldKind, Holds, MethodChoice
from storyrod.model.machining import CutPlace, SetUp, WorkPlan
from storyrod.model.panel import Surface
from storyrod.model.workshop import Cutter, CutterKind, ToolKind, Workshop
from storyrod.telling.placing import placed_from
from storyrod.telling.set_ups import BY_EYE_WORDS, STOP_WORDS, stop_words
from tests import builders
from tests.unit.machining.shops import SHOP, box, job, made, shop, with_plinth, worked


def place_on(set_up: SetUp, panel: str) -> CutPlace:
    return next(o for o in set_up.operations if o.panel_name == panel).places[0]


def without(*kinds: ToolKind) -> Workshop:
    return shop(tools=tuple(t for t in SHOP.tools if t.kind not in kinds))


def with_housing() -> WorkPlan:
    methods = MethodChoice(corner="dowels", mid_panel="housing")
    _, work = worked(job(box(width=600, height=700), methods=methods))
    return work


def test_a_housing_has_walls_middle_ends_and_its_straight_edge() -> None:
    """Divider of 18 in the middle of a top 564 long: walls 272.95 and 291.05; base 75, cutter 12, so 69 before them."""
    (housings,) = made(with_housing(), "housings")
    place = place_on(housings, "top")

    assert place.walls is not None
    assert place.walls[1] - place.walls[0] == pytest.approx(18.1)
    assert place.centre == pytest.approx(sum(place.walls) / 2)
    assert place.across_from is Surface.DATUM_END
    assert (place.along_from, place.ends, place.stopped) == (Surface.FACE_EDGE, (0, 400), (False, False))
    assert place.straight_edge == pytest.approx(place.walls[0] - 69)
    assert place.beyond is Surface.DATUM_END
    assert not place.off_board
    words = placed_from(next(o for o in housings.operations if o.panel_name == "top"), METRIC)
    assert f"straight edge at {place.straight_edge:.6g} from the datum end, on the datum end side" in words
    assert f"middle at {place.centre:.6g}, from the datum end" in words
    assert "runs from 0 to 400 from the face edge" in words
    assert "stopped" not in words


@pytest.mark.parametrize("unit", list(Unit))
def test_wall_setting_and_straight_edge_add_up_as_they_are_printed(unit: Unit) -> None:
    """A wall at 273.055 is printed 273.06, and 69.034 to it 69.03: the straight edge is at 204.03, not at 204.02."""
    tools = tuple(replace(t, base_half=75.034) if t.base_half is not None else t for t in SHOP.tools)
    methods = MethodChoice(corner="dowels", mid_panel="housing")
    inside = builders.columns(builders.rows(builders.opening(), builders.opening()), builders.opening())
    case = builders.case("A", width=600.21, height=700, depth=400, inside=inside)
    asked = replace(job(case, methods=methods), unit=unit)
    _, work = worked(asked, shop(tools=tools))
    written, seen = asked.lengths, 0
    for set_up in work.set_ups:
        for place in (p for o in set_up.operations for p in o.places):
            if place.walls is None or place.straight_edge is None or set_up.setting is None:
                continue
            setting = written.printed(set_up.setting.fence or 0.0)
            off = [abs(abs(written.printed(w) - written.printed(place.straight_edge)) - setting) for w in place.walls]
            assert min(off) <= (written.half_digit + 1e-6 if unit is Unit.INCH else 1e-6)
            seen += 1
    assert seen


def test_a_straight_edge_goes_to_the_side_that_has_room_for_it() -> None:
    """A shelf 60 above the floor has 42 of side before it: not 69 and the straight edge's own 60."""
    low = replace(
        builders.case(
            "A", width=600, height=700, depth=400, inside=builders.rows(builders.opening(), builders.opening(60.0))
        ),
        back=Back(kind=BackKind.NONE),
    )
    _, work = worked(job(low, methods=MethodChoice(corner="dowels", mid_panel="housing")))
    (housings,) = made(work, "housings")
    place = place_on(housings, "left side")

    assert place.walls is not None
    assert place.walls[0] < 69 + 60
    assert place.straight_edge == pytest.approx(place.walls[1] + 69)
    assert place.beyond is Surface.FAR_END


def test_a_stopped_cut_says_where_it_stops_and_where_the_base_meets_a_stop() -> None:
    """A back let into the sides above a plinth of 80: the rebate stops at its foot, the base's stop is 71 beyond."""
    case = replace(with_plinth(), back=Back(kind=BackKind.REBATED, board="b6"))
    _, work = worked(job(case), without(ToolKind.ROUTER_TABLE, ToolKind.TABLE_SAW))
    (rebates,) = made(work, "rebates")
    assert {any(o.places[0].stopped) for o in rebates.operations} == {True, False}
    for o in rebates.operations:
        (place,) = o.places
        assert place.ends is not None
        words = placed_from(o, METRIC)
        assert words.count("runs from") == 1
        for end, stopped, base in zip(place.ends, place.stopped, place.base_stops, strict=True):
            if stopped and base is not None:
                assert abs(end - base) == pytest.approx(71)
                assert "base to a stop at" in words
        by_eye = [e for e, s, b in zip(place.ends, place.stopped, place.base_stops, strict=True) if s and b is None]
        assert list(place.by_eye) == by_eye
        assert (f", by eye at {METRIC.n(by_eye[0])}" in words) if by_eye else ("by eye" not in words)
        if any(place.stopped):
            assert ", stopped at " in words
        else:
            assert place.base_stops == (None, None)
    assert stop_words(rebates) == ((STOP_WORDS,) if rebates.stops else ()) + (BY_EYE_WORDS,)


def test_figures_are_in_the_job_s_unit() -> None:
    (housings,) = made(with_housing(), "housings")
    words = placed_from(housings.operations[0], LengthWriter(Unit.INCH))

    assert words.count('"') >= 6


def test_a_groove_that_begins_within_the_leading_end_is_not_made_on_a_router_table() -> None:
    """Grooves of a back stop in the sides at both ends: on a table the work would have to be dropped on the cutter."""
    drawer = replace(
        box(), inside=replace(builders.opening(), holds=Holds.DRAWER), drawers=Drawers(board="b12", bottom_board="b6")
    )
    back = replace(drawer, back=Back(kind=BackKind.GROOVED, board="b6", inset=10.0))
    _, work = worked(job(back))
    on_table = [s for s in made(work, "grooves") if s.setting and s.setting.tool_kind is ToolKind.ROUTER_TABLE]
    by_hand = [s for s in made(work, "grooves") if s.setting and s.setting.tool_kind is ToolKind.ROUTER]

    assert [p.stopped for s in by_hand for o in s.operations for p in o.places if all(p.stopped)]
    assert not [p for s in on_table for o in s.operations for p in o.places if all(p.stopped)]


def test_a_groove_on_the_table_saw_never_has_the_words_of_a_cut_through() -> None:
    drawer = replace(
        box(), inside=replace(builders.opening(), holds=Holds.DRAWER), drawers=Drawers(board="b12", bottom_board="b6")
    )
    _, work = worked(job(drawer), without(ToolKind.ROUTER, ToolKind.ROUTER_TABLE))
    (grooves,) = (s for s in made(work, "grooves") if s.setting and s.setting.tool_kind is ToolKind.TABLE_SAW)
    kinds = {c.kind for c in grooves.cautions}
    words = " ".join(c.text for c in grooves.cautions)

    assert {LineKind.GROOVE_MACHINE, LineKind.GROOVE_GUARD, LineKind.GROOVE_DROP, LineKind.TABLE_SAW_PUSH} <= kinds
    assert LineKind.KICKBACK in kinds
    assert LineKind.TABLE_SAW_GUARD not in kinds
    assert "guard fitted" not in words
    assert "below the top of the blade" in words
    assert "pressure pads" in words
    assert "Stand out of the line" in words


@pytest.mark.parametrize(
    ("diameter", "cap", "passes"),
    [
        (12, 6, 4),  # 18 deep and 1 into the spoil board: 19, 6 at the most
        (16, 6, 4),  # half of 16 is 8: the cap rules
        (6, 6, 7),  # 3 each
        (5, 6, 8),  # half of 5 is 2.5
        (16, 9, 3),  # 8 would be allowed: 19 / 8
        (20, 9, 3),
        (12, 4, 5),
    ],
)
def test_a_pass_is_no_deeper_than_half_the_cutter_and_the_cap(diameter: float, cap: float, passes: int) -> None:
    """A hand hold through a board of 18, with one cutter only, in a workshop that says so deep and no deeper."""
    cutters = tuple(c for c in SHOP.cutters if c.kind is not CutterKind.STRAIGHT)
    only = Cutter(code="only", kind=CutterKind.STRAIGHT, diameter=diameter, reach=60)
    drawer = replace(builders.opening(), holds=Holds.DRAWER)
    held = replace(box(), inside=drawer, fronts=replace(box().fronts, hand_hold=HandHold(kind=HandHoldKind.SLOT)))
    _, work = worked(job(held), shop(cutters=(*cutters, only), deepest_pass=cap))
    (cut_outs,) = made(work, "cut-outs")

    assert cut_outs.setting is not None
    assert cut_outs.setting.passes[0] == passes
    step = 18 / passes
    assert step <= min(diameter / 2, cap) + 1e-9


def test_a_thin_packer_is_left_out_where_both_halves_shift_alike() -> None:
    """Bushes 9 from the fence, boards of 17.7: 8.85 wanted. 0.15 would be paper; both halves are 0.15 off alike."""
    boards = (replace(builders.board(thickness=17.7), code="b18"), *builders.boards()[1:])
    plan, work = worked(replace(job(box()), boards=boards))
    located = [s for s in work.set_ups if s.setting and s.setting.tool_kind is ToolKind.DRILL_JIG]

    assert located
    for s in located:
        assert s.setting is not None
        assert s.setting.wanted == pytest.approx(8.85)
        assert s.setting.packer is not None
        assert s.setting.packer.made == 0
        assert s.section is not None
        assert s.section.centre == 9
    assert check_run(work, plan.details, plan.set_out).faults == ()
    at_line = next(p for s in located for o in s.operations if o.line_at is not None for p in o.places)
    line = next(o.line_at for s in located for o in s.operations if o.line_at is not None)
    assert at_line.straight_edge == pytest.approx(line)


def test_the_check_finds_a_packer_left_out_of_one_half_only() -> None:
    boards = (replace(builders.board(thickness=17.7), code="b18"), *builders.boards()[1:])
    plan, work = worked(replace(job(box()), boards=boards))
    half = next(s for s in made(work, "in edges and ends") if s.setting and s.setting.packer)
    assert half.setting is not None
    assert half.setting.packer is not None
    lies = replace(half, setting=replace(half.setting, packer=replace(half.setting.packer, pieces=(0.15,))))
    broken = replace(work, set_ups=tuple(lies if s.id == half.id else s for s in work.set_ups))

    assert any("packer" in f.found for f in check_run(broken, plan.details, plan.set_out).faults)


def test_a_router_s_head_must_go_in_through_the_mouth() -> None:
    """A clip's slot is 5.5 wide at the mouth and 8 below: a head of 8 cannot go in, whatever the template."""
    methods = MethodChoice(corner="two-part clip connector", mid_panel="two-part clip connector")
    _, work = worked(job(box(), methods=methods))
    slots = made(work, "undercut slots")

    assert slots
    assert all(s.setting and s.setting.tool_kind is ToolKind.UNDERCUT_CUTTER for s in slots)
