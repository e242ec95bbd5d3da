"""Tasks placed one after another, each as early as days, glue and clamps allow."""

from __future__ import annotations

import bisect
from collections.abc import Iterable, Mapping, Sequence

from storyrod.model.day import Held, Slot, Task, WorkDay


class NoDayLeftError(Exception):
    """The days given do not reach."""


class Bench:
    """One maker, some clamps and some days; remembers what is placed."""

    def __init__(self, days: Sequence[WorkDay], clamps: int | None, held: Iterable[Held]) -> None:
        self.days = days
        self._closes = [d.closes for d in days]
        self._clamps = clamps
        self.dry: dict[str, int] = {h.task: h.dry for h in held}
        self._in_use: list[tuple[int, int]] = [(h.dry, h.clamps) for h in held if h.clamps]
        self.free_at = days[0].opens if days else 0

    def span(self, task: Task, minutes: int, not_before: int, *, overtime: bool = False) -> tuple[int, int]:
        """Return when a task of so many minutes begins and ends, begun no earlier than a moment.

        With `overtime` what is longer than any day is begun when one opens, and runs on.

        Raises:
            NoDayLeftError: the days do not reach.
        """
        n = bisect.bisect_right(self._closes, not_before)
        for at in range(n, len(self.days)):
            day = self.days[at]
            if task.people > day.people:
                continue
            start = max(day.opens, not_before)
            if start + minutes <= day.closes:
                return start, start + minutes
            if not task.in_one_go:
                return start, self._end(at, minutes - (day.closes - start))
            if overtime and start == day.opens:
                return start, start + minutes
        raise NoDayLeftError

    def _end(self, at: int, left: int) -> int:
        for day in self.days[at + 1 :]:
            if left <= day.minutes:
                return day.opens + left
            left -= day.minutes
        raise NoDayLeftError

    def earliest(self, task: Task, minutes: int | None = None, *, overtime: bool = False) -> Slot:
        """Return the earliest place of a task after all that is placed.

        Raises:
            NoDayLeftError: the days do not reach.
        """
        length = task.minutes if minutes is None else minutes
        moment = max([self.free_at, *(self.dry[p] for p in task.after)])
        while True:
            start, end = self.span(task, length, moment, overtime=overtime)
            until = self._without_clamps(start, task.clamps)
            if until is None:
                return Slot(task=task.id, start=start, end=end, dry=end + task.wait_min)
            moment = until

    def _without_clamps(self, start: int, wanted: int) -> int | None:
        """Return when the next clamps come free, where too few are at `start`; what is placed began before it."""
        if self._clamps is None or not wanted:
            return None
        in_use = [(until, n) for until, n in self._in_use if until > start]
        if sum(n for _, n in in_use) + wanted <= self._clamps:
            return None
        return min(until for until, _ in in_use)

    def put(self, task: Task, slot: Slot) -> None:
        """Hold that a task is done then."""
        self.free_at = slot.end
        self.dry[task.id] = slot.dry
        if task.clamps:
            self._in_use.append((slot.dry, task.clamps))


def in_order(
    order: Iterable[Task],
    bench: Bench,
    minutes: Mapping[str, int] | None = None,
    *,
    overtime: bool = False,
) -> tuple[Slot, ...]:
    """Return the tasks placed in an order, each as early as can be; `minutes` in place of their usual ones.

    Raises:
        NoDayLeftError: the days do not reach.
    """
    slots = []
    for task in order:
        slot = bench.earliest(task, minutes[task.id] if minutes is not None else None, overtime=overtime)
        bench.put(task, slot)
        slots.append(slot)
    return tuple(slots)


def ready_by_job(tasks: Iterable[Task], slots: Iterable[Slot], held: Iterable[Held]) -> dict[str, int]:
    """Return when the last of each job is dry, what is done already and still wet counted."""
    by_id = {t.id: t for t in tasks}
    dried = [(by_id[s.task].jobs, s.dry) for s in slots] + [(h.jobs, h.dry) for h in held]
    ready: dict[str, int] = {}
    for jobs, dry in dried:
        for job in jobs:
            ready[job] = max(ready.get(job, dry), dry)
    return ready


def cost_of(tasks: Iterable[Task], slots: Iterable[Slot], held: Iterable[Held]) -> tuple[int, int]:
    """Return what an order is judged by: when all jobs are ready, then the sum of when each is."""
    ready = ready_by_job(tasks, slots, held)
    return max(ready.values(), default=0), sum(ready.values())
