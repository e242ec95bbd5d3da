"""The run of the folder cabinet, the jig search, and what planning costs as a batch grows.

Peers in the same run: the order panel by panel and the nearest-neighbour order, for the minutes; one case alone, for
the cost of a case. Quality and time are told apart.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from benchmarks._timing import show_table, time_work
from storyrod.adapters.files import read_job
from storyrod.joinery import station_rooms
from storyrod.machining import plan_work, share_stations
from storyrod.model.detail import Details
from storyrod.model.job import Job, Spread
from storyrod.model.mark import SetOut
from storyrod.planning import Plan

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "rehearsal-room.toml"
DEPTHS = (300.0, 345.0, 400.0, 450.0, 505.0, 545.0, 560.0, 600.0, 640.0, 705.0, 720.0, 800.0)
UNEVEN = (384.0, 388.0, 394.0, 400.0, 541.0, 546.0, 552.0, 560.0, 701.0, 706.0, 712.0, 720.0)
BOX = Path(__file__).resolve().parents[2] / "examples" / "first-box.toml"


def times(job: Job, count: int) -> Job:
    """Return the job with every case made `count` times."""
    return replace(job, cases=tuple(replace(c, count=count) for c in job.cases))


def alike(job: Job, count: int, deeper: float) -> Job:
    """Return the job with `count` cases of their own, each `deeper` than the last; 0 for repeats."""
    first = job.cases[0]
    cases = (replace(first, code=f"A{n}", depth=first.depth + n * deeper, fits=None) for n in range(count))
    return replace(job, cases=tuple(cases), overrides=())


def plan_input(plan: Plan) -> tuple[Details, SetOut]:
    """Return what the work is planned from, worked out beforehand."""
    return plan.details, plan.set_out


def _runs() -> None:
    told = read_job(EXAMPLE)
    rows = []
    for count in (1, 10):
        plan = Plan(times(told.job, count), told.workshop)
        details, marks = plan.details, plan.set_out
        timing = time_work(f"x{count}", partial(plan_work, details, marks, told.workshop), repeats=5)
        run = plan_work(details, marks, told.workshop).run
        rows.append(
            [f"x{count}", len(run.steps), timing.median_ms, timing.processor_ms, run.sureness.value, run.gap,
             run.changes_min, run.panel_by_panel_min / run.changes_min, run.nearest_min / run.changes_min, run.lot.size]
        )  # fmt: skip
    head = (
        "folder cabinet", "set-ups", "ms", "processor ms", "order", "gap", "changing min", "panel by panel", "nearest",
        "lot",
    )  # fmt: skip
    show_table("The run: changing against two other orders (times as much)", head, rows)


def _deep(depths: Sequence[float]) -> Job:
    """Return open boxes of these depths, joined by dowels."""
    told = read_job(BOX)
    plain = replace(told.job.cases[0], fits=None)
    cases = tuple(replace(plain, code=f"D{n}", depth=depth) for n, depth in enumerate(depths))
    return replace(told.job, cases=cases, overrides=(), spread=Spread.SHARED)


def _jigs() -> None:
    """The fewest stations for twelve depths, shared; and the fewest jigs and stations for the marks as they are."""
    told = read_job(BOX)
    kinds = ("drill jig", "drill press")
    by_ladder = replace(told.workshop, tools=tuple(t for t in told.workshop.tools if t.kind.value not in kinds))
    rows = []
    for name, depths in (("usual depths", DEPTHS), ("uneven depths", UNEVEN)):
        shared = Plan(_deep(depths), by_ladder)
        rooms = station_rooms(shared.joined, shared.choices)
        search_once = partial(share_stations, shared.joined, rooms)
        timing = time_work(name, search_once, repeats=3)
        (row,) = search_once().rows
        rows.append(
            [name, "stations shared", row.now, len(row.stations), row.bound, timing.median_ms, timing.processor_ms]
        )
        plain = Plan(replace(shared.job, spread=Spread.LADDER), by_ladder)
        details, marks = plan_input(plain)
        timing = time_work(name, partial(plan_work, details, marks, by_ladder), repeats=3)
        work = plan_work(details, marks, by_ladder)
        stations = max((len(j.stations) for j in work.jigs), default=0)
        found = [work.tally.to_make, work.tally.bound, timing.median_ms, timing.processor_ms]
        rows.append([name, "jigs, whole plan", stations, *found])
    head = ("twelve depths", "search", "stations as set out", "found", "no fewer than", "ms", "processor ms")
    show_table("Jigs and stations for twelve depths (an open box each)", head, rows)


def _batch() -> None:
    told = read_job(EXAMPLE)
    rows = []
    kinds: tuple[tuple[str, Callable[[int], Job]], ...] = (
        ("one case, counted", lambda count: times(alike(told.job, 1, 0.0), count)),
        ("written out, alike", lambda count: alike(told.job, count, 0.0)),
        ("written out, each deeper", lambda count: alike(told.job, count, 0.1)),
    )
    for kind, made in kinds:
        alone = 0.0
        for count in (1, 10, 100):
            plan = Plan(made(count), told.workshop)
            details, marks = plan.details, plan.set_out
            once = partial(plan_work, details, marks, told.workshop)
            timing = time_work(kind, once, repeats=5 if count < 100 else 2)
            work = plan_work(details, marks, told.workshop)
            each = timing.processor_ms / count
            alone = alone or each
            taken = [timing.median_ms, timing.processor_ms, each, each / alone]
            rows.append([kind, count, *taken, len(work.set_ups), len(work.jigs)])
    head = ("cases", "count", "ms in all", "processor ms", "of it a case", "of one case's", "set-ups", "jigs")
    show_table("Planning a growing batch", head, rows)


def main() -> None:
    """Print all three tables."""
    _runs()
    _jigs()
    _batch()


if __name__ == "__main__":
    main()
