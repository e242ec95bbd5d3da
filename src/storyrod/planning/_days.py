"""The day's work over one or several jobs: tasks of their plans, the days of the workshop's week, and the order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from storyrod.faults import Fault, JobError
from storyrod.model.buying import ToBuy
from storyrod.model.day import DAY_MIN, DayPlan, Task, WorkDay
from storyrod.model.quoting import Finish
from storyrod.model.work import Stage
from storyrod.model.workshop import Week, Weekday, Workshop

if TYPE_CHECKING:
    from storyrod.daywork import Source, Ticked
    from storyrod.planning._batch import Batch
    from storyrod.planning._plan import Plan

DAYS_AHEAD: Final = 400
"""Days of the calendar that are looked at."""

ALONE: Final = "1"
"""The mark of a job that is planned by itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayJob:
    """One job among the day's work."""

    mark: str
    name: str
    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DayTasks:
    """The tasks of one or several jobs.

    Attributes:
        plans: the plans that they are read off, by the prefix of their set-ups' ids: each job's own, or one of all.
        merged: whether jobs share their set-ups.
        to_buy: everything that is bought for them.
        finishes: what each case is finished with, by its code.
    """

    jobs: tuple[DayJob, ...]
    plans: Mapping[str, Plan]
    tasks: tuple[Task, ...]
    merged: bool
    workshop: Workshop
    to_buy: tuple[ToBuy, ...]
    finishes: Mapping[str, Finish]


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """The day's work, planned.

    Attributes:
        first: the day whose midnight moments are counted from.
        now: the moment from which it is planned.
    """

    work: DayTasks
    plan: DayPlan
    first: date
    now: int


def tasks_of_job(plan: Plan, name: str) -> DayTasks:
    """Return the tasks of one job.

    Raises:
        JobError: it cannot be built as it stands.
    """
    from storyrod.daywork import list_tasks

    source = _source(plan, {c.code: ALONE for c in plan.job.cases}, "")
    return DayTasks(
        jobs=(DayJob(mark=ALONE, name=name, title=plan.job.title),),
        plans={"": plan},
        tasks=list_tasks(source),
        merged=False,
        workshop=plan.workshop,
        to_buy=plan.account.to_buy,
        finishes=_finishes([plan]),
    )


def tasks_of_batch(batch: Batch) -> DayTasks:
    """Return the tasks of jobs made together: with shared set-ups where these save time, else each by its own run."""
    from storyrod.daywork import list_tasks

    jobs = tuple(DayJob(mark=m.mark, name=m.name, title=m.job.title) for m in batch.members)
    merged = batch.run.saves_min >= 0
    if merged:
        plans = {"": batch.together}
        marks = {c.code: m.mark for m, p in zip(batch.members, batch.plans, strict=True) for c in p.job.cases}
        source = _source(batch.together, marks, "")
        finishing = tuple(i for p in batch.plans for i in p.account.work.items if i.stage is Stage.FINISH)
        tasks = list_tasks(replace(source, items=(*source.items, *finishing), finishes=_finishes(batch.plans)))
    else:
        plans = {f"{m.mark} ": p for m, p in zip(batch.members, batch.plans, strict=True)}
        tasks = tuple(
            task
            for member, (prefix, plan) in zip(batch.members, plans.items(), strict=True)
            for task in list_tasks(_source(plan, {c.code: member.mark for c in plan.job.cases}, prefix))
        )
    return DayTasks(
        jobs=jobs,
        plans=plans,
        tasks=tasks,
        merged=merged,
        workshop=batch.together.workshop,
        to_buy=tuple(b.line for b in batch.bought),
        finishes=_finishes(batch.plans),
    )


def _finishes(plans: Sequence[Plan]) -> dict[str, Finish]:
    return {c.code: p.job.finish for p in plans for c in p.job.cases if p.job.finish is not None}


def _source(plan: Plan, marks: Mapping[str, str], prefix: str) -> Source:
    from storyrod.daywork import Source

    return Source(
        details=plan.details,
        assembly=plan.assembly,
        run=plan.machining,
        items=plan.account.work.items,
        workshop=plan.workshop,
        jobs=marks,
        finishes=_finishes([plan]),
        prefix=prefix,
    )


def plan_days(work: DayTasks, first: date, now: int, ticked: Mapping[str, Ticked] | None = None) -> Days:
    """Return the day's work from a moment on, given in minutes since the midnight before `first`.

    Raises:
        JobError: it cannot be done with these clamps and days.
    """
    from storyrod.daywork import check_day, plan_day, what_is_left

    tasks, held = what_is_left(work.tasks, ticked or {}, now)
    days = tuple(calendar(work.workshop.week, first, now))
    plan = plan_day(tasks, days, work.workshop.handling.clamps, held)
    return Days(work=work, plan=replace(plan, faults=check_day(plan)), first=first, now=now)


def calendar(week: Week, first: date, now: int = 0) -> Iterator[WorkDay]:
    """Yield the days in the workshop from a moment on.

    Raises:
        JobError: the week has no working day, or a day would run past midnight.
    """
    opens, closes = round(week.starts_h * 60), round((week.starts_h + week.hours) * 60)
    if not week.days or closes > DAY_MIN:
        raise JobError(_no_week(week))
    names = list(Weekday)
    for n in range(DAYS_AHEAD):
        day = first + timedelta(days=n)
        name = names[day.weekday()]
        start = max(n * DAY_MIN + opens, now)
        if name in week.days and start < n * DAY_MIN + closes:
            people = 2 if not week.helper or name in week.helper else 1
            yield WorkDay(date=day.isoformat(), opens=start, closes=n * DAY_MIN + closes, people=people)


def _no_week(week: Week) -> Fault:
    if not week.days:
        return Fault(
            code="day-no-week",
            field="week.days",
            found="no working day",
            allowed="one day of the week or more",
            do="Name the days on which you work.",
        )
    return Fault(
        code="day-past-midnight",
        field="week.hours",
        found=f"{week.hours:g} hours from {week.starts_h:g} o'clock",
        allowed="a day that ends before midnight",
        do="Begin earlier, or work fewer hours.",
    )
