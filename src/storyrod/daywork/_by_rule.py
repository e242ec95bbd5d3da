"""A good order by rule, soon found: what can begin first, and of that what most waits for."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from storyrod.daywork._place import Bench, in_order
from storyrod.model.day import Held, Slot, Task, WorkDay

type Rule = Callable[[Task, Slot], tuple[int, ...]]


def tails(tasks: Sequence[Task]) -> dict[str, int]:
    """Return of each task the minutes, waiting counted, from its start until all that hangs on it is dry."""
    after: dict[str, list[Task]] = {}
    for task in tasks:
        for before in task.after:
            after.setdefault(before, []).append(task)
    found: dict[str, int] = {}

    def tail(task: Task) -> int:
        if task.id not in found:
            later = max((tail(t) for t in after.get(task.id, ())), default=0)
            found[task.id] = task.minutes + task.wait_min + later
        return found[task.id]

    for task in reversed(tasks):
        tail(task)
    return found


def by_rule(
    tasks: Sequence[Task], days: Sequence[WorkDay], clamps: int | None, held: Iterable[Held]
) -> list[tuple[Slot, ...]]:
    """Return the orders of a few plain rules.

    Raises:
        NoDayLeftError: the days do not reach.
    """
    tail = tails(tasks)
    place = {t.id: n for n, t in enumerate(tasks)}
    jobs = {job: n for n, job in enumerate(dict.fromkeys(j for t in tasks for j in t.jobs))}
    shortest = sorted(jobs, key=lambda j: (sum(t.minutes for t in tasks if j in t.jobs), jobs[j]))
    rules: tuple[Rule, ...] = (
        lambda t, s: (s.start, -tail[t.id], place[t.id]),
        lambda t, s: (s.start, min(jobs[j] for j in t.jobs), -tail[t.id], place[t.id]),
        lambda t, s: (s.start, min(shortest.index(j) for j in t.jobs), -tail[t.id], place[t.id]),
        lambda t, s: (s.start, -t.wait_min, -tail[t.id], place[t.id]),
    )
    return [_by(rule, tasks, Bench(days, clamps, held)) for rule in rules]


def _by(rule: Rule, tasks: Sequence[Task], bench: Bench) -> tuple[Slot, ...]:
    left, slots = list(tasks), []
    while left:
        open_now = [t for t in left if all(p in bench.dry for p in t.after)]
        placed = [(t, bench.earliest(t)) for t in open_now]
        task, slot = min(placed, key=lambda found: rule(*found))
        bench.put(task, slot)
        slots.append(slot)
        left.remove(task)
    return tuple(slots)


def again(tasks: Sequence[Task], order: Sequence[str], bench: Bench) -> tuple[Slot, ...]:
    """Return tasks placed anew in the order of their ids."""
    by_id = {t.id: t for t in tasks}
    return in_order((by_id[i] for i in order), bench)
