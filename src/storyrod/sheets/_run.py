"""One board from parts to a judged plan: start, build up, search, second engine, fewer settings."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.faults import Fault, JobError
from storyrod.model.saw_list import SheetProgress
from storyrod.model.sheet import BoardPlan, CutRules, CuttingPlan, Engine, Found, Part, StockSheet
from storyrod.sheets._bounds import bound_of, fills_sheets
from storyrod.sheets._check import not_enough
from storyrod.sheets._engine import Running, SecondEngine, from_plain, plain
from storyrod.sheets._figures import figures_of
from storyrod.sheets._fill import Filled
from storyrod.sheets._judge import judge
from storyrod.sheets._layout import sheet_plans
from storyrod.sheets._saw import saw_list
from storyrod.sheets._search import SheetSearch
from storyrod.sheets._searched import Outcome, Searched, key_of
from storyrod.sheets._task import Task, task_of
from storyrod.sheets._tidy import Tidier

TIDY_SHARE: Final = 0.25  # of the limit, for fewer settings, at least
FAR_SHARE: Final = 0.35  # of the limit: when by then nothing better is near, the rest goes into fewer settings
FAR: Final = 0.15  # sheets' worth of parts left out that are not near
HELP_SHARE: Final = 0.2  # of the limit: so long a second engine on our core goes on without a better plan than ours
FOREST_SHARE: Final = 0.12  # of the limit, for building from the parts up
PUZZLE_SHARE: Final = 0.6  # the same where the parts just fill whole sheets: of one size, or parts that may turn
STALE: Final = 400  # rounds without a smaller forest, after which a puzzle's is grown anew
FOREST_ROUNDS: Final = 1500  # the same where rounds are counted
LEAST_ROUNDS: Final = 1000  # so many are gone whatever work they are
NO_END: Final = 10**12


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """When to stop: by rounds and work (repeatable), or by seconds of `clock`.

    Rounds beyond the first `LEAST_ROUNDS` go on only while less than `work` is done, in parts on the sheets that are
    changed: with many small parts a round takes long. `tidy` looks for fewer settings once the cost is settled; with
    `only_counts` not where no layout could do with other sheets: as many of each size are bought either way.
    """

    rounds: int | None = None
    work: int | None = None
    limit_s: float | None = None
    tidy: bool = True
    only_counts: bool = False
    clock: Callable[[], float] = time.monotonic


class Run:
    """The work on one board."""

    def __init__(
        self,
        board: str,
        parts: Sequence[Part],
        stock: Sequence[StockSheet],
        rules: CutRules,
        limits: Limits,
        seed: int,
    ) -> None:
        self.parts, self.stock, self.rules, self.limits, self.seed = parts, stock, rules, limits, seed
        self.task: Task = task_of(board, parts, stock, rules)
        self.bound, self.bound_sheets = bound_of(self.task)
        self.search = SheetSearch(self.task, seed, self.bound)
        self.engine = Engine.OWN
        self.began = limits.clock()
        self.running: Running | None = None
        self._work_before = 0  # done before the search began
        self._helped_at = 0.0  # seconds after which the second engine last told a plan better than ours
        self._others: list[tuple[Filled, ...]] = []  # the second engine's plans that passed the judge
        self.progress: Callable[[SheetProgress], None] | None = None

    @property
    def elapsed(self) -> float:
        """Seconds since the work on this board began."""
        return self.limits.clock() - self.began

    def plan(self, second: SecondEngine | None, progress: Callable[[SheetProgress], None] | None) -> BoardPlan:
        """Work, and return the judged plan.

        Raises:
            JobError: no layout of all parts was found in the stock there is.
        """
        self.progress = progress
        if second is not None and self.limits.limit_s is not None:
            self.running = second.start(plain(self.task), self.limits.limit_s)
        try:
            self._search()
        finally:
            if self.running is not None:
                self.running.stop()
        return self._finished(self._tidied() if self.search.best is not None else None)

    def plan_anew(self, searched: Searched) -> BoardPlan:
        """Return the judged plan, without searching where that was done before; only where rounds are counted.

        Raises:
            JobError: as `plan`.
        """
        limits, search = self.limits, self.search
        key = (key_of(self.task), limits.rounds, limits.work, limits.tidy, limits.only_counts, self.seed)
        known = searched.get(key)
        if known is None:
            self._search()
            sheets = self._tidied() if search.best is not None else None
            roots = None if sheets is None else tuple((s.size, s.root) for s in sheets)
            searched.keep(key, Outcome(roots, search.fewest_out, search.rounds))
            return self._finished(sheets)
        search.fewest_out, search.rounds = known.out, known.rounds
        told = known.sheets
        return self._finished(None if told is None else tuple(search.filler.filled(*each) for each in told))

    def _finished(self, sheets: Sequence[Filled] | None) -> BoardPlan:
        if sheets is None:
            raise JobError(self._short())
        plan = self._judged(sheets)
        return self._handier(plan, sheets) if self.limits.tidy and not self.limits.only_counts else plan

    def _handier(self, plan: BoardPlan, sheets: Sequence[Filled]) -> BoardPlan:
        """Return the plan with the cuts that are easier to make, where its saw's list takes no more settings for it."""
        handy = self._judged(sheets, handy=True)
        if handy == plan:
            return plan
        before, after = (saw_list(each, self.rules, self.stock).settings for each in (plan, handy))
        return handy if after <= before else plan

    def _search(self) -> None:
        search, limits = self.search, self.limits
        search.start()
        self._look()
        search.start_again()
        if not search.is_proved:
            self._grow()
        self._look()
        share = 1 - TIDY_SHARE if limits.tidy else 1.0
        self._work_before = search.filler.work
        search.run(NO_END if limits.rounds is None else limits.rounds, lambda: self._go_on(share), self._look)
        self._listen()

    def _grow(self) -> None:
        """Build from the parts up: where none may turn, and where all may and just fill whole sheets."""
        task, rounds = self.task, self.limits.rounds
        fixed = all(len(k.ways) == 1 for k in task.kinds)
        turning = not fixed and all(len(k.ways) == 2 or k.ways[0][0] == k.ways[0][1] for k in task.kinds)
        puzzle = (turning or (fixed and len(task.sizes) == 1)) and fills_sheets(task)
        if fixed or puzzle:
            share = PUZZLE_SHARE if puzzle else FOREST_SHARE
            most = NO_END if rounds is None else min(rounds, FOREST_ROUNDS)
            stale = STALE if puzzle else None
            self.search.grow(most, lambda: self._time_left(share), turning=turning, stale=stale)

    def _time_left(self, share: float) -> bool:
        return self.limits.limit_s is None or self.elapsed < self.limits.limit_s * share

    def _go_on(self, share: float) -> bool:
        self._listen()
        work = self.limits.work
        if work is not None and self.search.rounds >= LEAST_ROUNDS:
            return self.search.filler.work - self._work_before < work
        if share < 1 and not self._time_left(FAR_SHARE) and self.search.nearest > FAR:
            return False
        return self._time_left(share)

    def _listen(self) -> None:
        """Take the second engine's newest plan, if it passes the judge and is better.

        An engine that takes its time from ours is ended when for a while it was no better.
        """
        if self.running is None:
            return
        told = self.running.better()
        filled = from_plain(self.search.filler, told) if told is not None else None
        if filled is not None and not self._findings(self._board(filled)):
            self._others.append(tuple(filled))
            if self.search.adopt(filled):
                self.engine = Engine.PACKING
                self._helped_at = self.elapsed
                self._look()
        limit = self.limits.limit_s
        if limit is not None and self.running.shares_core and self.elapsed - self._helped_at > HELP_SHARE * limit:
            self.running.stop()

    def _look(self) -> None:
        """Tell how far it is; only what the judge passed is told."""
        best = self.search.best
        if self.progress is None or best is None:
            return
        plan = self._judged(best)
        limit = self.limits.limit_s
        share = self.elapsed / limit if limit else self.search.rounds / max(self.limits.rounds or 1, 1)
        self.progress(
            SheetProgress(
                board=self.task.board,
                share=min(share, 1.0),
                sheets=len(plan.sheets),
                best=self.search.best_cost,
                bound=self.bound,
                rounds=self.search.rounds,
            )
        )

    def _tidied(self) -> tuple[Filled, ...]:
        best = self.search.best or ()
        if not self.limits.tidy or (self.limits.only_counts and self._is_settled(best)):
            return best
        cost, filler = self.search.best_cost, self.search.filler
        alike = [best, *(other for other in self._others if filler.cost(other) == cost)]
        tidier = min((Tidier(filler, sheets) for sheets in alike), key=lambda t: t.score)
        rounds = NO_END if self.limits.rounds is None else self.limits.rounds
        tidier.run(rounds, self._share_of_rest(tidier))
        return tidier.sheets

    def _is_settled(self, sheets: Sequence[Filled]) -> bool:
        """Return whether no layout on some of these sheets does without one of them: none could cost less."""
        return self.search.is_proved and all(self.task.sizes[s.size].cost > 0 for s in sheets)

    def _share_of_rest(self, tidier: Tidier) -> Callable[[], float]:
        """Return what tells the share gone of the time or work left for fewer settings; 0 where only rounds count."""
        limit, work, began = self.limits.limit_s, self.limits.work, self.elapsed
        if limit is None:
            if work is None:
                return lambda: 0.0
            return lambda: min(tidier.filler.work / work, tidier.rounds / LEAST_ROUNDS)
        rest = min(limit - began, TIDY_SHARE * limit) if self.search.is_proved else limit - began
        whole = max(rest, 1e-6)
        return lambda: (self.elapsed - began) / whole

    def _board(self, sheets: Sequence[Filled], *, handy: bool = False) -> BoardPlan:
        plans = sheet_plans(self.task, self.rules, sheets, handy=handy)
        cost = self.search.filler.cost(sheets)
        proved = cost <= self.bound
        return BoardPlan(
            board=self.task.board,
            sheets=plans,
            figures=figures_of(plans, self.parts, self.stock),
            found=Found.PROVED if proved else Found.FOUND,
            bound_cents=self.bound,
            bound_sheets=self.bound_sheets,
            gap=0.0 if proved else cost / self.bound - 1 if self.bound else 1.0,
            engine=self.engine,
            weights=self.task.weights,
            rounds=self.search.rounds,
        )

    def _findings(self, plan: BoardPlan) -> tuple[str, ...]:
        alone = CuttingPlan(boards=(plan,), rules=self.rules, seed=self.seed)
        return tuple(f"{f.sheet}: {f.text}" for f in judge(alone, self.parts, self.stock, self.rules))

    def _judged(self, sheets: Sequence[Filled], *, handy: bool = False) -> BoardPlan:
        plan = self._board(sheets, handy=handy)
        wrong = self._findings(plan)
        if wrong:
            raise RuntimeError(f"Our own layout did not pass its check: {'; '.join(wrong[:3])}")
        return plan

    def _short(self) -> Fault:
        out = self.search.fewest_out
        area = sum(self.search.filler.area[k] for k in out) / self.task.grid.per_mm**2
        names: dict[str, int] = {}
        for k in out:
            for part, _ in self.task.kinds[k].members[0]:
                names[part.mark or part.id] = names.get(part.mark or part.id, 0) + 1
        listed = ", ".join(f"{n} x {name}" if n > 1 else name for name, n in list(names.items())[:6])
        left = f"{len(out)} parts left over ({listed}{', and more' if len(names) > 6 else ''})"
        return not_enough(self.task.board, area, self.stock, self.rules, left)


def board_plan(
    board: str,
    parts: Sequence[Part],
    stock: Sequence[StockSheet],
    rules: CutRules,
    *,
    rounds: int,
    seed: int,
    tidy: bool = True,
) -> BoardPlan:
    """Return one board's plan by our own engine alone, repeatable."""
    return Run(board, parts, stock, rules, Limits(rounds=rounds, tidy=tidy), seed).plan(None, None)
