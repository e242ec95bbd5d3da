"""Days and tasks by hand and by chance, and the best order of a few tasks found by trying all of them."""

from __future__ import annotations

import random
from collections.abc import Sequence

from storyrod.model.day import DAY_MIN, Held, Task, TaskKind, WorkDay

OPENS, CLOSES = 480, 600


def days(count: int = 40, *, opens: int = OPENS, closes: int = CLOSES, helper: int = 1) -> tuple[WorkDay, ...]:
    """Return days of two hours; on every `helper`th a second person is there."""
    return tuple(
        WorkDay(date=f"day {n}", opens=n * DAY_MIN + opens, closes=n * DAY_MIN + closes, people=2 - (n % helper > 0))
        for n in range(count)
    )


def task(code: str, minutes: int, *after: str, kind: TaskKind = TaskKind.SET_UP, job: str = "1", **more: int) -> Task:
    """Return a task."""
    return Task(id=code, jobs=(job,), name=f"task {code}", kind=kind, minutes=minutes, after=after, **more)  # type: ignore[arg-type]


def by_chance(rng: random.Random, count: int) -> tuple[Task, ...]:
    """Return tasks of two jobs that wait for each other now and then, some of them glued up."""
    found: list[Task] = []
    for n in range(count):
        kind = rng.choice((TaskKind.SET_UP, TaskKind.GLUE, TaskKind.TOGETHER, TaskKind.COAT))
        glued = kind is TaskKind.GLUE
        found.append(
            task(
                f"t{n}",
                rng.randrange(10, 90),
                *(t.id for t in found if rng.random() < 0.25),
                kind=kind,
                job=str(rng.randrange(2)),
                wait_min=rng.choice((30, 45, 200, 900)) if kind.in_one_go else 0,
                clamps=rng.randrange(1, 6) if glued or rng.random() < 0.2 else 0,
                people=2 if rng.random() < 0.15 else 1,
            )
        )
    return tuple(found)


class AllOrders:
    """The least cost (all ready, then the sum of ready) over every order of the tasks, minute by minute."""

    def __init__(self, tasks: Sequence[Task], week: Sequence[WorkDay], clamps: int, held: Sequence[Held] = ()) -> None:
        self.tasks, self.clamps, self.held = tasks, clamps, held
        self.minutes = [(m, d.people, n) for n, d in enumerate(week) for m in range(d.opens, d.closes)]
        self.best = (10**9, 10**9)
        self._try([], {}, 0, {}, 0)

    def _try(
        self, placed: list[tuple[int, int, int]], dry: dict[str, int], at: int, ready: dict[str, int], done: int
    ) -> None:
        waits = [h.dry for h in self.held]
        cost = (max([*ready.values(), *waits], default=0), sum(ready.values()))
        if cost >= self.best:
            return
        if done == len(self.tasks):
            self.best = cost
            return
        known = dry | {h.task: h.dry for h in self.held}
        for one in self.tasks:
            if one.id in dry or not all(b in known for b in one.after):
                continue
            first = self._first(one, at, max((known[b] for b in one.after), default=0), placed)
            start, end = self.minutes[first][0], self.minutes[first + one.minutes - 1][0] + 1
            until = end + one.wait_min
            then = {**ready, **{j: max(until, ready.get(j, 0)) for j in one.jobs}}
            in_clamps = [*placed, (start, until, one.clamps)]
            self._try(in_clamps, dry | {one.id: until}, first + one.minutes, then, done + 1)

    def _first(self, one: Task, at: int, after: int, placed: list[tuple[int, int, int]]) -> int:
        while True:
            start, people, day = self.minutes[at]
            last = self.minutes[at + one.minutes - 1]
            whole = last[2] == day or not one.in_one_go
            taken = sum(n for a, b, n in placed if a <= start < b) + sum(h.clamps for h in self.held if start < h.dry)
            fits = not one.clamps or taken + one.clamps <= self.clamps
            if start >= after and whole and people >= one.people and fits:
                return at
            at += 1
