"""Quality on the published sets and the joinery jobs, beside a plain packer and the packing library alone.

One core: the process binds itself to one where the system can, and its child with it. Our own engine is timed by
the processor's clock, so that other work on the machine does not count against it; with the library beside it, and
for the library alone, by the clock on the wall.

    python3 benchmarks/run_all.py sheets/bench_published            everything: about 25 minutes
    STORYROD_SHEETS=bwmv,jobs,few python3 benchmarks/run_all.py sheets/bench_published    some; `few` takes every fifth
"""

from __future__ import annotations

import contextlib
import json
import os
import time
from collections.abc import Callable, Sequence
from typing import Any

from benchmarks._needs import NotHereError, shared_data
from benchmarks.sheets.published import Job, joinery_job, one_size, several_sizes
from storyrod.adapters.packing import PackingEngine, is_installed
from storyrod.faults import JobError
from storyrod.model.sheet import CuttingPlan
from storyrod.sheets import PlainSheet, judge, lay_out, saw_list
from storyrod.sheets._engine import from_plain, plain
from storyrod.sheets._fill import Filler
from storyrod.sheets._task import Task, task_of

JOBS = ("job1-bookcase", "job2-three-carcasses", "job3-kitchen-run", "job5-library")


def main() -> None:
    """Print one table a set."""
    asked = set(os.environ.get("STORYROD_SHEETS", "bwmv,vsheet,jobs").split(","))
    step = 5 if "few" in asked else 1
    if hasattr(os, "sched_setaffinity"):
        with contextlib.suppress(OSError):
            os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})
    if "bwmv" in asked:
        _bwmv(_core("bwmv.json")[::step], 2.0)
    if "vsheet" in asked:
        _vsheet(_core("vsheet.json")[::step], 10.0)
    if "jobs" in asked:
        _jobs(10.0)


def _core(name: str) -> list[dict[str, Any]]:
    told = json.loads(shared_data("cutting", name).read_text(encoding="utf-8"))
    return [i for i in told["instances"] if i["core"]]


def own(job: Job, limit_s: float, *, tidy: bool = False) -> CuttingPlan | None:
    """Our own engine alone, by the processor's clock."""
    return _judged(job, lambda: lay_out(*job, limit_s=limit_s, tidy=tidy, clock=time.process_time))


def both(job: Job, limit_s: float, *, tidy: bool = False) -> CuttingPlan | None:
    """Both engines within one limit."""
    return _judged(job, lambda: lay_out(*job, limit_s=limit_s, tidy=tidy, second=PackingEngine()))


def _judged(job: Job, work: Callable[[], CuttingPlan]) -> CuttingPlan | None:
    try:
        plan = work()
    except JobError:
        return None
    assert judge(plan, *job) == ()
    return plan


def library(job: Job, limit_s: float) -> tuple[int, int] | None:
    """The packing library alone: cost and sheets of its last plan, or None."""
    task = task_of("b", *job)
    running = PackingEngine().start(plain(task), limit_s) if is_installed() else None
    if running is None:
        return None
    time.sleep(limit_s)
    told = running.better()
    running.stop()
    return _worth(task, told) if told is not None else None


def _worth(task: Task, told: Sequence[PlainSheet]) -> tuple[int, int] | None:
    import random

    filler = Filler(task, random.Random(1))
    filled = from_plain(filler, told)
    return (filler.cost(filled), len(filled)) if filled is not None else None


def plain_packer(job: Job) -> int | None:
    """The best that the general packer `rectpack` does with its guillotine algorithms: sheets of one size."""
    try:
        import rectpack
    except ImportError as error:
        raise NotHereError("rectpack is not installed: it comes with the test pins") from error
    task = task_of("b", *job)
    best: int | None = None
    for algorithm in (rectpack.GuillotineBssfSas, rectpack.GuillotineBafSas, rectpack.GuillotineBssfLas):
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline, pack_algo=algorithm, rotation=True, sort_algo=rectpack.SORT_AREA
        )
        for kind in task.kinds:
            for _ in kind.members:
                packer.add_rect(*kind.ways[0][:2])
        packer.add_bin(task.sizes[0].w, task.sizes[0].h, count=float("inf"))
        packer.pack()
        if len(packer.rect_list()) == len(task.wanted):
            best = min(best or len(packer), len(packer))
    return best


def _bwmv(instances: Sequence[dict[str, Any]], limit_s: float) -> None:
    known = sum(i["ub_rot_guill3"] for i in instances)
    proved = sum(i["lb_rot_here"] for i in instances)
    sums = {"rectpack": 0, "library": 0, "own": 0, "both": 0}
    for instance in instances:
        job = one_size(instance)
        told = library(job, limit_s)
        plans = own(job, limit_s), both(job, limit_s)
        row = {
            "rectpack": plain_packer(job) or 0,
            "library": told[1] if told else instance["n"],
            "own": len(plans[0].sheets) if plans[0] else instance["n"],
            "both": len(plans[1].sheets) if plans[1] else instance["n"],
        }
        for name, sheets in row.items():
            sums[name] += sheets
        if row["own"] > instance["ub_rot_guill3"] or row["both"] > instance["ub_rot_guill3"]:
            print(f"  {instance['id']}: best known {instance['ub_rot_guill3']}, {row}", flush=True)
    print(
        f"bwmv, {len(instances)} instances, may turn, {limit_s:g} s each: best known {known}, proved at least {proved}"
    )
    for name, sheets in sums.items():
        print(f"  {name:10} {sheets:5}  {sheets / known:.4f}")


def _vsheet(instances: Sequence[dict[str, Any]], limit_s: float) -> None:
    uses: dict[str, list[float]] = {"library": [], "own": [], "both": []}
    for instance in instances:
        job = several_sizes(instance)
        area = sum(p.length * p.width * p.copies for p in job[0])
        told = library(job, limit_s)
        uses["library"].append(area / told[0] if told else 0.0)
        for name, engine in (("own", own), ("both", both)):
            plan = engine(job, limit_s)
            uses[name].append(area / plan.cents if plan else 0.0)
        print(f"  {instance['id']}: " + ", ".join(f"{n} {100 * u[-1]:.1f}" for n, u in uses.items()), flush=True)
    print(f"vsheet, {len(instances)} instances, {limit_s:g} s each: mean use of those solved, and how many were")
    for name, found in uses.items():
        solved = [u for u in found if u]
        print(f"  {name:10} {100 * sum(solved) / max(len(solved), 1):.2f} %  {len(solved)} of {len(found)}")


def _jobs(limit_s: float) -> None:
    print(
        f"joinery jobs, {limit_s:g} s each: cost (reference), settings sheet by sheet as the references count them "
        "(trims left out, sheets with one layout counted once; not optimised there), and moves of the fence in our list"
    )
    total, moves = {"own": 0, "both": 0}, {"own": 0, "both": 0}
    before = 0
    for name in JOBS:
        told = json.loads(shared_data("cutting", f"{name}.json").read_text(encoding="utf-8"))
        job, reference = joinery_job(told), told["reference"]
        before += reference["saw"]["settings_sheet_by_sheet"]
        alone = library(job, limit_s)
        words = [f"library {alone[0] / 100 if alone else None}"]
        for which, engine in (("own", own), ("both", both)):
            plan = engine(job, limit_s, tidy=True)
            assert plan is not None
            figures = plan.boards[0].figures
            total[which] += figures.settings
            listed = saw_list(plan.boards[0], job[2], job[1]).settings
            moves[which] += listed
            words.append(f"{which} {figures.cents / 100:.2f} with {figures.settings} settings, {listed} in the list")
        saw = reference["saw"]
        print(
            f"  {name}: {'; '.join(words)}; reference {reference['cost']} with {saw['settings_sheet_by_sheet']}",
            flush=True,
        )
    print(f"  settings over the jobs: own {total['own']}, both {total['both']}, reference {before}")
    print(f"  in the saw's lists: own {moves['own']}, both {moves['both']}")


if __name__ == "__main__":
    main()
