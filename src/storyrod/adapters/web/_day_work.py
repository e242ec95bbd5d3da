"""The day's work behind the page: jobs of the folder, what of them is ticked, and the order of the rest."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final
from urllib.parse import quote, urlencode

from starlette.requests import Request

from storyrod.adapters.daying import midnight_before, moment_of, own_thing, shares_of
from storyrod.adapters.web._batch_work import Asked, BatchWork
from storyrod.adapters.web._batch_work import errand_key as batch_key
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._errands import Errand, Errands
from storyrod.faults import Fault, JobError, raise_if_any
from storyrod.model.batch import MOST_JOBS
from storyrod.planning import Days, DayTasks, plan_days, tasks_of_batch, tasks_of_job
from storyrod.telling.cards import cards_of
from storyrod.telling.day import plan_prefix, things_of_task

if TYPE_CHECKING:
    from storyrod.adapters.log import Tick
    from storyrod.planning import Batch

_ANEW_MIN: Final = 10
"""A plan that begins now is worked out anew so often, and at each tick."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayAsked:
    """Which jobs' work is asked for, and from when on: as typed, or empty for now."""

    jobs: tuple[str, ...]
    start: str = ""

    @property
    def query(self) -> str:
        """The same as it stands in an address."""
        told = [("job", j) for j in self.jobs]
        return urlencode([*told, *([("start", self.start)] if self.start else [])])

    @property
    def batch(self) -> Asked:
        """The same jobs as they are asked for to be made together."""
        return Asked(jobs=self.jobs)


def day_asked(request: Request, desk: Desk) -> DayAsked:
    """Return what an address asks for: jobs of this folder, each once."""
    known = set(desk.shelf.names())
    jobs = (j for j in dict.fromkeys(request.query_params.getlist("job")[: 4 * MOST_JOBS]) if j in known)
    return DayAsked(jobs=tuple(jobs)[:MOST_JOBS], start=request.query_params.get("start", "")[:40].strip())


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """The bench card of one job on which a task is ticked."""

    mark: str
    title: str
    card: str
    href: str


class DayWork(Errand):
    """Puts what is left of some jobs into an order, from a moment on."""

    def __init__(self, desk: Desk, jobs: Sequence[str], batch: Batch | None, when: dt.datetime) -> None:
        super().__init__()
        self._desk, self._jobs, self._batch, self._when = desk, tuple(jobs), batch, when
        self.days: Days | None = None
        self.ways: Mapping[str, tuple[Way, ...]] = {}
        self.faults: tuple[Fault, ...] = ()

    def work(self) -> Iterator[None]:
        """List the tasks, then order them."""
        try:
            tasks = self._tasks()
            yield
            last = self._ticks(tasks)
            ticked = shares_of(tasks, last, midnight_before(self._when))
            yield
            now = self._when.hour * 60 + self._when.minute
            days = plan_days(tasks, self._when.date(), now, ticked)
            raise_if_any(days.plan.faults)
        except JobError as error:
            self.faults = error.faults
            return
        self.ways = self._ways(days, last)
        self.days = days

    def _tasks(self) -> DayTasks:
        if self._batch is not None:
            return tasks_of_batch(self._batch)
        worked = self._desk.job(self._jobs[0])
        raise_if_any(worked.checked())
        return worked.ask(lambda plan: tasks_of_job(plan, worked.name))

    def _named(self, work: DayTasks) -> dict[str, str]:
        """Return the name of each job's file here, by its mark."""
        return {j.mark: name for j, name in zip(work.jobs, self._jobs, strict=True)}

    def _ticks(self, work: DayTasks) -> dict[tuple[str, str, int], Tick]:
        found: dict[tuple[str, str, int], Tick] = {}
        for mark, name in self._named(work).items():
            words = self._desk.ticks.words(name)
            found |= {(mark, thing, copy): tick for (thing, copy), tick in words.last.items()}
        return found

    def _ways(self, days: Days, last: Mapping[tuple[str, str, int], Tick]) -> dict[str, tuple[Way, ...]]:
        """Return where each task is ticked: of each job the first card that has something of it left."""
        named = self._named(days.work)
        on: dict[tuple[str, str], str] = {}
        for mark, name in named.items():
            for card in self._desk.ticks.cards(self._desk.job(name)).cards:
                on |= {(mark, row.thing.id): card.id for row in card.rows}
        cards = {prefix: {c.id: c for c in cards_of(plan)} for prefix, plan in days.work.plans.items()}
        titles = {j.mark: j.title for j in days.work.jobs}
        found: dict[str, tuple[Way, ...]] = {}
        for slot in days.plan.slots:
            task = days.plan.task(slot.task)
            things = things_of_task(task, cards[plan_prefix(days.work, task)])
            ways = []
            for mark in task.jobs:
                own = ((own_thing(days.work, thing, mark), copy) for thing, copy in things)
                left = (on[mark, t] for t, copy in own if (mark, t) in on and not _is_done(last.get((mark, t, copy))))
                card_id = next(left, "")
                if card_id:
                    bench = f"/job/{quote(named[mark])}/bench?card={quote(card_id)}#card-{quote(card_id)}"
                    ways.append(Way(mark=mark, title=titles[mark], card=card_id, href=bench))
            found[task.id] = tuple(ways)
        return found


def _is_done(tick: Tick | None) -> bool:
    return tick is not None and tick.done


def work_of(errands: Errands, desk: Desk, asked: DayAsked) -> tuple[DayWork | None, BatchWork | None]:
    """Return the errand of the day's work, and that of planning the jobs together, which comes before it.

    Raises:
        JobError: the start is no moment; a job was deleted a moment ago.
    """
    if not asked.jobs:
        return None, None
    when = moment_of(asked.start, dt.datetime.now(dt.UTC).astimezone())
    batch: BatchWork | None = None
    keys = tuple(batch_key(desk, asked.batch))
    if len(asked.jobs) > 1:
        batch = errands.ask(keys, BatchWork, lambda: BatchWork(desk, asked.batch))
        if not batch.is_done or batch.batch is None:
            return None, batch
    ticks = ",".join(str(desk.ticks.words(j).seq) for j in asked.jobs)
    moment = f"{when:%Y-%m-%d %H:}{when.minute // _ANEW_MIN}"
    planned = batch.batch if batch is not None else None
    key = ("day", *keys, ticks, moment)
    return errands.ask(key, DayWork, lambda: DayWork(desk, asked.jobs, planned, when)), batch
