"""Each rule of rounding, one test a rule: what is rounded, what goes with it, and what keeps its exact place.

The board is 17.7, so that a panel's two lines are never both whole half millimetres.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings

from storyrod import carcass, joinery, setout
from storyrod.adapters.files import packaged_workshop
from storyrod.faults import JobError
from storyrod.measure.length import Unit, parse_length
from storyrod.measure.space import Axis, PanelAxis
from storyrod.model.detail import Choices, Details
from storyrod.model.feature import Channel
from storyrod.model.job import Back, BackKind, Drawers, Fronts, HandHold, HandHoldKind, Job, Opening, Plinth
from storyrod.model.mark import JointLine, Mark, PanelSetOut, SetOut
from storyrod.model.panel import PanelId, Role
from tests.builders import board, boards, case, columns, door, drawer, job, opening, rows, shelves
from tests.strategies import jobs

THIN = (board(measured=17.7), *boards()[1:])


def detailed(made: Job) -> Details:
    shop = packaged_workshop()
    return joinery.detail(joinery.join(carcass.build(made, shop), shop), Choices())


def set_out(made: Job) -> SetOut:
    return setout.set_out(detailed(made))


def thin_case(inside: Opening, **more: object) -> Job:
    return job(case(inside=inside, **more), boards=THIN)  # type: ignore[arg-type]


def line(out: SetOut, on: str, mate: str) -> JointLine:
    (found,) = (n for n in out.of(PanelId(f"A.{on}")).lines if n.mate == f"A.{mate}")
    return found


def marks(out: SetOut, panel: str, item: str) -> list[Mark]:
    return [m for m in out.of(PanelId(f"A.{panel}")).marks if m.feature.item == item]


def is_whole(value: float, step: float = 0.5) -> bool:
    return abs(value / step - round(value / step)) < 1e-6


# --- lines -----------------------------------------------------------------------------------------------------------


def test_the_line_of_a_shelf_in_an_open_carcass_is_rounded_on_its_face_side() -> None:
    """Inside 720 - 35.4 = 684.6; 684.6 - 2 x 17.7 = 649.2, a third of it 216.4; the face is at 251.8, marked 252."""
    out = set_out(thin_case(rows(opening(), opening(), opening())))

    lower = line(out, "side-left", "shelf-2")
    assert (lower.near, lower.far, lower.face_side_line) == (234.3, 252.0, 252.0)


def test_a_line_flush_with_an_end_is_not_rounded() -> None:
    """The top of a side 720.2 high: 702.5 to 720.2, which a step of 0.5 would put at 720."""
    out = set_out(thin_case(opening(), height=720.2))

    top, base = line(out, "side-left", "top"), line(out, "side-left", "base")
    assert (top.near, top.far) == (702.5, 720.2)
    assert (base.near, base.far) == (0.0, 17.7)


def test_a_base_that_stands_on_its_plinth_keeps_its_line() -> None:
    """The plinth is 80.2 high whatever is marked: the base lies on it, from 80.2 to 97.9."""
    plinth = Plinth(height=80.2, setback=40.0, field="cases[0].plinth")
    out = set_out(thin_case(opening(), plinth=plinth))

    base = line(out, "side-left", "base")
    assert (base.near, base.far) == (80.2, 97.9)
    assert line(out, "side-left", "plinth").face_side_line == 40.0


def test_a_divider_between_which_a_shelf_stands_keeps_its_lines_and_the_shelf_its_length() -> None:
    """564.6 less a divider is 546.9; shared by two 273.45 each: the divider's face is 273.45 along the base."""
    out = set_out(thin_case(columns(rows(opening(), opening()), opening())))

    divider = line(out, "base", "divider-1")
    shelf = out.of(PanelId("A.shelf-1")).panel
    assert divider.near == 273.45
    assert shelf.length == 273.45


def test_a_divider_in_an_open_carcass_is_rounded_where_nothing_stands_against_it() -> None:
    out = set_out(thin_case(columns(opening(), opening())))

    assert line(out, "base", "divider-1").face_side_line == 273.5


@pytest.mark.parametrize("inside", [drawer(), door()], ids=["drawer", "door"])
def test_a_line_beside_a_drawer_or_a_door_keeps_its_place(inside: Opening) -> None:
    out = set_out(thin_case(columns(inside, opening()), width=700.0))

    assert line(out, "base", "divider-1").near == 323.45  # (700 - 3 x 17.7) / 2


def test_a_shelf_over_a_drawer_keeps_its_line_and_one_further_up_does_not() -> None:
    """Three rows of 216.4: the shelf over the drawer has its face at 251.8, the one above it at 485.9."""
    out = set_out(thin_case(rows(opening(), opening(), drawer())))

    assert line(out, "side-left", "shelf-2").far == 251.8
    assert line(out, "side-left", "shelf-1").far == 486.0


def test_a_divider_that_is_bored_for_shelf_pins_keeps_its_line() -> None:
    out = set_out(thin_case(columns(shelves(2), opening())))

    assert line(out, "base", "divider-1").near == 273.45


def test_a_drawer_box_keeps_its_lines() -> None:
    """A runner of 350.3, so that the box's back is on no whole step of its sides."""
    shop = packaged_workshop()
    runners = tuple(replace(r, lengths=(350.3,), box_shorter=0.0) for r in shop.runners)
    shop = replace(shop, runners=runners)
    made = thin_case(drawer())
    exact = joinery.detail(joinery.join(carcass.build(made, shop), shop), Choices())
    boxes = {p.id: p.box for p in exact.cases[0].panels}
    seen = 0
    for panel in setout.set_out(exact).cases[0].panels:
        if panel.panel.role is Role.DRAWER_SIDE:
            for found in (n for n in panel.lines if n.across_length):
                assert found.near == pytest.approx(boxes[found.mate].low.y - panel.panel.box.low.y)
                seen += 1
    assert seen >= 4


def test_a_back_that_shelves_stand_before_keeps_its_line() -> None:
    """A back let in between, 10.3 in: its front is at 400 - 10.3 - 6 = 383.7, where the shelf's depth ends."""
    back = Back(kind=BackKind.BETWEEN, board="b6", inset=10.3, field="cases[0].back")
    out = set_out(thin_case(rows(opening(), opening()), back=back))

    assert out.of(PanelId("A.shelf-1")).panel.width == pytest.approx(383.7)
    for found in (n for n in out.of(PanelId("A.side-left")).lines if n.mate == "A.back"):
        assert found.near == 383.7


def test_a_back_in_grooves_keeps_its_line_though_nothing_stands_before_it() -> None:
    """Grooves are set by their walls and not rounded: a line of 383.5 would have it stand 0.2 beside its groove."""
    back = Back(kind=BackKind.GROOVED, board="b6", inset=10.3, field="cases[0].back")
    out = set_out(thin_case(opening(), back=back))

    (found,) = (n for n in out.of(PanelId("A.side-left")).lines if n.mate == "A.back")
    assert sorted((found.near, found.far)) == pytest.approx([383.7, 389.7])
    (groove,) = (m for m in out.of(PanelId("A.side-left")).marks if isinstance(m.feature.shape, Channel))
    assert groove.v - groove.feature.shape.width / 2 <= 383.7 + 1e-6  # type: ignore[union-attr]
    assert groove.v + groove.feature.shape.width / 2 >= 389.7 - 1e-6  # type: ignore[union-attr]


def test_one_panel_has_one_move_on_all_that_receive_it() -> None:
    """The shelf reaches from the side, measured from the floor, to a divider, measured from the base's face."""
    made = thin_case(columns(opening(), rows(opening(), opening(), opening())), back=BACK)
    out = set_out(made)
    exact = detailed(made).cases[0]

    moved = set()
    for on in ("side-right", "divider-1", "back"):
        panel = out.of(PanelId(f"A.{on}")).panel
        found = line(out, on, "shelf-1")
        axis = PanelAxis.U if found.across_length else PanelAxis.V
        way = panel.frame.direction(axis)
        datum = panel.frame.origin.along(way.axis)
        moved.add(round(datum + found.far * way.sign - exact.panel(PanelId("A.shelf-1")).box.high.z, 6))
    assert len(moved) == 1
    assert moved != {0.0}


BACK = Back(kind=BackKind.APPLIED, board="b6", field="cases[0].back")


def test_an_opening_is_what_lies_between_the_lines_as_marked() -> None:
    """The upper shelf is marked at 468.3 to 486, the lower one at 234.3 to 252: the room between them is 216.3."""
    out = set_out(thin_case(rows(opening(), opening(), opening())))
    upper, middle, lower = (o.box for o in out.cases[0].openings if not o.children)

    first, second = line(out, "side-left", "shelf-1"), line(out, "side-left", "shelf-2")
    assert middle.size(Axis.Z) == pytest.approx(first.near - second.far)
    assert upper.low.z == pytest.approx(first.far)
    assert lower.high.z == pytest.approx(second.near)
    total = sum(b.size(Axis.Z) for b in (upper, middle, lower)) + 4 * 17.7
    assert total == pytest.approx(720.0)


def test_what_is_left_beside_a_rebate_is_halved_to_a_hundredth_on_both_mates() -> None:
    """A back in a rebate 8.85 deep with 0.5 of clearance covers 8.35, and half of it is 4.175.

    It is 4.18 from the side's face, so 4.17 from the back's end, where that face is at 8.35.
    """
    out = set_out(thin_case(opening(), back=Back(kind=BackKind.REBATED, board="b6", field="cases[0].back")))
    back, side = out.of(PanelId("A.back")), out.of(PanelId("A.side-left"))
    screws = [m for m in back.marks if m.mate.startswith(f"{side.panel.mark}.")]
    mates = {f"{side.panel.mark}.{m.number}": m for m in side.marks}

    assert screws
    for screw in screws:
        assert (screw.u, mates[screw.mate].w) == pytest.approx((4.17, 4.18), abs=1e-6)


def test_the_lines_of_a_board_that_is_no_whole_hundredth_are_a_printed_board_apart() -> None:
    """15.875 is printed 15.88: lines at 313.928 and 329.803 were printed 313.93 and 329.80, a hundredth too near."""
    made = job(case(inside=rows(opening(), opening(), drawer(200.0))), boards=(board(measured=15.875), *boards()[1:]))
    out, printed = set_out(made), made.lengths.printed
    panels = [p for p in out.cases[0].panels if p.panel.body == "carcass"]
    lines = {(n.number, p.panel.id): n for p in panels for n in p.lines}
    places = {m.label: m for p in panels for m in p.marks}
    seen = 0

    assert lines
    for found in lines.values():
        assert printed(found.far) - printed(found.near) == pytest.approx(15.88, abs=1e-6)
    for mark in places.values():  # and a mark is as far from the line, as printed, as its mate is from the face
        line_of = lines.get((mark.joint, mark.feature.panel))
        if line_of is not None and mark.mate:
            at = printed(mark.u if line_of.across_length else mark.v)
            off = abs(at - printed(line_of.face_side_line))
            assert off == pytest.approx(printed(places[mark.mate].w), abs=1e-6)
            seen += 1
    assert seen


def test_in_inches_two_lines_are_a_printed_board_apart_and_a_mark_is_the_sum_of_what_is_printed() -> None:
    """18 mm is 0.7087 in and half of it 0.3543; 2.5 in of plinth are a line of the rule: 2.5 + 0.3543 = 2.8543."""
    plinth = Plinth(height=63.5, setback=40.0, field="cases[0].plinth")
    made = job(case(inside=opening(), plinth=plinth), boards=(board(measured=18.0), *boards()[1:]), unit=Unit.INCH)
    out, printed = set_out(made), made.lengths.printed
    found = line(out, "side-left", "base")
    holes = [m for m in out.of(PanelId("A.side-left")).marks if m.joint == found.number]

    assert (made.lengths.n(found.near), made.lengths.n(found.far)) == ('2 1/2"', '3.2087"')
    assert holes
    for hole in holes:
        half = next(m.w for m in out.of(PanelId("A.base")).marks if m.label == hole.mate)
        assert hole.u == pytest.approx(printed(found.far - printed(half)))


# --- patterns --------------------------------------------------------------------------------------------------------


def hung(height: float = 723.3) -> SetOut:
    plinth = Plinth(height=83.3, setback=30.0, field="cases[0].plinth")
    return set_out(thin_case(door(), height=height, plinth=plinth))


def test_plates_are_exactly_as_far_apart_as_their_cups_and_on_one_height_with_them() -> None:
    out = hung()
    door_out, side = out.of(PanelId("A.door-1")), out.of(PanelId("A.side-left"))
    cups = sorted(z_of(door_out, m) for m in door_out.marks if m.what.startswith("hole Ø35"))
    plates = sorted(z_of(side, m) for m in side.marks if m.feature.item == "cup hinge")

    middles = [(low + high) / 2 for low, high in zip(plates[::2], plates[1::2], strict=True)]
    assert middles == pytest.approx(cups, abs=1e-6)
    assert [b - a for a, b in zip(plates[::2], plates[1::2], strict=True)] == pytest.approx([32.0] * len(cups))


def test_a_cup_is_a_whole_step_up_its_door() -> None:
    door_out = hung().of(PanelId("A.door-1"))

    assert all(is_whole(m.v) for m in door_out.marks if m.what.startswith("hole Ø35"))


def z_of(out: PanelSetOut, mark: Mark) -> float:
    frame = out.panel.frame
    axis = frame.panel_axis(Axis.Z)
    way = frame.direction(axis)
    return frame.origin.z + float(getattr(mark, axis.value)) * way.sign


def test_runners_are_level_on_a_side_from_the_floor_and_a_divider_from_the_base() -> None:
    plinth = Plinth(height=83.3, setback=30.0, field="cases[0].plinth")
    made = thin_case(columns(rows(drawer(), drawer(), drawer()), opening()), width=900.0, plinth=plinth)
    out = set_out(made)

    left, right = out.of(PanelId("A.side-left")), out.of(PanelId("A.divider-1"))
    heights = [
        sorted({round(z_of(p, m), 6) for m in p.marks if m.feature.pattern.endswith("-runner")}) for p in (left, right)
    ]
    assert len(heights[0]) == 3
    assert heights[0] == heights[1]
    assert all(is_whole(m.u) for m in left.marks if m.feature.pattern.endswith("-runner"))


def test_a_runners_screws_keep_the_distances_of_its_sheet() -> None:
    """The packaged runner's screws are where its sheet says from its front, whatever the step."""
    made = job(case(inside=drawer()), boards=THIN, mark_to=5.0)
    case_ = detailed(made).cases[0]
    out = set_out(made)
    for name in ("side-left", "drawer-1.side-left"):
        exact = {f.id: f.at for f in case_.on(PanelId(f"A.{name}")) if f.pattern}
        for mark in out.of(PanelId(f"A.{name}")).marks:
            if mark.feature.id in exact and name == "side-left":
                assert mark.v == pytest.approx(exact[mark.feature.id].v)
            elif mark.feature.id in exact:
                assert mark.u == pytest.approx(exact[mark.feature.id].u)


def test_a_row_of_pins_is_level_and_keeps_its_pitch_in_an_inch_job() -> None:
    made = job(case(inside=shelves(2)), boards=THIN, unit=Unit.INCH, fraction=16)
    out = set_out(made)
    left = sorted({m.u for m in marks(out, "side-left", "shelf pin")})
    right = sorted({m.u for m in marks(out, "side-right", "shelf pin")})

    assert left == right
    assert {round(b - a, 6) for a, b in pairwise(left)} == {32.0}
    assert is_whole(left[0], 25.4 / 16)


# --- what is set by its walls ----------------------------------------------------------------------------------------


def test_grooves_and_notches_keep_their_exact_place() -> None:
    back = Back(kind=BackKind.GROOVED, board="b6", inset=12.3, field="cases[0].back")
    made = thin_case(rows(opening(), drawer()), back=back, width=600.3, drawers=Drawers(runner="under light"))
    exact = {f.id: f.at for f in detailed(made).cases[0].features}

    seen = set()
    for panel in set_out(made).cases[0].panels:
        for mark in panel.marks:
            shape = mark.feature.shape
            if mark.feature.kind in ("groove", "rebate") or getattr(shape, "outline", "") == "notch":
                at = exact[mark.feature.id]
                assert (mark.u, mark.v) == pytest.approx((at.u, at.v))
                seen.add(mark.feature.kind)
    assert {"groove", "cut-out"} <= seen


def test_a_hand_hold_of_its_own_is_rounded_from_its_panel() -> None:
    fronts = Fronts(hand_hold=HandHold(kind=HandHoldKind.SLOT), field="cases[0].fronts")
    out = set_out(thin_case(drawer(), width=600.3, fronts=fronts))
    holds = [m for p in out.cases[0].panels for m in p.marks if m.feature.item == "hand hold"]

    assert holds
    assert all(is_whole(m.u) for m in holds)


def test_a_scoop_stays_open_at_the_edge_it_is_cut_in() -> None:
    """The front is 221.25 high or so: a scoop's middle is on that edge, and no whole step is."""
    fronts = Fronts(hand_hold=HandHold(kind=HandHoldKind.SCOOP), field="cases[0].fronts")
    out = set_out(thin_case(rows(drawer(), opening()), height=720.3, fronts=fronts))
    (scoop,) = (m for p in out.cases[0].panels for m in p.marks if m.feature.item == "hand hold")

    assert not is_whole(out.of(scoop.panel).panel.width)
    assert scoop.v == pytest.approx(out.of(scoop.panel).panel.width)


def test_a_drawers_sides_are_bored_by_one_height_whatever_its_upright_is() -> None:
    """All boxes are alike, so all their sides are, although the uprights' marks are moved by this much and that."""
    out = set_out(thin_case(rows(drawer(), drawer(), drawer())))
    by_drawer = [
        sorted((m.u, m.v) for m in out.of(PanelId(f"A.drawer-{n}.side-left")).marks if m.feature.pattern)
        for n in (1, 2, 3)
    ]

    assert by_drawer[0]
    assert by_drawer[0] == by_drawer[1] == by_drawer[2]
    assert all(is_whole(v) for _, v in by_drawer[0])


# --- the unit that is printed ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("fraction", "step"), [(32, 0.79375), (64, 0.396875), (16, 1.5875)])
def test_an_inch_job_rounds_to_its_fraction(fraction: int, step: float) -> None:
    made = job(case(inside=rows(opening(), opening())), boards=THIN, unit=Unit.INCH, fraction=fraction)
    out = set_out(made)

    assert out.mark_to == pytest.approx(step)
    assert is_whole(line(out, "side-left", "shelf-1").face_side_line, step)
    shelf = out.of(PanelId("A.shelf-1"))
    assert all(is_whole(m.v, step) for m in shelf.marks if m.joint)


def test_an_inch_job_may_mark_to_a_line_of_its_rule_and_to_nothing_else() -> None:
    assert job(case(), unit=Unit.INCH, mark_to=25.4 / 64).mark_step == 25.4 / 64
    assert job(case(), unit=Unit.INCH, mark_to=25.4 / 8).mark_step == 25.4 / 8
    assert job(case(), unit=Unit.INCH, mark_to=1.0).mark_step == 25.4 / 32
    assert job(case(), mark_to=0.25).mark_step == 0.25


@given(made=jobs())
@settings(max_examples=15)
def test_what_is_printed_of_a_mark_is_its_own_figure(made: Job) -> None:
    """Printing adds nothing: what is read from paper is the plan's figure to the last digit that is written."""
    try:
        out = set_out(made)
    except JobError:
        return
    half = 0.00005 * 25.4 if made.unit is Unit.INCH else 0.005
    write = made.lengths.told
    for panel in (p for c in out.cases for p in c.panels):
        for value in (v for m in panel.marks for v in (m.u, m.v, m.w)):
            assert abs(parse_length(write(value)) - value) <= half + 1e-6
        for found in panel.lines:
            if is_whole(found.face_side_line, out.mark_to):
                told = write(found.face_side_line)
                assert parse_length(told) == pytest.approx(found.face_side_line, abs=0.0051)
