"""An order of all tasks over the days: by rule, then searched for, then made tidy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.daywork._by_rule import again, by_rule
from storyrod.daywork._improve import Mover
from storyrod.daywork._place import Bench, NoDayLeftError, ready_by_job
from storyrod.daywork._ranges import ranges
from storyrod.daywork._search import SEED, WORK, Answer, search
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.day import DayPlan, Found, Held, Ready, Task, WorkDay


def plan_day(
    tasks: Sequence[Task],
    days: Sequence[WorkDay],
    clamps: int | None = None,
    held: Sequence[Held] = (),
    *,
    work: float = WORK,
    seed: int = SEED,
) -> DayPlan:
    """Return the tasks in the order in which all jobs are ready soonest, and of those with the least sum of waiting.

    Args:
        tasks: what is left to do; what they wait for is among them or in `held`.
        days: the days on which somebody is there, in order; more than are needed.
        clamps: clamps owned; None where they are no limit.
        held: what is done and not dry yet.
        work: how long the search goes on, in the solver's own measure of work.
        seed: of the search.

    Raises:
        JobError: a glue-up that no day is long enough for, or that takes more clamps than are owned; a second person
            who never comes; more work than the days hold.
    """
    raise_if_any(_impossible(tasks, days, clamps))
    try:
        found = by_rule(tasks, days, clamps, held)
    except NoDayLeftError:
        raise JobError(_too_much(tasks, days)) from None
    mover = Mover(tasks, lambda: Bench(days, clamps, held), held)
    best = mover.improved(min(found, key=mover.cost))
    answer = search(tasks, days, clamps, held, best, work=work, seed=seed)
    if answer is not None:
        searched = again(tasks, answer.order, Bench(days, clamps, held))
        best = min(searched, best, key=mover.cost)
    best = Mover(tasks, lambda: Bench(days, clamps, held), held).tidied(best)
    ready = ready_by_job(tasks, best, held)
    likely = ranges(tasks, [s.task for s in best], days, clamps, held)
    return DayPlan(
        tasks=tuple(tasks),
        held=tuple(held),
        days=tuple(days),
        clamps=clamps,
        slots=best,
        ready=tuple(_ready(job, moment, likely) for job, moment in ready.items()),
        found=_sureness(answer),
        bound=min(answer.bound, max(ready.values())) if answer is not None and ready else 0,
    )


def _sureness(answer: Answer | None) -> Found:
    if answer is None:
        return Found.BY_RULE
    return Found.PROVEN_BEST if answer.is_best else Found.FOUND


def _ready(job: str, moment: int, likely: dict[str, tuple[int, int]]) -> Ready:
    early, late = likely.get(job, (moment, moment))
    return Ready(job=job, planned=moment, early=early, late=late)


# --- What cannot be done ----------------------------------------------------------------------------------------------


def _impossible(tasks: Sequence[Task], days: Sequence[WorkDay], clamps: int | None) -> Iterator[Fault]:
    longest = max((d.minutes for d in days), default=0)
    for task in tasks:
        if task.people > max((d.people for d in days), default=0):
            yield Fault(
                code="day-alone",
                field="week.helper",
                found=f"no day with a second person, and {task.name} takes {task.people}",
                allowed="a day of the week on which somebody helps",
                do="Name the day in `week.helper`, or leave it out to be told when to ask somebody.",
            )
        elif task.in_one_go and task.minutes > longest:
            yield Fault(
                code="day-too-short",
                field="week",
                found=f"{task.name}, {task.minutes} minutes in one go, where the longest day left has {longest}",
                allowed="a day that is long enough",
                do="Work longer on one day, or glue it in more goes (`gluing.goes` of the job).",
            )
        if clamps is not None and task.clamps > clamps:
            yield Fault(
                code="day-clamps",
                field="handling.clamps",
                found=f"{clamps} clamps, where {task.name} takes {task.clamps} at once",
                allowed=f"{task.clamps} clamps or more",
                do="Borrow clamps, or glue it in more goes (`gluing.goes` of the job).",
            )


def _too_much(tasks: Sequence[Task], days: Sequence[WorkDay]) -> Fault:
    hours = sum(t.minutes for t in tasks) / 60
    return Fault(
        code="day-too-much",
        field="week",
        found=f"{hours:.0f} hours of work, which {len(days)} days do not hold",
        allowed="work for about a year",
        do="Plan fewer jobs at once, or set more hours a day in `week`.",
    )
