"""The order over the days: as good as the best of all orders where these can be tried, passed by its own checker."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from storyrod.daywork import check_day, plan_day
from storyrod.daywork._place import cost_of
from storyrod.faults import JobError
from storyrod.model.day import DAY_MIN, ActMinutes, DayPlan, Found, Held, TaskKind
from storyrod.model.work import Minutes
from tests.unit.daywork.weeks import CLOSES, OPENS, AllOrders, by_chance, days, task

CLAMPS = 6


def cost(plan: DayPlan) -> tuple[int, int]:
    return cost_of(plan.tasks, plan.slots, plan.held)


@pytest.mark.parametrize("seed", range(12))
def test_no_order_of_up_to_eight_tasks_is_ready_sooner(seed: int) -> None:
    """Clamps, drying, nights, one go and a second person counted: the search finds the best of all orders."""
    rng = random.Random(seed)
    tasks = by_chance(rng, 4 + seed % 5)
    week = days(helper=2)

    plan = plan_day(tasks, week, CLAMPS)

    assert plan.found is Found.PROVEN_BEST
    assert cost(plan) == AllOrders(tasks, week, CLAMPS).best
    assert plan.bound == cost(plan)[0]
    assert check_day(plan) == ()


def test_what_dries_already_is_waited_for_and_holds_its_clamps() -> None:
    held = (Held(task="wet", dry=OPENS + 50, clamps=4, jobs=("1",)),)
    tasks = (
        task("a", 20, "wet"),
        task("b", 20, kind=TaskKind.GLUE, clamps=3, wait_min=30),
        task("c", 10),
    )

    plan = plan_day(tasks, days(), CLAMPS, held)

    starts = {s.task: s.start for s in plan.slots}
    assert starts["a"] >= OPENS + 50
    assert starts["b"] >= OPENS + 50  # three clamps of six, while four are held
    assert cost(plan) == AllOrders(tasks, days(), CLAMPS, held).best
    assert check_day(plan) == ()


def test_other_work_goes_on_while_glue_sets() -> None:
    """Worked by hand: glue first (20), then the set-up (40) while it sets (45), then fitting out."""
    tasks = (
        task("set-up", 40),
        task("glue", 20, kind=TaskKind.GLUE, wait_min=45),
        task("fit", 30, "glue", kind=TaskKind.FIT),
    )

    plan = plan_day(tasks, days())

    assert [(s.task, s.start - OPENS) for s in plan.slots] == [("glue", 0), ("set-up", 20), ("fit", 65)]
    assert plan.ready[0].planned == OPENS + 95


def test_a_coat_dries_through_the_night() -> None:
    tasks = (task("coat", 30, kind=TaskKind.COAT, wait_min=12 * 60), task("again", 30, "coat", kind=TaskKind.COAT))

    plan = plan_day(tasks, days())

    assert [s.start for s in plan.slots] == [OPENS, DAY_MIN + OPENS]


def test_a_glue_up_is_not_left_overnight_and_a_set_up_may_be() -> None:
    tasks = (task("saw", 90), task("glue", 60, "saw", kind=TaskKind.GLUE), task("rout", 200, "glue"))

    plan = plan_day(tasks, days())

    assert [(s.start, s.end) for s in plan.slots] == [
        (OPENS, OPENS + 90),
        (DAY_MIN + OPENS, DAY_MIN + OPENS + 60),
        (DAY_MIN + OPENS + 60, 3 * DAY_MIN + OPENS + 20),  # 60 minutes, a whole day of 120, and 20
    ]


def test_the_same_is_planned_each_time() -> None:
    tasks = by_chance(random.Random(3), 9)

    assert plan_day(tasks, days(helper=2), CLAMPS) == plan_day(tasks, days(helper=2), CLAMPS)


def test_a_good_order_is_found_where_the_solver_is_not_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Within a twentieth of the best of all orders, and as sound."""
    monkeypatch.setattr("storyrod.daywork._search.is_installed", lambda: False)
    for seed in range(6):
        tasks = by_chance(random.Random(seed), 6)
        plan = plan_day(tasks, days(helper=2), CLAMPS)

        assert plan.found is Found.BY_RULE
        assert cost(plan)[0] <= 1.05 * AllOrders(tasks, days(helper=2), CLAMPS).best[0]
        assert check_day(plan) == ()


def test_ranges_are_those_of_the_account_where_nothing_waits() -> None:
    """Two acts of 100 +- 20 and 50 (-10, +30), worked by hand: the root of the sum of squares.

    low = 150 - hypot(20, 10) = 127.6, high = 150 + hypot(20, 30) = 186.1.
    """
    a = ActMinutes(act="a", minutes=Minutes(low=80, usual=100, high=120))
    b = ActMinutes(act="b", minutes=Minutes(low=40, usual=50, high=80))
    tasks = (replace(task("x", 100), acts=(a,)), replace(task("y", 50), acts=(b,)))

    ready = plan_day(tasks, days(opens=0, closes=600)).ready[0]

    assert ready.planned == 150
    assert ready.early == pytest.approx(127.6, abs=6)
    assert ready.late == pytest.approx(186.1, abs=8)


@pytest.mark.parametrize(
    ("tasks", "clamps", "helper", "code"),
    [
        ((task("glue", CLOSES - OPENS + 1, kind=TaskKind.GLUE),), None, 1, "day-too-short"),
        ((task("glue", 20, kind=TaskKind.GLUE, clamps=7),), CLAMPS, 1, "day-clamps"),
        ((task("lift", 20, people=3),), None, 1, "day-alone"),
        ((task("saw", 120 * 41),), None, 1, "day-too-much"),
    ],
)
def test_what_cannot_be_done_says_why(tasks: tuple[object, ...], clamps: int | None, helper: int, code: str) -> None:
    with pytest.raises(JobError) as caught:
        plan_day(tasks, days(helper=helper), clamps)  # type: ignore[arg-type]

    assert [f.code for f in caught.value.faults] == [code]
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)
