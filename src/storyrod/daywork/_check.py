"""The day's work checked by code that shares nothing with the search for it.

Minute by minute where that is plain: the maker is in one place, no clamp holds two things, nothing begins before what
it waits for is done and dry, what is done in one go stays within one day, and a second person is there where one is
needed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from storyrod.faults import Fault
from storyrod.model.day import DAY_MIN, DayPlan, Slot, Task


def check_day(plan: DayPlan) -> tuple[Fault, ...]:
    """Return every fault of a plan of days, each a mistake of our own that keeps it from being printed."""
    tasks = {t.id: t for t in plan.tasks}
    counts = Counter(s.task for s in plan.slots)
    lost = [_fault(f"{tasks[i].name} stands {counts[i]} times in the plan") for i in tasks if counts[i] != 1]
    strange = [_fault(f'"{s.task}" is no task') for s in plan.slots if s.task not in tasks]
    if lost or strange:
        return (*lost, *strange)
    return (*_worked(plan, tasks), *_dry(plan, tasks), *_clamped(plan, tasks), *_ready(plan, tasks))


def _fault(found: str) -> Fault:
    return Fault(
        code="day-check",
        field="day",
        found=found,
        allowed="one thing at a time, dry glue, and clamps that are there",
        do="This is a mistake in storyrod: report it with the job file. Plan the day by hand until then.",
    )


def _minutes_of(slot: Slot, plan: DayPlan) -> list[int]:
    """Return the minutes of the clock in which a task is worked on."""
    return [m for d in plan.days for m in range(max(d.opens, slot.start), min(d.closes, slot.end))]


def _worked(plan: DayPlan, tasks: dict[str, Task]) -> Iterator[Fault]:
    taken: dict[int, str] = {}
    for slot in plan.slots:
        task = tasks[slot.task]
        own = _minutes_of(slot, plan)
        if len(own) != task.minutes or not own or own[0] != slot.start or own[-1] + 1 != slot.end:
            yield _fault(f"{task.name} takes {task.minutes} minutes and has {len(own)} of the workshop's hours")
        if len({m // DAY_MIN for m in own}) > 1 and (task.in_one_go or task.people > 1):
            yield _fault(f"{task.name} is done in one go and would be left overnight")
        there = {d.people for d in plan.days if d.opens < slot.end and slot.start < d.closes}
        if min(there, default=0) < task.people:
            yield _fault(f"{task.name} takes {task.people} people, and fewer are there")
        both = {taken[m] for m in own if m in taken}
        if both:
            yield _fault(f"{task.name} at the same time as {', '.join(sorted(both))}")
        taken |= dict.fromkeys(own, task.name)


def _dry(plan: DayPlan, tasks: dict[str, Task]) -> Iterator[Fault]:
    slots = {s.task: s for s in plan.slots}
    done = {h.task: h.dry for h in plan.held}
    for slot in plan.slots:
        task = tasks[slot.task]
        if slot.dry - slot.end != task.wait_min:
            yield _fault(f"{task.name} is said to be dry {slot.dry - slot.end} minutes on, not {task.wait_min}")
        for before in task.after:
            if before not in slots and before not in done:
                yield _fault(f'{task.name} waits for "{before}", which nobody does')
                continue
            dry = done[before] if before not in slots else slots[before].end + tasks[before].wait_min
            if slot.start < dry:
                yield _fault(f"{task.name} begins {dry - slot.start} minutes before what it waits for is dry")


def _clamped(plan: DayPlan, tasks: dict[str, Task]) -> Iterator[Fault]:
    if plan.clamps is None:
        return
    moments: list[tuple[int, int]] = [(h.dry, -h.clamps) for h in plan.held]
    in_use = sum(h.clamps for h in plan.held)
    for slot in plan.slots:
        task = tasks[slot.task]
        moments += [(slot.start, task.clamps), (slot.end + task.wait_min, -task.clamps)]
    for _, change in sorted(moments):  # what comes free at a moment may be set again at it
        in_use += change
        if in_use > plan.clamps and change > 0:
            yield _fault(f"{in_use} clamps in use at once, where {plan.clamps} are owned")


def _ready(plan: DayPlan, tasks: dict[str, Task]) -> Iterator[Fault]:
    for one in plan.ready:
        ends = [s.end + tasks[s.task].wait_min for s in plan.slots if one.job in tasks[s.task].jobs]
        last = max([*ends, *(h.dry for h in plan.held if one.job in h.jobs)], default=one.planned)
        if one.planned != last:
            yield _fault(f"job {one.job} is said to be ready at minute {one.planned}, and is at {last}")
        if not one.early <= one.late:
            yield _fault(f"job {one.job} would be ready late before it is ready early")
    for a, b in pairwise(plan.days):
        if not a.opens < a.closes <= b.opens:
            yield _fault(f"the days {a.date} and {b.date} run into each other")
