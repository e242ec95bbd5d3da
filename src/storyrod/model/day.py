"""The day's work: tasks over one or several jobs, the days they are done on, and when each job is ready.

Moments are whole minutes since midnight before the first day of the plan, so that a night is 1440 of them like any day;
lengths of work are whole minutes of one maker.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.faults import Fault
from storyrod.model.work import Minutes

DAY_MIN: Final = 1440
"""Minutes from one midnight to the next."""


class TaskKind(StrEnum):
    """What a task is; each kind is done in one go, or may be left overnight."""

    JIGS = "make jigs"
    SET_UP = "set-up"
    GLUE = "glue up"
    TOGETHER = "put together"
    FIT = "fit out"
    COAT = "coat"

    @property
    def in_one_go(self) -> bool:
        """Whether it may not be broken off: glue sets, and a coat shows where it was begun anew."""
        return self in {TaskKind.GLUE, TaskKind.COAT}


@dataclass(frozen=True, slots=True, kw_only=True)
class ActMinutes:
    """Minutes that a task spends on one act; whoever is quick at an act is quick at it in every task."""

    act: str
    minutes: Minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One thing that the maker does without turning to another.

    Attributes:
        jobs: the mark of its job; of several where they share a set-up.
        name: what is done, as a maker says it.
        minutes: usual minutes of the maker, one at the least.
        acts: what these minutes are made of, with their spread.
        after: the tasks that must be done before, and dry.
        wait_min: from its end until its glue has set or its coat is dry.
        clamps: clamps in use from its start until its glue has set.
        people: how many it takes at once.
        copy: which copy of its case it is done to; 0 where it is not done to one.
        set_up, case, steps, coat: what of the plan it stands for; the coat from 1, or 0.
    """

    id: str
    jobs: tuple[str, ...]
    name: str
    kind: TaskKind
    minutes: int
    acts: tuple[ActMinutes, ...] = ()
    after: tuple[str, ...] = ()
    wait_min: int = 0
    clamps: int = 0
    people: int = 1
    set_up: str = ""
    case: str = ""
    copy: int = 0
    steps: tuple[int, ...] = ()
    coat: int = 0

    @property
    def in_one_go(self) -> bool:
        """Whether it is done in one go, within one day; so is what takes a second person."""
        return self.kind.in_one_go or self.people > 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A task that is done: when it is dry, and the clamps it holds until then."""

    task: str
    dry: int
    clamps: int = 0
    name: str = ""
    jobs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkDay:
    """One day in the workshop: from when to when, and how many people are there."""

    date: str
    opens: int
    closes: int
    people: int = 1

    @property
    def minutes(self) -> int:
        """How long it is."""
        return self.closes - self.opens


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """When a task is done: from `start` to `end`, a night between where it is left over one; dry at `dry`."""

    task: str
    start: int
    end: int
    dry: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """When a job is ready: as planned, and from when to when it will be eight times in ten."""

    job: str
    planned: int
    early: int
    late: int


class Found(StrEnum):
    """How sure it is that no order is ready sooner."""

    PROVEN_BEST = "proven best"
    FOUND = "found"
    BY_RULE = "by rule"


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPlan:
    """All tasks in order, over as many days as they take.

    Attributes:
        slots: in the order in which they are done.
        ready: when each job is ready, in the order of the jobs.
        clamps: clamps owned; None where they are no limit.
        found: how sure it is that all jobs cannot be ready sooner, nor each of them sooner together.
        bound: no order has the last job ready before this.
        faults: what the checker found wrong; such a plan is not printed.
    """

    tasks: tuple[Task, ...]
    held: tuple[Held, ...]
    days: tuple[WorkDay, ...]
    clamps: int | None
    slots: tuple[Slot, ...]
    ready: tuple[Ready, ...]
    found: Found
    bound: int
    faults: tuple[Fault, ...] = ()

    def task(self, code: str) -> Task:
        """Return a task by its id."""
        return next(t for t in self.tasks if t.id == code)
