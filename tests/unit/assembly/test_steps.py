"""What a step tells at the bench: what to fit, hold, clamp and glue, when to check for square, when not to turn."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from storyrod import carcass, joinery
from storyrod.adapters.files import packaged_workshop
from storyrod.assembly import plan_assembly
from storyrod.measure.space import Direction, Point
from storyrod.model.assembly import CasePlan, HandAct, Leg, Step, StepKind, Verdict
from storyrod.model.detail import Joined
from storyrod.model.job import Back, BackKind, Case, MethodChoice, Plinth, Use
from tests import builders
from tests.unit.assembly.pieces import DOWELS, LEFT, RIGHT, H, T, across, both_sides, joined, shop

SHOP = packaged_workshop()
DOWELLED = MethodChoice(corner="dowels", mid_panel="dowels", plinth="dowels", drawer_box="dowels")
KEYHOLED = MethodChoice(corner="one-part keyhole connector", mid_panel="one-part keyhole connector")


def made(case: Case, methods: MethodChoice = DOWELLED) -> Joined:
    return joinery.join(carcass.build(builders.job(case, methods=methods), SHOP), SHOP)


@cache
def cabinet() -> CasePlan:
    """Return the plan of a cabinet with a plinth, a screwed back, two drawers, a door and a loose shelf behind it."""
    inside = builders.columns(
        builders.rows(builders.drawer(200.0, parted=False), builders.drawer()),
        builders.door(loose_shelves=1),
    )
    case = builders.case(
        width=1000.0,
        height=860.0,
        depth=450.0,
        inside=inside,
        plinth=Plinth(height=80.0, setback=40.0),
        back=Back(kind=BackKind.REBATED, board="b6"),
    )
    return plan_assembly(made(case), SHOP).cases[0]


@cache
def knock_down() -> CasePlan:
    """Return the plan of a case that comes apart again: keyholes and a screwed back."""
    back = Back(kind=BackKind.APPLIED, board="b6")
    return plan_assembly(
        made(builders.case(inside=builders.rows(builders.opening(), builders.opening()), back=back), KEYHOLED), SHOP
    ).cases[0]


def of_kind(plan: CasePlan, kind: StepKind) -> list[Step]:
    return [s for s in plan.steps if s.kind is kind]


def carcass_joins(plan: CasePlan) -> list[Step]:
    return [s for s in of_kind(plan, StepKind.JOIN) if s.body == "carcass"]


def test_steps_are_numbered_and_follow_the_usual_order() -> None:
    plan = cabinet()

    assert [s.number for s in plan.steps] == list(range(1, len(plan.steps) + 1))
    last = {kind: max(s.number for s in own) for kind in StepKind if (own := of_kind(plan, kind))}
    assert last[StepKind.DRAWER] < last[StepKind.FRONT] < last[StepKind.DOOR] < last[StepKind.SHELF]


def test_the_inside_is_built_before_the_sides_and_the_back_comes_last() -> None:
    """Base, divider and top first, then a side, then the other, then the back that makes it square."""
    joins = carcass_joins(cabinet())

    assert joins[-1].moving == ("A.back",)
    assert joins[-2].moving[0] in {"A.side-left", "A.side-right"}
    assert not {"A.side-left", "A.side-right"} & set(joins[0].moving + joins[0].onto)


def test_the_lowest_drawer_goes_in_first_with_a_caution_for_tipping() -> None:
    drawers = of_kind(cabinet(), StepKind.DRAWER)

    assert [d.body for d in drawers] == ["A.drawer-2", "A.drawer-1"]
    assert all(d.legs[0].way is Direction.BACKWARD for d in drawers)
    assert all(d.cautions[-1].code == "tip-in" for d in drawers)
    assert {o for d in drawers for o in d.onto} == {"A.side-left", "A.divider-1"}


def test_a_drawer_box_is_built_just_before_it_goes_in() -> None:
    plan = cabinet()
    for drawer in of_kind(plan, StepKind.DRAWER):
        before = [s for s in plan.steps if s.body == drawer.body and s.number < drawer.number]
        assert before[-1].number == drawer.number - 1
        assert sum(len(s.moving) for s in before if s.kind is StepKind.JOIN) == 4


def test_a_loose_shelf_is_laid_in_with_the_door_open() -> None:
    (shelf,) = of_kind(cabinet(), StepKind.SHELF)

    assert shelf.open_first == ("A.door-1",)
    assert "with door 1 open" in shelf.text


def test_dowels_are_fitted_before_the_step_that_closes_on_them() -> None:
    case = made(builders.case())
    plan = plan_assembly(case, SHOP).cases[0]
    joints = {j.id: j for j in case.cases[0].joints}
    for step in of_kind(plan, StepKind.JOIN):
        assert {c.joint for c in step.fit_first} == set(step.joints)
        for fitted in step.fit_first:
            assert fitted.panel == joints[fitted.joint].entering
            assert (fitted.item, fitted.count) in joints[fitted.joint].connectors


def test_bolts_are_fitted_in_the_face_that_receives_and_cams_in_the_panel_that_enters() -> None:
    case = made(builders.case(), MethodChoice(corner="cam and bolt", mid_panel="cam and bolt"))
    joints = {j.id: j for j in case.cases[0].joints}
    fitted = [c for s in plan_assembly(case, SHOP).cases[0].steps for c in s.fit_first]

    assert {("bolt" in c.item, c.panel == joints[c.joint].receiving) for c in fitted} == {(True, True), (False, False)}


def test_screws_are_driven_in_their_step_and_not_fitted_first() -> None:
    (back,) = [s for s in carcass_joins(cabinet()) if s.moving == ("A.back",)]

    assert set(back.screws) == set(back.joints)
    assert back.fit_first == ()
    driven = [one for one in back.by_hand if one.act is HandAct.DRIVE]
    assert [one.about for one in driven] == list(back.joints)
    for one in driven:
        assert f"Drive {one.uses[0].count} \u00d7 screw " in one.text


def test_a_clamp_is_set_when_both_ends_of_a_panel_are_closed() -> None:
    """A shelf that stands on one side cannot be clamped yet; when the second side is on, all clamps are set."""
    plan = plan_assembly(made(builders.case()), SHOP).cases[0]
    first, *_, last = of_kind(plan, StepKind.JOIN)

    assert first.clamps == ()
    assert len(last.clamps) == 4
    assert sum(len(s.clamps) for s in plan.steps) == 4


def test_glue_takes_its_minutes_by_rule_of_thumb() -> None:
    """Two joints of two dowels each: 4 x 20 s and two clamps of 60 s make 3.33 minutes."""
    case = joined({"left": LEFT, "right": RIGHT, "base": across(0), "top": across(H - T)},
                  [*both_sides("base", DOWELS), *both_sides("top", DOWELS)])  # fmt: skip
    last = of_kind(plan_assembly(case, shop()).cases[0], StepKind.JOIN)[-1]

    assert last.at_once == 2
    assert last.glue_min == pytest.approx((4 * 20 + 2 * 60) / 60)


def test_the_diagonals_are_told_when_the_frame_closes_and_when_the_back_goes_on() -> None:
    told = [s for s in carcass_joins(cabinet()) if s.diagonals]

    assert len(told) == 2
    assert told[-1].moving == ("A.back",)
    diagonals = told[-1].diagonals
    assert diagonals is not None
    assert (diagonals.across, diagonals.along) == (1000.0, 860.0)
    assert diagonals.length == pytest.approx(math.hypot(1000, 860))
    assert diagonals.per_mm == pytest.approx(2 * 1000 / math.hypot(1000, 860), abs=1e-3)
    assert diagonals.allowed == 1.0


def test_it_is_said_when_not_to_turn_and_no_turn_follows_such_a_step() -> None:
    plan = cabinet()
    assert any("nothing holds" in s.do_not_turn for s in plan.steps)
    for step, after in zip(plan.steps, plan.steps[1:], strict=False):
        if step.do_not_turn:
            assert after.kind is not StepKind.TURN or after.body != step.body


def test_the_case_stands_upright_in_the_end() -> None:
    for plan in (cabinet(), knock_down()):
        lying = [s.down for s in plan.steps if s.body == "carcass"]
        assert lying[-1] is Direction.DOWN


def test_weights_add_up_to_the_whole_case() -> None:
    plan = cabinet()
    whole = plan.steps[-1].whole_kg

    loose = sum(s.moved_kg for s in plan.steps if s.kind in {StepKind.FRONT, StepKind.DOOR, StepKind.SHELF})
    boxes = sum(s.moved_kg for s in of_kind(plan, StepKind.DRAWER))
    assert whole == pytest.approx(carcass_joins(plan)[-1].whole_kg + boxes + loose)


def test_a_heavy_lift_asks_for_helpers() -> None:
    case = made(builders.case(height=2200.0, depth=600.0, width=1200.0))
    turn = next(s for s in plan_assembly(case, SHOP).cases[0].steps if s.kind is StepKind.TURN)

    assert turn.moved_kg > 20
    assert turn.persons == math.ceil(turn.moved_kg / 20)
    assert {c.code for c in turn.cautions} == {"turning"}


def test_keyholes_slide_home_after_going_straight_in() -> None:
    slid = [s for s in carcass_joins(knock_down()) if len(s.legs) == 2]

    assert len(slid) == 4
    for step in slid:
        assert step.legs[1].distance == 10.0
        assert step.legs[0].way.axis is not step.legs[1].way.axis
        assert "until it locks" in step.text


def test_all_slots_of_a_panel_lock_to_the_back() -> None:
    slides = knock_down().choices.slides

    assert len(slides) == 6
    assert {s.lock for s in slides} == {Direction.BACKWARD}


def test_a_knock_down_case_is_taken_apart_in_reverse() -> None:
    plan = knock_down()
    apart = plan.parting

    assert [p.undoes for p in apart] == sorted((p.undoes for p in apart), reverse=True)
    assert {j for p in apart for j in p.undo} == {j for s in plan.steps for j in s.joints}
    slid = [p for p in apart if len(p.legs) == 2]
    assert all(p.legs[0].distance == 10.0 for p in slid)


def test_a_glued_case_does_not_come_apart_behind_its_glue() -> None:
    apart = cabinet().parting

    assert apart[-1].moving == ("A.back",)
    assert all(not p.lasting for p in apart)


def test_where_it_is_drawn_pulled_apart() -> None:
    step = Step(
        number=1,
        kind=StepKind.JOIN,
        body="carcass",
        moving=(),
        legs=(Leg(way=Direction.DOWN, distance=150.0), Leg(way=Direction.BACKWARD, distance=12.0)),
    )

    assert step.apart == Point(0.0, -12.0, 150.0)


def test_points_of_the_steps_are_the_cost_of_the_search() -> None:
    for plan in (cabinet(), knock_down()):
        assert plan.verdict is Verdict.PROVEN_BEST
        assert plan.cost == sum(b.cost for b in plan.bodies)


def test_tipping_and_standing_up_are_cautioned() -> None:
    tall = plan_assembly(made(builders.case(height=2390.0, depth=600.0)), SHOP).cases[0]

    def of_standing(case: CasePlan) -> set[str]:
        return {c.code for c in case.cautions} - {"open-time"}

    assert of_standing(tall) == {"tip-over", "stand-up"}
    assert of_standing(cabinet()) == {"tip-over"}
    low = made(builders.case(height=500.0))
    assert of_standing(plan_assembly(low, SHOP).cases[0]) == set()
    sooner = replace(low, job=replace(low.job, use=Use(fix_above=450.0)))  # as the job says, not from 600 mm on
    assert of_standing(plan_assembly(sooner, SHOP).cases[0]) == {"tip-over"}
