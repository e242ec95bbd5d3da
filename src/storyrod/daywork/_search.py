"""The search for a better order, by the constraint solver of OR-Tools where it is installed.

Work lies on an axis of the workshop's own minutes, without nights, on which one maker does one thing at a time. Glue
dries by the clock, so that each task also knows its day, and by it the moments at which it begins and ends.
The solver works alone, from one seed and up to a set amount of its own work, so that it answers the same everywhere.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from storyrod.model.day import Held, Slot, Task, WorkDay

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

SEED: Final = 7

WORK: Final = 2.0
"""How much the solver may work at each of its two questions, in its own measure: some seconds of a usual machine."""

MOST_TASKS: Final = 160
"""With more tasks than this the solver is not asked: it would find nothing in its time."""


def is_installed() -> bool:
    """Return whether the solver's library is there."""
    return importlib.util.find_spec("ortools") is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An order found: the tasks' ids as they begin.

    Attributes:
        bound: no order has all jobs ready before.
        is_best: whether neither all jobs nor the sum of them can be ready sooner.
    """

    order: tuple[str, ...]
    bound: int
    is_best: bool


def search(
    tasks: Sequence[Task],
    days: Sequence[WorkDay],
    clamps: int | None,
    held: Sequence[Held],
    start: Sequence[Slot],
    *,
    work: float = WORK,
    seed: int = SEED,
) -> Answer | None:
    """Return a better order than `start`, or the same one with how good it is; None where the solver is not asked."""
    if not tasks or len(tasks) > MOST_TASKS or not is_installed():
        return None
    return _Model(tasks, days, clamps, held, start).solved(work, seed)


class _Model:
    def __init__(
        self,
        tasks: Sequence[Task],
        days: Sequence[WorkDay],
        clamps: int | None,
        held: Sequence[Held],
        start: Sequence[Slot],
    ) -> None:
        from ortools.sat.python import cp_model

        self.cp = cp_model
        self.model = cp_model.CpModel()
        self.tasks, self.held, self.start = tasks, held, {s.task: s for s in start}
        last = max(s.end for s in start)
        self.days = [d for d in days if d.opens < last]
        self.before = [0]
        for day in self.days:
            self.before.append(self.before[-1] + day.minutes)
        self.horizon = self.days[-1].closes + max(t.wait_min for t in tasks)
        self.begins: dict[str, Any] = {}
        self.dry: dict[str, Any] = {}
        self._spans: list[Any] = []
        self._clamped: list[tuple[Any, int]] = []
        for task in tasks:
            self._add(task, with_clamps=clamps is not None)
        self.model.add_no_overlap(self._spans)
        self._wait(clamps)
        self._aim()

    # --- what is asked -----------------------------------------------------------------------------------------------

    def _add(self, task: Task, *, with_clamps: bool) -> None:
        """Add one task: its place on the axis, the day it begins on and the one it ends on, and the clock of both."""
        model, whole = self.model, self.before[-1]
        start = model.new_int_var(0, whole - 1, f"begins {task.id}")
        end = start + task.minutes
        self._spans.append(model.new_fixed_size_interval_var(start, task.minutes, f"span {task.id}"))
        first = self._day(task, start, last_minute=1)
        after = first if task.in_one_go else self._day(task, end, last_minute=0)
        if task.in_one_go:
            self._within(first, end, last_minute=0)
        opens = self._clock(first, start)
        self.begins[task.id] = opens
        closes = self._clock(after, end)
        self.dry[task.id] = closes + task.wait_min
        self._hint(task, start, first, after)
        if with_clamps and task.clamps:
            long = model.new_int_var(0, self.horizon, f"clamped {task.id}")
            span = model.new_interval_var(opens, long, self.dry[task.id], f"in clamps {task.id}")
            self._clamped.append((span, task.clamps))

    def _day(self, task: Task, moment: Any, *, last_minute: int) -> Any:  # noqa: ANN401  # the solver's own words
        fit = [n for n, d in enumerate(self.days) if d.people >= task.people]
        day = self.model.new_int_var_from_domain(self.cp.Domain.from_values(fit), f"day {task.id}")
        self._within(day, moment, last_minute=last_minute)
        return day

    def _within(self, day: Any, moment: Any, *, last_minute: int) -> None:  # noqa: ANN401  # the solver's own words
        """Hold a moment of the axis within a day: a start in [0, length), an end in (0, length]."""
        model, whole = self.model, self.before[-1]
        low, high = model.new_int_var(0, whole, ""), model.new_int_var(0, whole, "")
        model.add_element(day, self.before[:-1], low)
        model.add_element(day, self.before[1:], high)
        model.add(moment >= low + 1 - last_minute)
        model.add(moment <= high - last_minute)

    def _clock(self, day: Any, moment: Any) -> Any:  # noqa: ANN401  # the solver's own words
        """Return a moment of the axis by the clock."""
        shifts = [d.opens - b for d, b in zip(self.days, self.before, strict=False)]
        shift = self.model.new_int_var(min(shifts), max(shifts), "")
        self.model.add_element(day, shifts, shift)
        clock = self.model.new_int_var(0, self.horizon, "")
        self.model.add(clock == moment + shift)
        return clock

    def _hint(self, task: Task, start: Any, first: Any, after: Any) -> None:  # noqa: ANN401  # the solver's own words
        slot = self.start[task.id]
        on = next(n for n, d in enumerate(self.days) if d.opens <= slot.start < d.closes)
        until = next(n for n, d in enumerate(self.days) if d.opens < slot.end <= d.closes)
        self.model.add_hint(start, self.before[on] + slot.start - self.days[on].opens)
        self.model.add_hint(first, on)
        if after is not first:
            self.model.add_hint(after, until)

    def _wait(self, clamps: int | None) -> None:
        dry = {h.task: h.dry for h in self.held}
        for task in self.tasks:
            for before in task.after:
                self.model.add(self.begins[task.id] >= (self.dry[before] if before in self.dry else dry[before]))
        if clamps is None or not self._clamped:
            return
        spans, wanted = [s for s, _ in self._clamped], [n for _, n in self._clamped]
        for h in self.held:
            if h.clamps and h.dry > 0:
                spans.append(self.model.new_fixed_size_interval_var(0, h.dry, ""))
                wanted.append(h.clamps)
        self.model.add_cumulative(spans, wanted, clamps)

    def _aim(self) -> None:
        jobs = dict.fromkeys(j for t in self.tasks for j in t.jobs)
        dry: dict[str, list[Any]] = {job: [h.dry for h in self.held if job in h.jobs] for job in jobs}
        for task in self.tasks:
            for job in task.jobs:
                dry[job].append(self.dry[task.id])
        self.ready = {job: self.model.new_int_var(0, self.horizon, f"ready {job}") for job in jobs}
        for job, ends in dry.items():
            self.model.add_max_equality(self.ready[job], ends)
        self.last = self.model.new_int_var(0, self.horizon, "all ready")
        self.model.add_max_equality(self.last, list(self.ready.values()))

    # --- what is answered --------------------------------------------------------------------------------------------

    def solved(self, work: float, seed: int) -> Answer | None:
        """Return the order in which all jobs are ready soonest, and of those the one with the least sum."""
        self.model.minimize(self.last)
        solver = self._solver(work, seed)
        status = solver.solve(self.model)
        if status not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
            return None
        first_best = status == self.cp.OPTIMAL
        bound = round(solver.best_objective_bound)
        if len(self.ready) == 1:
            return self._answer(solver, bound, is_best=first_best)
        self.model.add(self.last <= solver.value(self.last))
        self._hint_again(solver)
        self.model.minimize(sum(self.ready.values()))
        second = self._solver(work, seed)
        status = second.solve(self.model)
        if status not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
            return self._answer(solver, bound, is_best=False)
        return self._answer(second, bound, is_best=first_best and status == self.cp.OPTIMAL)

    def _solver(self, work: float, seed: int) -> cp_model.CpSolver:
        solver = self.cp.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = seed
        solver.parameters.max_deterministic_time = work
        return solver

    def _hint_again(self, solver: cp_model.CpSolver) -> None:
        found = [solver.response_proto.solution[n] for n in range(len(self.model.proto.variables))]
        self.model.clear_hints()  # type: ignore[no-untyped-call]
        for n, value in enumerate(found):
            self.model.add_hint(self.model.get_int_var_from_proto_index(n), value)

    def _answer(self, solver: cp_model.CpSolver, bound: int, *, is_best: bool) -> Answer:
        order = sorted(self.tasks, key=lambda t: solver.value(self.begins[t.id]))
        return Answer(order=tuple(t.id for t in order), bound=bound, is_best=is_best)
