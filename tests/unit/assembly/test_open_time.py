"""Glue is clamped while it is open, counted from the first spreading to the clamp, or the plan says where it is not."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.assembly import check_plan, plan_assembly
from storyrod.model.assembly import CasePlan, StepKind
from storyrod.model.detail import DetailedCase, Joined
from storyrod.model.glue_time import Gluing
from storyrod.telling.step_notes import StepNotes
from tests.unit.assembly.pieces import DOWELS, LEFT, RIGHT, H, T, across, both_sides, joined, shop


def dowelled(shelves: int) -> Joined:
    levels = {"base": across(0), "top": across(H - T)} | {f"shelf {n}": across(90 + 70 * n) for n in range(shelves)}
    return joined({"left": LEFT, "right": RIGHT, **levels}, [j for name in levels for j in both_sides(name, DOWELS)])


def planned(shelves: int, open_min: float, **gluing: int) -> CasePlan:
    return plan_assembly(glued(dowelled(shelves), **gluing), shop(open_time_min=open_min)).cases[0]


def glued(made: Joined, **gluing: int) -> Joined:
    return replace(
        made, job=replace(made.job, gluing=Gluing(people=gluing.get("people", 1), goes=gluing.get("goes", 1)))
    )


def checked(made: Joined, case: CasePlan, open_min: float) -> str:
    plan = plan_assembly(made, shop(open_time_min=open_min))
    (replay,) = check_plan(made, replace(plan, cases=(case,)))
    return " ".join(replay.lines())


def test_the_time_runs_over_all_steps_from_the_first_glue_to_the_clamp() -> None:
    """Base, then top, then the other side: by hand, with 20 s a dowel, 30 s a part, 60 s a clamp."""
    case = planned(0, 60.0)
    joins = [s for s in case.steps if s.kind is StepKind.JOIN]
    stations = {j.id: len(j.stations) or 1 for j in dowelled(0).cases[0].joints}
    first, second, third = joins
    assert not first.clamps
    assert not second.clamps
    assert len(third.clamps) == 4

    seconds = sum(20 * stations[j] for s in joins for j in s.glue) + 3 * 30 + 60 * third.clamp_count
    (earliest,) = [t for t in case.glue if t.joint in first.glue]
    assert earliest.minutes == pytest.approx(seconds / 60)
    (later,) = [t for t in case.glue if t.joint in second.glue]
    assert later.minutes == pytest.approx((seconds - 30 - 20 * stations[first.glue[0]]) / 60)
    assert all(t.over_min == 0 for t in case.glue)
    assert not [c for s in case.steps for c in s.cautions if c.code == "open-time"]


def test_glue_that_waits_too_long_is_said_at_the_step_that_spreads_it_first() -> None:
    case = planned(3, 5.0)
    late = {t.joint for t in case.glue if t.over_min > 0.01}
    assert late
    told = [(s, c) for s in case.steps for c in s.cautions if c.code == "open-time"]

    assert {i for _, c in told for i in c.ids} == late
    (step, caution) = told[0]
    assert step is next(s for s in case.steps if s.glue)
    worst = max(t.minutes for t in case.glue)
    assert f"takes about {-(-worst // 1):.0f} min, from the first glue" in caution.text
    assert f"{-(-(worst - 5) // 1):.0f} min less" in caution.text
    assert "Use a glue that stays open" in caution.do


def test_a_case_names_its_late_glue_ups_in_one_caution_of_the_plan() -> None:
    """What its steps say one by one is among the cautions of the case and of all assembly, with joints and minutes."""
    plan = plan_assembly(glued(dowelled(3)), shop(open_time_min=5.0))
    (case,) = plan.cases
    late = {t.joint for t in case.glue if t.over_min > 0.01}
    (caution,) = [c for c in plan.cautions if c.code == "open-time"]

    assert caution in case.cautions
    assert set(caution.ids) == late
    assert caution.about == f"case {case.case}"
    worst = f"{-(-max(t.minutes for t in case.glue) // 1):.0f} min"
    assert f"than the 5 min the glue stays open: about {worst} from step 1" in caution.text
    assert f"Use a glue that stays open {worst} or more" in caution.do
    assert [c.code for c in planned(3, 240.0).cautions if c.code == "open-time"] == []


def test_the_checker_finds_a_late_glue_up_that_the_cautions_of_the_case_leave_out() -> None:
    made = glued(dowelled(3))
    case = plan_assembly(made, shop(open_time_min=5.0)).cases[0]
    silent = replace(case, cautions=tuple(c for c in case.cautions if c.code != "open-time"))

    assert "longer than its glue stays open, and nothing says so" not in checked(made, case, 5.0)
    assert "longer than its glue stays open, and nothing says so" in checked(made, silent, 5.0)


def test_two_people_and_several_goes_are_offered_only_where_they_will_do() -> None:
    whole = max(t.minutes for t in planned(1, 60.0).glue)
    double = max(t.two_people_min for t in planned(1, 60.0).glue)
    assert double < whole

    def said(open_min: float) -> str:
        return " ".join(c.do for s in planned(1, open_min).steps for c in s.cautions if c.code == "open-time")

    assert "two people" in said(double + 0.5)
    assert "goes" in said(whole - 0.5)
    assert "two people" not in said(2.0)
    assert "goes" not in said(2.0)


@given(st.integers(0, 2), st.floats(4, 30), st.integers(1, 2), st.integers(1, 4))
@settings(max_examples=6)
def test_people_and_goes_are_counted_alike_by_planner_and_checker(
    shelves: int, open_min: float, people: int, goes: int
) -> None:
    """In goes, all is in time, or it is not glued in goes; a later go is never under an earlier one."""
    made = glued(dowelled(shelves), people=people, goes=goes)
    case = planned(shelves, open_min, people=people, goes=goes)

    assert checked(made, case, open_min) == checked(made, planned(shelves, 240.0, people=people), 240.0)
    assert max(t.go for t in case.glue) <= goes
    late = [t for t in case.glue if t.over_min > 0.01]
    assert not late or {t.go for t in case.glue} == {1}
    assert bool(late) == any(c.code == "open-time" for s in case.steps for c in s.cautions)


def test_two_goes_halve_the_glue_of_each_and_say_so_at_every_step() -> None:
    """By hand: glue of 20 s a dowel counts in its own go alone, parts and clamps in both."""
    whole = planned(1, 60.0)
    longest = max(t.minutes for t in whole.glue)
    case = planned(1, longest - 0.5, goes=2)
    joins = [s for s in case.steps if s.kind is StepKind.JOIN]
    stations = {j.id: len(j.stations) or 1 for j in dowelled(1).cases[0].joints}
    first = [s for s in joins if s.go == 1]
    second = [s for s in joins if s.go == 2]

    assert [s.number for s in first] == sorted(s.number for s in first)
    assert max(s.number for s in first) < min(s.number for s in second)
    seconds = sum(20 * stations[j] for s in first for j in s.glue) + 30 * len(joins) + 60 * joins[-1].clamp_count
    assert next(t.minutes for t in case.glue if t.joint in first[0].glue) == pytest.approx(seconds / 60)
    assert not [c for s in case.steps for c in s.cautions if c.code == "open-time"]
    assert [s.number for s in case.steps if any("in 2 goes" in h for h in s.hold)] == [first[0].number]
    notes = StepNotes(cast("DetailedCase", dowelled(1).cases[0]))
    assert any(n.endswith("in the second go.") for n in notes.beforehand(second[0]))


def test_the_checker_finds_goes_that_could_not_be_done() -> None:
    made = glued(dowelled(1), goes=2)
    longest = max(t.minutes for t in planned(1, 60.0).glue)
    case = planned(1, longest - 0.5, goes=2)
    assert checked(made, case, longest) == checked(made, planned(1, 60.0, goes=2), 60.0)

    turned = replace(case, glue=tuple(replace(t, go=3 - t.go) for t in case.glue))
    assert "could not come apart again" in checked(made, turned, longest)
    silent = replace(case, steps=tuple(replace(s, go=0) for s in case.steps))
    assert "does not say in which go" in checked(made, silent, longest)
    alone = glued(dowelled(1), people=2, goes=2)
    assert "2 people glue up, and it names 1" in checked(alone, case, longest)


def test_the_checker_counts_for_itself() -> None:
    made, case = dowelled(3), planned(3, 5.0)
    assert "too" not in checked(made, case, 5.0)

    silent = replace(case, steps=tuple(replace(s, cautions=()) for s in case.steps))
    assert "longer than its glue stays open, and nothing says so" in checked(made, silent, 5.0)

    short = replace(case, glue=tuple(replace(t, minutes=t.minutes - 1) for t in case.glue))
    assert "the plan says otherwise" in checked(made, short, 5.0)

    dry = replace(case, steps=tuple(replace(s, glue=()) for s in case.steps))
    assert "never spread with glue" in checked(made, dry, 5.0)


def test_the_checker_finds_a_clamp_that_bears_on_air() -> None:
    made, case = dowelled(0), planned(0, 60.0)
    first = case.steps[0]
    early = replace(case, steps=(replace(first, clamps=first.joints, clamp_count=2), *case.steps[1:]))

    assert "before what the clamp bears on is there" in checked(made, early, 60.0)
    uncounted = replace(case, steps=tuple(replace(s, clamp_count=0) for s in case.steps))
    assert "not counted" in checked(made, uncounted, 60.0)
