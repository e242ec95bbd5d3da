"""The checker of the day's work finds every fault that is put into a sound plan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from storyrod.daywork import check_day, plan_day
from storyrod.model.day import DAY_MIN, DayPlan, Held, Slot, TaskKind
from tests.unit.daywork.weeks import OPENS, days, task


@pytest.fixture(scope="module")
def sound() -> DayPlan:
    """Saw, glue with four clamps, fit, and a second glue-up that two people do."""
    tasks = (
        task("saw", 30),
        task("glue", 20, "saw", kind=TaskKind.GLUE, wait_min=45, clamps=4),
        task("two", 20, "saw", kind=TaskKind.GLUE, wait_min=45, clamps=2, people=2),
        task("fit", 10, "glue", kind=TaskKind.FIT),
    )
    return plan_day(tasks, days(helper=2), 6)


def moved(plan: DayPlan, code: str, start: int, end: int | None = None) -> DayPlan:
    """Return a plan with one task at another moment."""

    def at(slot: Slot) -> Slot:
        if slot.task != code:
            return slot
        minutes, wait = plan.task(code).minutes, plan.task(code).wait_min
        stop = start + minutes if end is None else end
        return Slot(task=code, start=start, end=stop, dry=stop + wait)

    return replace(plan, slots=tuple(map(at, plan.slots)))


def test_a_sound_plan_passes(sound: DayPlan) -> None:
    assert check_day(sound) == ()


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda p: replace(p, slots=p.slots[1:]), "stands 0 times"),
        (lambda p: replace(p, slots=(*p.slots, p.slots[0])), "stands 2 times"),
        (lambda p: moved(p, "glue", OPENS + 10), "at the same time"),
        (lambda p: moved(p, "fit", OPENS + 70), "what it waits for is dry"),
        (lambda p: moved(p, "saw", OPENS - 10), "of the workshop's hours"),
        (lambda p: moved(p, "glue", OPENS + 110, DAY_MIN + OPENS + 10), "left overnight"),
        (lambda p: moved(p, "two", DAY_MIN + OPENS), "fewer are there"),
        (lambda p: replace(p, clamps=5), "clamps in use at once"),
        (lambda p: replace(p, held=(Held(task="x", dry=OPENS + 100, clamps=1),)), "clamps in use at once"),
        (lambda p: replace(p, ready=(replace(p.ready[0], planned=1, early=0, late=1),)), "is said to be ready"),
        (lambda p: replace(p, ready=(replace(p.ready[0], early=9, late=1),)), "ready late before"),
        (lambda p: replace(p, tasks=(*p.tasks[:3], replace(p.tasks[3], after=("ghost",)))), "which nobody does"),
        (lambda p: replace(p, days=(p.days[1], p.days[0])), "run into each other"),
        (lambda p: replace(p, slots=(replace(p.slots[1], dry=0), *p.slots[:1], *p.slots[2:])), "is said to be dry"),
    ],
)
def test_each_fault_is_found(sound: DayPlan, spoil: Callable[[DayPlan], DayPlan], words: str) -> None:
    found = check_day(spoil(sound))

    assert any(words in f.found for f in found), [f.found for f in found]
