"""The day's work from its files: jobs read, planned and proven, and what of them the bench log says is done."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.adapters.batching import planned
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.day import Task
from storyrod.planning import Days, DayTasks, Plan, plan_days, tasks_of_batch, tasks_of_job
from storyrod.telling.cards import Card, cards_of
from storyrod.telling.day import plan_prefix, things_of_task
from storyrod.telling.things import Thing, ThingKind, coats_of, is_still

if TYPE_CHECKING:
    from storyrod.adapters.log import BenchLog, Tick
    from storyrod.daywork import Ticked

MOMENT = re.compile(r"(\d{4}-\d{2}-\d{2})(?:[ T](\d{1,2}):(\d{2}))?")


def tasks_of_files(paths: Sequence[Path], progress: Callable[[str], None] = lambda _: None) -> DayTasks:
    """Return the tasks of one job file, of several, or of a batch file.

    Raises:
        JobError: every fault of every job, each with its file and line.
    """
    from storyrod.adapters.files import read_job
    from storyrod.adapters.files.batching import is_batch, read_batch

    if len(paths) > 1 or is_batch(paths[0]):
        return tasks_of_batch(planned(read_batch(paths), progress))
    progress("working out the job")
    read = read_job(paths[0])
    plan = Plan(read.job, read.workshop)
    try:
        raise_if_any(plan.faults)
        return tasks_of_job(plan, paths[0].stem)
    except JobError as error:
        raise read.located(error) from None


def days_from(work: DayTasks, when: dt.datetime, log: BenchLog | None = None) -> Days:
    """Return the day's work from a moment on, without what the log has ticked.

    Raises:
        JobError: it cannot be done with these clamps and days.
    """
    now = when.hour * 60 + when.minute
    ticked = ticked_in(work, when, log) if log is not None else {}
    return plan_days(work, when.date(), now, ticked)


def ticked_in(work: DayTasks, when: dt.datetime, log: BenchLog) -> dict[str, Ticked]:
    """Return how much of each task is ticked; each job's ticks are looked for under its own name and title."""
    last: dict[tuple[str, str, int], Tick] = {}
    for job in work.jobs:
        for name in dict.fromkeys((job.title, job.name)):
            last |= {(job.mark, t.thing.id, t.copy): t for t in log.ticks(name)}
    return shares_of(work, last, midnight_before(when))


def midnight_before(when: dt.datetime) -> float:
    """Return the midnight that a day begins with, in seconds since 1970."""
    return when.replace(hour=0, minute=0, second=0, microsecond=0).timestamp()


def shares_of(work: DayTasks, last: Mapping[tuple[str, str, int], Tick], midnight: float) -> dict[str, Ticked]:
    """Return how much of each task is ticked, by the last word on each thing: of a job's mark, thing and copy."""
    from storyrod.daywork import Ticked

    cards = {prefix: {c.id: c for c in cards_of(plan)} for prefix, plan in work.plans.items()}
    owners = _owners(work)
    found: dict[str, Ticked] = {}
    for task in work.tasks:
        own = cards[plan_prefix(work, task)]
        things = things_of_task(task, own)
        if not things:
            found[task.id] = Ticked(share=None)
            continue
        wanted = _things(own) | _coats(work, task)
        done = [t for thing, copy in things if (t := _held(wanted[thing], copy, last, owners)) is not None]
        moment = max((round((t.at - midnight) / 60) for t in done), default=0)
        found[task.id] = Ticked(share=len(done) / len(things), last=moment)
    return found


def _things(cards: Mapping[str, Card]) -> dict[str, tuple[Thing, str]]:
    return {r.thing.id: (r.thing, r.case) for c in cards.values() for r in c.rows}


def _coats(work: DayTasks, task: Task) -> dict[str, tuple[Thing, str]]:
    """Return the coats of a task's case, which stand on the cards of its own job alone."""
    finish = work.finishes.get(task.case)
    return {} if finish is None else {t.id: (t, task.case) for t in coats_of(finish, task.case)}


def _held(
    told: tuple[Thing, str],
    copy: int,
    last: Mapping[tuple[str, str, int], Tick],
    owners: Mapping[str, tuple[str, str]],
) -> Tick | None:
    """Return the tick of a thing, where it is done as it is wanted now."""
    thing, case = told
    mark, stem = owners[case]
    key = thing.key
    if stem and thing.id.startswith(ThingKind.JOINT.of("")):  # the one identity that names panels
        key = key.replace(f'"{stem}', '"')
    own = replace(thing, id=_without(thing.id, stem), key=key)
    tick = last.get((mark, own.id, copy))
    return tick if tick is not None and tick.done and is_still(tick.thing, own) else None


def _without(thing: str, stem: str) -> str:
    return thing.replace(f" {stem}", " ") if stem else thing


def own_thing(work: DayTasks, thing: str, mark: str) -> str:
    """Return the id of a thing as the job of a mark has it, by itself."""
    return _without(thing, f"{mark}-" if len(work.jobs) > 1 else "")


def _owners(work: DayTasks) -> dict[str, tuple[str, str]]:
    """Return of each case its job's mark, and what stands before its code there and not in the job's own log."""
    marks = {j.mark for j in work.jobs}
    alone = len(work.jobs) == 1
    found: dict[str, tuple[str, str]] = {}
    for plan in work.plans.values():
        for case in plan.job.cases:
            mark = next(iter(marks)) if alone else case.code.split("-", 1)[0]
            found[case.code] = (mark, "" if alone else f"{mark}-")
    return found


def moment_of(words: str, now: dt.datetime) -> dt.datetime:
    """Return a moment as it is typed: `2026-12-03`, `2026-12-03 8:30`; `now` where nothing is.

    Raises:
        JobError: it is no day or no hour.
    """
    if not words.strip():
        return now
    match = MOMENT.fullmatch(words.strip())
    try:
        if match is None:
            raise ValueError  # noqa: TRY301  # told below with what is no date
        day = dt.date.fromisoformat(match[1])
        return dt.datetime.combine(day, dt.time(int(match[2] or 0), int(match[3] or 0))).astimezone()
    except ValueError:
        raise JobError(
            Fault(
                code="day-start",
                field="--start",
                found=f'"{words[:40]}"',
                allowed="a day as 2026-12-03, with an hour as 2026-12-03 8:30",
                do="Write the day, or leave it out to begin now.",
            )
        ) from None
