"""The tasks of a plan: all its minutes, none twice, in the order in which a maker can do them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from itertools import pairwise

import pytest

from storyrod.daywork import Ticked, list_tasks, what_is_left
from storyrod.faults import JobError
from storyrod.model.day import DAY_MIN, TaskKind
from storyrod.model.quoting import Finish
from storyrod.model.workshop import Week, Weekday
from storyrod.planning import DayTasks, Plan, plan_days
from storyrod.planning._days import _source, calendar

THURSDAY = date(2026, 12, 3)


def test_the_tasks_hold_every_minute_of_the_account_and_of_the_jigs(chest: Plan, tasks: DayTasks) -> None:
    """Each act stands in the tasks as often as the ledger counts it; whole minutes differ by half a minute a task."""
    acts = [a for t in tasks.tasks if t.kind is not TaskKind.JIGS for a in t.acts]

    assert sum(a.minutes.usual for a in acts) == pytest.approx(chest.account.minutes.usual)
    jigs = [t for t in tasks.tasks if t.kind is TaskKind.JIGS]
    assert [t.minutes for t in jigs] == [round(chest.account.work.jig_min)]
    whole = sum(t.minutes for t in tasks.tasks)
    assert whole == pytest.approx(chest.account.minutes.usual + chest.account.work.jig_min, abs=len(tasks.tasks) / 2)


def test_set_ups_stand_in_the_order_of_the_run(chest: Plan, tasks: DayTasks) -> None:
    order = [t.set_up for t in tasks.tasks if t.kind is TaskKind.SET_UP]

    assert order == [s.set_up for s in chest.machining.run.steps if s.set_up in order]
    chained = [t for t in tasks.tasks if t.kind is TaskKind.SET_UP]
    assert all(before.id in after.after for before, after in pairwise(chained))


def test_a_glue_up_has_its_clamps_its_wait_and_its_people(chest: Plan, tasks: DayTasks) -> None:
    """Read off the order of assembly: the carcass takes ten clamps and two people, the drawer four and one."""
    glued = {t.name: t for t in tasks.tasks if t.kind is TaskKind.GLUE}

    assert {n: (t.clamps, t.people, t.wait_min) for n, t in glued.items()} == {
        "Glue up P": (10, 2, 45),
        "Glue up drawer 1 of P": (4, 1, 45),
    }
    fit = next(t for t in tasks.tasks if t.kind is TaskKind.FIT)
    assert {t.id for t in glued.values()} <= set(fit.after)


def test_jigs_are_made_before_the_set_up_that_needs_them(tasks: DayTasks) -> None:
    waiting = [t for t in tasks.tasks if "jigs" in t.after]

    assert [t.set_up for t in waiting] == ["S6"]


def test_coats_follow_each_other_and_dry(chest: Plan) -> None:
    finish = Finish(name="oil", coats=3, dries_h=10)
    job = replace(chest.job, finish=finish)
    finished = Plan(job, chest.workshop, chest)
    coats = [t for t in list_tasks(_source(finished, {"P": "1"}, "")) if t.kind is TaskKind.COAT]

    assert [t.name for t in coats] == [f"Put the {n} coat on P" for n in ("first", "second", "third")]
    assert [t.wait_min for t in coats] == [600, 600, 600]
    assert coats[0].after == ("P/1 fit",)
    assert [t.after for t in coats[1:]] == [(coats[0].id,), (coats[1].id,)]
    work = finished.account.work.items
    usual = sum(i.usual_min for i in work if i.stage.value == "finishing")
    assert sum(t.minutes for t in coats) == pytest.approx(usual, abs=1.5)


# --- What is ticked ---------------------------------------------------------------------------------------------------


def test_ticked_tasks_are_done_and_their_glue_goes_on_drying(tasks: DayTasks) -> None:
    """All set-ups are ticked, and the drawer's glue-up is half ticked at minute 600: it is done whole."""
    ticked = {t.id: Ticked(share=1.0, last=500) for t in tasks.tasks if t.set_up}
    ticked["P/1 P.drawer-1 1"] = Ticked(share=0.5, last=600)

    left, held = what_is_left(tasks.tasks, ticked, now=610)

    assert [t.id for t in left] == ["P/1 carcass 1", "P/1 fit"]
    done = {h.task: h for h in held}
    assert done["P/1 P.drawer-1 1"].dry == 645
    assert done["P/1 P.drawer-1 1"].clamps == 4
    assert "jigs" in done  # nobody ticks a jig: the set-up that it is made for is done


def test_a_set_up_that_is_begun_takes_what_is_left_of_it(tasks: DayTasks) -> None:
    saw = next(t for t in tasks.tasks if t.set_up == "S1")

    left, _ = what_is_left(tasks.tasks, {"S1": Ticked(share=0.75, last=500)}, now=510)

    now = next(t for t in left if t.set_up == "S1")
    assert now.minutes == round(saw.minutes / 4)
    assert sum(a.minutes.usual for a in now.acts) == pytest.approx(saw.minutes / 4, abs=0.2)


def test_ticks_bring_the_job_nearer(tasks: DayTasks) -> None:
    before = plan_days(tasks, THURSDAY, 480).plan
    after = plan_days(tasks, THURSDAY, 480, {"S1": Ticked(share=1.0, last=470)}).plan

    saw = tasks.tasks[1] if tasks.tasks[0].set_up != "S1" else tasks.tasks[0]
    assert saw.set_up == "S1"
    assert before.faults == after.faults == ()
    assert after.ready[0].planned < before.ready[0].planned


# --- The week ---------------------------------------------------------------------------------------------------------


def test_the_calendar_keeps_the_week_the_hours_and_the_moment() -> None:
    """3 December 2026 is a Thursday: begun at ten, then Friday, then Monday; the helper comes on Monday."""
    week = Week(starts_h=8.5, hours=5, helper=(Weekday.MONDAY,))

    found = [d for _, d in zip(range(3), calendar(week, THURSDAY, 600), strict=False)]

    assert [(d.date, d.opens % DAY_MIN, d.closes % DAY_MIN, d.people) for d in found] == [
        ("2026-12-03", 600, 810, 1),
        ("2026-12-04", 510, 810, 1),
        ("2026-12-07", 510, 810, 2),
    ]
    assert [d.opens // DAY_MIN for d in found] == [0, 1, 4]


@pytest.mark.parametrize(
    ("week", "code"),
    [(Week(days=()), "day-no-week"), (Week(starts_h=20, hours=6), "day-past-midnight")],
)
def test_a_week_without_days_or_past_midnight_says_so(week: Week, code: str) -> None:
    with pytest.raises(JobError) as caught:
        list(calendar(week, THURSDAY))

    assert [f.code for f in caught.value.faults] == [code]


def test_two_person_work_waits_for_the_day_on_which_somebody_helps(tasks: DayTasks) -> None:
    week = replace(tasks.workshop.week, helper=(Weekday.WEDNESDAY,))
    shop = replace(tasks.workshop, week=week)

    plan = plan_days(replace(tasks, workshop=shop), THURSDAY, 480).plan

    slot = next(s for s in plan.slots if s.task == "P/1 carcass 1")
    assert slot.start // DAY_MIN == 6  # the Wednesday after
    assert plan.faults == ()
