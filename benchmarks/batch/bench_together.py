"""Jobs made together against one after the other: sheets, money, minutes, and what planning them together takes.

`python -m benchmarks.batch.bench_together [SETS] [SEED]`. A set is three jobs drawn from the examples, each made a
little larger or smaller, in the plain workshop; then one batch of ten jobs. Seconds are those of the processor, beyond
each job's own planning; those of the sheets are told apart.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Sequence
from dataclasses import replace

from benchmarks._needs import ROOT
from benchmarks._timing import show_table
from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.faults import JobError
from storyrod.measure.length import Unit
from storyrod.model.batch import Member
from storyrod.model.job import Job, SheetSize
from storyrod.planning import Batch, Plan, faults_alone, plan_batch
from storyrod.planning import _batch as planning

EXAMPLES = sorted(p for p in (ROOT / "examples").glob("*.toml") if "workshop" not in p.name)
_SHEETS = "lay_out_together"  # the step of planning that is timed by itself
_SHEET = SheetSize(length=2440, width=1220, price_cents=7800)


def drawn(rng: random.Random) -> Job:
    """Return one example, a little larger or smaller, its boards sold in one size."""
    while True:
        job = read_job(rng.choice(EXAMPLES)).job
        if job.unit is Unit.MM:
            break
    cases = tuple(
        replace(
            c, fits=None, **{n: round(getattr(c, n) * rng.uniform(0.9, 1.15)) for n in ("width", "height", "depth")}
        )
        for c in job.cases
    )
    boards = tuple(replace(b, sheets=(_SHEET,), measured=b.thickness - 0.3) for b in job.boards)
    return replace(job, cases=cases, boards=boards, overrides=(), currency="EUR")


def batch_of(jobs: Sequence[Job]) -> tuple[Batch, float, float]:
    """Return a batch, the seconds beyond the jobs' own planning, and those of them that went into sheets."""
    shop = packaged_workshop()
    members = [Member(mark=str(n), name=f"job {n}", job=j) for n, j in enumerate(jobs, start=1)]
    plans = {m.mark: Plan(m.marked, shop) for m in members}
    for plan in plans.values():
        if faults := faults_alone(plan):
            raise JobError(*faults)
        _ = plan.walls
    spent = [0.0]
    lay_out = getattr(planning, _SHEETS)

    def timed(*words: object) -> object:
        began = time.process_time()
        done = lay_out(*words)
        spent[0] = time.process_time() - began
        return done

    setattr(planning, _SHEETS, timed)
    began = time.process_time()
    try:
        batch = plan_batch(members, shop, known=plans)
    finally:
        setattr(planning, _SHEETS, lay_out)
    return batch, time.process_time() - began - spent[0], spent[0]


def row(name: str, batch: Batch, seconds: float, sheets_s: float) -> list[object]:
    """Return what is told of a batch."""
    alone = sum(c or 0 for b in batch.boards for c in b.alone_cents)
    cents = sum(b.cents or 0 for b in batch.boards)
    assert cents <= alone, "together must not cost more than apart"
    panels = sum(len(c.panels) for c in batch.together.details.cases)
    run = batch.run
    return [
        name,
        panels,
        f"{sum(b.sheets for b in batch.boards)} / {sum(sum(b.alone_sheets) for b in batch.boards)}",
        f"{cents / 100:.0f} / {alone / 100:.0f}",
        f"{run.minutes:.0f} / {sum(run.alone_min):.0f}",
        f"{run.changes_min:.0f} / {run.alone_changes_min:.0f}",
        "best" if run.is_best else f"{run.bound_min:.0f}",
        f"{seconds:.1f}",
        f"{sheets_s:.1f}",
    ]


def main(words: Sequence[str]) -> int:
    """Print the table."""
    wanted, seed = (int(w) for w in (*words, *("8", "1")[len(words) :]))
    rng, rows = random.Random(seed), []
    sizes = [3] * wanted + [10]
    while sizes:
        try:
            rows.append(row(f"{sizes[0]} jobs", *batch_of([drawn(rng) for _ in range(sizes[0])])))
        except JobError:
            continue
        sizes.pop(0)
        print(rows[-1], flush=True)
    heads = ["set", "panels", "sheets", "money", "minutes", "changing", "bound", "seconds", "sheets' seconds"]
    show_table("Together / apart", heads, rows)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
