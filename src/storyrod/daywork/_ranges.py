"""How early and how late jobs may be ready, by the spread of the workshop's own minutes."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from typing import Final

from storyrod.daywork._place import Bench, NoDayLeftError, in_order, ready_by_job
from storyrod.model.day import Held, Task, WorkDay
from storyrod.model.work import TENTH

DRAWS: Final = 200
"""So many weeks are drawn: the tenth is then right to about 2 in 100."""

SEED: Final = 1


def ranges(
    tasks: Sequence[Task],
    order: Sequence[str],
    days: Sequence[WorkDay],
    clamps: int | None,
    held: Sequence[Held],
    *,
    draws: int = DRAWS,
    seed: int = SEED,
) -> dict[str, tuple[int, int]]:
    """Return of each job the moments between which it is ready eight times in ten, in this order of tasks.

    A maker quick at an act is quick at it in every task, and acts are independent, as in the account. The order stays:
    who replans at noon does better. Drying takes as long as it takes.
    """
    by_id = {t.id: t for t in tasks}
    rng = random.Random(seed)
    acts = sorted({a.act for t in tasks for a in t.acts})
    ready: dict[str, list[int]] = {}
    for _ in range(draws):
        pace = {act: rng.gauss(0.0, 1.0) / TENTH for act in acts}
        minutes = {t.id: _drawn(t, pace) for t in tasks}
        try:
            slots = in_order((by_id[i] for i in order), Bench(days, clamps, held), minutes, overtime=True)
        except NoDayLeftError:
            found = {job: days[-1].closes for t in tasks for job in t.jobs}
        else:
            found = ready_by_job(tasks, slots, held)
        for job, moment in found.items():
            ready.setdefault(job, []).append(moment)
    return {job: _tenths(sorted(moments)) for job, moments in ready.items()}


def _drawn(task: Task, pace: dict[str, float]) -> int:
    """Return the minutes of a task where each act is as quick or slow as it was drawn."""
    change = 0.0
    for part in task.acts:
        quick = pace[part.act]
        m = part.minutes
        change += quick * (m.high - m.usual if quick > 0 else m.usual - m.low)
    return max(1, round(task.minutes + change))


def _tenths(moments: Sequence[int]) -> tuple[int, int]:
    n = len(moments)
    return moments[math.floor(0.1 * (n - 1))], moments[math.ceil(0.9 * (n - 1))]
