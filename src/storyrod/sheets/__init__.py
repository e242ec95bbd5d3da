"""Sheets: parts laid out on sheets with through-cuts, the saw's own list, and offcuts that come back."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence

from storyrod.faults import raise_if_any
from storyrod.model.saw_list import SheetProgress
from storyrod.model.sheet import BoardPlan, CutRules, CuttingPlan, Engine, Part, StockSheet
from storyrod.sheets._check import faults_in, faults_of_fit
from storyrod.sheets._engine import PlainSheet, PlainTask, Running, SecondEngine
from storyrod.sheets._judge import Finding, judge
from storyrod.sheets._labels import part_labels
from storyrod.sheets._near import near_misses
from storyrod.sheets._parts import parts_from
from storyrod.sheets._run import Limits, Run
from storyrod.sheets._saw import saw_list
from storyrod.sheets._searched import Searched
from storyrod.sheets._whatif import what_if

__all__ = [
    "Finding",
    "PlainSheet",
    "PlainTask",
    "Running",
    "Searched",
    "SecondEngine",
    "faults_of_fit",
    "judge",
    "lay_out",
    "part_labels",
    "parts_from",
    "saw_list",
    "what_if",
]

DEFAULT_ROUNDS = 2000


def lay_out(  # noqa: PLR0913 - keyword-only dials, each with a sound default
    parts: Sequence[Part],
    stock: Sequence[StockSheet],
    rules: CutRules | None = None,
    *,
    limit_s: float | None = None,
    rounds: int | Callable[[int], int] | None = None,
    work: int | None = None,
    seed: int = 1,
    second: SecondEngine | None = None,
    progress: Callable[[SheetProgress], None] | None = None,
    tidy: bool = True,
    only_counts: bool = False,
    searched: Searched | None = None,
    clock: Callable[[], float] = time.monotonic,
) -> CuttingPlan:
    """Return every part laid out on the stock, board by board, at the least cost found.

    With `limit_s`, the search stops after so many seconds for all boards together, and a `second` engine may help.
    Else it goes `rounds` rounds a board (2,000 unless set; or what a function makes of the number of its parts), by
    our own engine alone: the same parts, stock, rules, seed and rounds then give the same plan everywhere. Rounds
    beyond the first 1,000 end sooner when `work` is done: so many parts on sheets that were changed, each time anew.
    `progress` hears of each better plan, judged already. With `tidy`, part of the time goes into fewer fence and rail
    settings at the same cost; with `only_counts` as well, only where that could come to other sheets. What was
    `searched` before, by counted rounds, is taken from there: the plan is the same.

    Raises:
        JobError: parts, stock or rules are wrong, a part fits no sheet, or there is not enough stock: all at once.
    """
    rules = rules or CutRules()
    raise_if_any(dict.fromkeys(faults_in(parts, stock, rules)))  # One trim may be too much for many sheets.
    raise_if_any(faults_of_fit(parts, stock, rules))
    boards = list(dict.fromkeys(p.board for p in parts))
    count = {b: sum(p.copies for p in parts if p.board == b) for b in boards}
    weight = {b: max(n, 5) for b, n in count.items()}
    plans: dict[str, BoardPlan] = {}
    helped = False
    began = clock()
    for board in sorted(boards, key=lambda b: weight[b]):  # Small boards are soon done and leave their time.
        waiting = sum(weight[b] for b in boards if b not in plans)
        left = None if limit_s is None else max(limit_s - (clock() - began), 0.01) * weight[board] / waiting
        limits = Limits(
            rounds=_rounds(rounds, count[board], limited=left is not None),
            work=work if left is None else None,
            limit_s=left,
            tidy=tidy,
            only_counts=only_counts,
            clock=clock,
        )
        own = [p for p in parts if p.board == board]
        sheets = [s for s in stock if s.board == board]
        run = Run(board, own, sheets, rules, limits, seed)
        again = searched if left is None and progress is None else None
        plans[board] = run.plan(second, progress) if again is None else run.plan_anew(again)
        helped = helped or run.running is not None
    return CuttingPlan(
        boards=tuple(plans[b] for b in boards),
        rules=rules,
        seed=seed,
        engines=(Engine.OWN, Engine.PACKING) if helped else (Engine.OWN,),
        notes=(
            *_notes(stock, rules, second=helped),
            *(n for b in boards for n in near_misses(plans[b], parts, stock, rules)),
        ),
    )


def _rounds(asked: int | Callable[[int], int] | None, parts: int, *, limited: bool) -> int | None:
    if asked is None:
        return None if limited else DEFAULT_ROUNDS
    return asked if isinstance(asked, int) else asked(parts)


def _notes(stock: Sequence[StockSheet], rules: CutRules, *, second: bool) -> list[str]:
    notes = [] if second else ["Laid out by our own engine only."]
    if rules.kerf == 0:
        notes.append("The kerf is 0, but every saw cut has a width. Measure a cut in scrap and write its width.")
    unpriced = [s.id for s in stock if s.price_cents is None and not s.offcut]
    if unpriced:
        notes.append(f"No price for {', '.join(unpriced)}: laid out for the least area.")
    return notes
