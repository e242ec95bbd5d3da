"""Glue is clamped while it is open, counted from the first spreading to the clamp, or the plan says where it is not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.assembly import check_plan, plan_assembly
from storyrod.assembly._glue import _goes
from storyrod.model.assembly import CasePlan, StepKind
from storyrod.model.detail import Joined
from tests.unit.assembly.pieces import DOWELS, LEFT, RIGHT, H, T, across, both_sides, joined, shop


def dowelled(shelves: int) -> Joined:
    levels = {"base": across(0), "top": across(H - T)} | {f"shelf {n}": across(90 + 70 * n) for n in range(shelves)}
    return joined({"left": LEFT, "right": RIGHT, **levels}, [j for name in levels for j in both_sides(name, DOWELS)])


def planned(shelves: int, open_min: float) -> CasePlan:
    return plan_assembly(dowelled(shelves), shop(open_time_min=open_min)).cases[0]


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
    assert f"about {-(-worst // 1):.0f} min from the first glue" in caution.text
    assert f"{-(-(worst - 5) // 1):.0f} min less" in caution.text
    assert "Use a glue that stays open" in caution.do


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


@given(st.lists(st.floats(20, 200), min_size=1, max_size=12), st.floats(0, 900))
def test_every_go_keeps_within_its_room(glue: list[float], room: float) -> None:
    goes = _goes(glue, room)
    if goes is None:
        assert max(glue) > room
        return
    assert goes >= sum(glue) / room - 1e-9
    assert goes <= len(glue)


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
