"""What is left of tasks when some are ticked: shares of them, and what is done and not dry yet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from storyrod.model.day import ActMinutes, Held, Task


@dataclass(frozen=True, slots=True, kw_only=True)
class Ticked:
    """How much of a task is ticked.

    Attributes:
        share: from 0 to 1; None where it has nothing that could be ticked.
        last: the moment of its last tick.
    """

    share: float | None
    last: int = 0


def what_is_left(
    tasks: Sequence[Task], ticked: Mapping[str, Ticked], now: int
) -> tuple[tuple[Task, ...], tuple[Held, ...]]:
    """Return the tasks that are still to be done, and those that are done.

    A task with nothing to tick counts as done once something that waits for it is begun. What is left of one that is
    begun takes its share of the minutes, but a glue-up that is half ticked is done whole: its glue is on.
    """
    done = _done(tasks, ticked)
    held = tuple(
        Held(task=t.id, dry=at + t.wait_min, clamps=t.clamps if at + t.wait_min > now else 0, name=t.name, jobs=t.jobs)
        for t in tasks
        if (at := done.get(t.id)) is not None
    )
    left = tuple(_rest(t, ticked.get(t.id)) for t in tasks if t.id not in done)
    return left, held


def _done(tasks: Sequence[Task], ticked: Mapping[str, Ticked]) -> dict[str, int]:
    """Return the moments at which tasks were done."""
    waits: dict[str, list[Task]] = {}
    for task in tasks:
        for before in task.after:
            waits.setdefault(before, []).append(task)
    done: dict[str, int] = {}
    begun: dict[str, int] = {}
    for task in reversed(tasks):  # what waits for a task comes after it
        own = ticked.get(task.id, Ticked(share=None))
        later = [begun[t.id] for t in waits.get(task.id, ()) if t.id in begun]
        if own.share is None:
            if later:
                done[task.id] = begun[task.id] = min(later) - task.wait_min
        elif own.share > 0:
            begun[task.id] = own.last
            if own.share >= 1 or task.kind.in_one_go:
                done[task.id] = own.last
    return done


def _rest(task: Task, own: Ticked | None) -> Task:
    share = 1.0 - (own.share or 0.0) if own is not None else 1.0
    if share == 1.0:
        return task
    acts = tuple(ActMinutes(act=a.act, minutes=a.minutes.times(share)) for a in task.acts)
    return replace(task, minutes=max(1, round(task.minutes * share)), acts=acts)
