"""The run of the folder cabinet, the jig search, and what planning costs as a batch grows.

Peers in the same run: the order panel by panel and the nearest-neighbour order, for the minutes; one case alone, for
the cost of a case. Quality and time are told apart.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from benchmarks._timing import show_table, time_work
from storyrod.adapters.files import read_job
from storyrod.machining import plan_work
from storyrod.machining._stations import StationRange, fewest_stations
from storyrod.model.job import Job
from storyrod.plan import Plan

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "rehearsal-room.toml"
DEPTHS = (300.0, 345.0, 400.0, 450.0, 505.0, 545.0, 560.0, 600.0, 640.0, 705.0, 720.0, 800.0)
UNEVEN = (180.0, 262.0, 301.0, 433.0, 502.0, 547.0, 590.0, 655.0, 703.0, 761.0, 810.0, 964.0)
RULES = StationRange(end=50, end_min=25, pitch=160, gap_min=32, least=2)


def times(job: Job, count: int) -> Job:
    """Return the job with every case made `count` times."""
    return replace(job, cases=tuple(replace(c, count=count) for c in job.cases))


def alike(job: Job, count: int, deeper: float) -> Job:
    """Return the job with `count` cases of their own, each `deeper` than the last; 0 for repeats."""
    first = job.cases[0]
    cases = (replace(first, code=f"A{n}", depth=first.depth + n * deeper, fits=None) for n in range(count))
    return replace(job, cases=tuple(cases), overrides=())


def _runs() -> None:
    told = read_job(EXAMPLE)
    rows = []
    for count in (1, 10):
        plan = Plan(times(told.job, count), told.workshop)
        details, marks = plan.details, plan.set_out
        timing = time_work(f"x{count}", lambda d=details, m=marks: plan_work(d, m, told.workshop), repeats=5)  # type: ignore[misc]
        run = plan_work(details, marks, told.workshop).run
        rows.append(
            [f"x{count}", len(run.steps), timing.median_ms, run.sureness.value, run.gap, run.changes_min,
             run.panel_by_panel_min / run.changes_min, run.nearest_min / run.changes_min, run.lot.size]
        )  # fmt: skip
    head = ("folder cabinet", "set-ups", "ms", "order", "gap", "changing min", "panel by panel", "nearest", "lot")
    show_table("The run: changing against two other orders (times as much)", head, rows)


def _jigs() -> None:
    rows = []
    for name, depths in (("usual depths", DEPTHS), ("uneven depths", UNEVEN)):
        for limit in (0.0, 5.0):
            found = fewest_stations(depths, RULES, limit_s=limit)
            timing = time_work(name, lambda d=depths, s=limit: fewest_stations(d, RULES, limit_s=s), repeats=1)  # type: ignore[misc]
            proven = "proven" if found[1] else "found"
            rows.append([name, "quick" if limit == 0 else "5 s of work", len(found[0]), proven, timing.median_ms])
    show_table("Fewest stations for twelve depths", ("depths", "search", "stations", "sureness", "ms"), rows)


def _batch() -> None:
    told = read_job(EXAMPLE)
    rows = []
    for kind, deeper in (("alike", 0.0), ("each deeper", 0.1)):
        alone = 0.0
        for count in (1, 10, 100):
            plan = Plan(alike(told.job, count, deeper), told.workshop)
            details, marks = plan.details, plan.set_out
            timing = time_work(
                kind,
                lambda d=details, m=marks: plan_work(d, m, told.workshop),  # type: ignore[misc]
                repeats=5 if count < 100 else 2,
            )
            work = plan_work(details, marks, told.workshop)
            each = timing.median_ms / count
            alone = alone or each
            rows.append([kind, count, timing.median_ms, each, each / alone, len(work.set_ups), len(work.jigs)])
    head = ("cases", "count", "ms in all", "ms a case", "of one case's", "set-ups", "jigs")
    show_table("Planning a growing batch", head, rows)


def main() -> None:
    """Print all three tables."""
    _runs()
    _jigs()
    _batch()


if __name__ == "__main__":
    main()
