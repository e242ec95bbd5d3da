"""Cost for each case as a job grows from 1 to 1,000 distinct cases, and the memory it takes.

The peer is the same job with one case, in the same run: cost per case should stay within 1.3 of it.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from benchmarks._timing import peak_memory_mib, show_table, time_work
from storyrod import carcass, joinery, setout
from storyrod.adapters.files import read_job
from storyrod.model.detail import Choices
from storyrod.model.job import Job
from storyrod.model.workshop import Workshop

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "rehearsal-room.toml"
SIZES = (1, 10, 100, 1000)


def of_many(job: Job, count: int) -> Job:
    """Return the job with `count` distinct cases: the example's, each some tenths of a mm deeper than the last."""
    first = job.cases[0]
    cases = (replace(first, code=f"A{n}", depth=first.depth + n / 10, fits=None) for n in range(count))
    return replace(job, cases=tuple(cases), overrides=())


def worked_out(job: Job, workshop: Workshop) -> object:
    """Work a job out as far as the marks."""
    details = joinery.detail(joinery.join(carcass.build(job, workshop), workshop), Choices())
    return setout.set_out(details)


def main() -> None:
    """Print milliseconds for each case, the ratio to one case alone, and the peak of memory."""
    told = read_job(EXAMPLE)
    rows = []
    alone = 0.0
    for count in SIZES:
        job = of_many(told.job, count)
        repeats = {1: 15, 10: 7, 100: 3}.get(count, 1)
        timing = time_work(str(count), lambda job=job: worked_out(job, told.workshop), repeats=repeats)  # type: ignore[misc]
        per_case = timing.median_ms / count
        alone = alone or per_case
        memory = peak_memory_mib(lambda job=job: worked_out(job, told.workshop)) if count <= 100 else float("nan")  # type: ignore[misc]
        rows.append([count, timing.median_ms, per_case, per_case / alone, memory, memory / count])
    head = ("cases", "ms in all", "ms a case", "of one case's", "peak MiB", "MiB a case")
    show_table("Carcass, joinery and set-out of folder cabinets", head, rows)


if __name__ == "__main__":
    main()
