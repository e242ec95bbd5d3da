"""The second engine: its answers are taken only when they hold, and it never holds anything up."""

from __future__ import annotations

import importlib.util
import time
from collections.abc import Sequence
from dataclasses import replace

import pytest

from storyrod.adapters.packing import PackingEngine, _parent
from storyrod.model.panel import Grain
from storyrod.model.sheet import CutRules, Engine, Part, StockSheet, Trim
from storyrod.sheets import PlainSheet, PlainTask, judge, lay_out
from tests.unit.sheets.jobs import random_job

installed = pytest.mark.skipif(
    importlib.util.find_spec("packingsolver") is None, reason="the packing library has no wheel here"
)
RULES = CutRules(kerf=3.2, trim=Trim.even(10))
SHEET = StockSheet(id="s", board="ply", length=2440, width=1220, price_cents=7800)
PARTS = [
    Part(id="a", board="ply", length=720, width=560, copies=5),
    Part(id="b", board="ply", length=764, width=100, copies=7, grain=Grain.FREE),
]


class Told:
    """A stand-in that tells one plan at once."""

    def __init__(self, plan: Sequence[PlainSheet], *, shares_core: bool = False) -> None:
        self.plan: Sequence[PlainSheet] | None = plan
        self.shares_core = shares_core
        self.stopped = False
        self.asked = 0

    def start(self, task: PlainTask, limit_s: float) -> Told:
        return self

    def better(self) -> Sequence[PlainSheet] | None:
        self.asked += not self.stopped
        told, self.plan = self.plan, None
        return told

    def stop(self) -> None:
        self.stopped = True


@installed
def test_the_child_answers_and_the_answer_passes_the_judge() -> None:
    two = [SHEET, replace(SHEET, id="t", length=3050, width=1525, price_cents=11800)]
    for stock in ([SHEET], two):
        plan = lay_out(PARTS, stock, RULES, limit_s=1.5, second=PackingEngine())
        assert judge(plan, PARTS, stock, RULES) == ()
        assert plan.engines == (Engine.OWN, Engine.PACKING)


@installed
def test_the_child_tells_a_whole_plan_and_is_ended() -> None:
    engine = PackingEngine().start(PlainTask(sheets=((100, 60, 5, 9),), parts=((50, 30, 8, True),)), 5.0)
    assert engine is not None
    plan = None
    until = time.monotonic() + 600
    while plan is None and time.monotonic() < until:
        plan = engine.better()
        time.sleep(0.02)
    engine.stop()
    engine.stop()

    assert plan is not None
    assert sum(len(parts) for _, parts in plan) == 8


def test_without_the_library_our_own_engine_goes_on_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_parent, "is_installed", lambda: False)

    assert PackingEngine().start(PlainTask(sheets=(), parts=()), 1.0) is None
    plan = lay_out(PARTS, [SHEET], RULES, limit_s=0.3, second=PackingEngine())
    assert judge(plan, PARTS, [SHEET], RULES) == ()
    assert plan.engines == (Engine.OWN,)
    assert plan.notes == ("Laid out by our own engine only.",)


@pytest.mark.parametrize(
    "plan",
    [
        [(0, ((0, 0, 0, 72320, 56320),))],  # parts missing
        [(0, ((0, 0, 0, 10, 10),))],  # a size of no part
        [(9, ((0, 0, 0, 72320, 56320),))],  # no such sheet
        [(0, tuple((0, 0, 0, 72320, 56320) for _ in range(5)))],  # all on one spot
        [],
    ],
)
def test_a_plan_that_does_not_hold_is_not_taken(plan: Sequence[PlainSheet]) -> None:
    told = Told(plan)
    made = lay_out(PARTS, [SHEET], RULES, limit_s=0.2, second=told)

    assert judge(made, PARTS, [SHEET], RULES) == ()
    assert made.boards[0].engine is Engine.OWN
    assert told.stopped


def test_an_engine_that_takes_our_time_and_is_no_better_is_ended_soon() -> None:
    """By a clock that moves when it is asked, not by the machine's; the job's bound is not met."""
    job = random_job(11)
    asked = {}
    for shares_core in (False, True):
        ticks = iter(range(10**9))
        told = Told([], shares_core=shares_core)
        plan = lay_out(*job, limit_s=30, second=told, clock=lambda ticks=ticks: next(ticks) / 10, tidy=False)  # type: ignore[misc]
        assert plan.boards[0].gap > 0
        assert told.stopped
        asked[shares_core] = told.asked

    assert 0 < asked[True] < asked[False] / 2


@pytest.mark.parametrize("line", ["", "{", "[[0]]", "[[0, [[1, 2]]]]", "null", "3", '[["a", []]]'])
def test_a_line_cut_short_is_no_plan(line: str) -> None:
    assert _parent._understood(line) is None
