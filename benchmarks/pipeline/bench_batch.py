"""Cost for each case as a job grows from 1 to 1,000 distinct cases, and the memory it takes.

The peer is the same job with one case, in the same run: cost per case should stay within 1.3 of it, by the processor's
time, which other work on the machine moves less. Memory is what a process of its own holds at the most beyond what it
held before: at most 300 MB for 1,000 cases.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path

from benchmarks._needs import NotHereError
from benchmarks._timing import apart, show_table, time_work
from storyrod import carcass, joinery, setout
from storyrod.adapters.files import read_job
from storyrod.model.detail import Choices
from storyrod.model.job import Job
from storyrod.model.workshop import Workshop

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "rehearsal-room.toml"
SIZES = {1: 30, 10: 7, 100: 3, 1000: 1}
"""How many cases, and how often each job is worked out."""

AIM_TIMES, AIM_MB = 1.3, 300.0


def of_many(job: Job, count: int) -> Job:
    """Return the job with `count` distinct cases: the example's, each some tenths of a mm deeper than the last."""
    first = job.cases[0]
    cases = (replace(first, code=f"A{n}", depth=first.depth + n / 10, fits=None) for n in range(count))
    return replace(job, cases=tuple(cases), overrides=())


def worked_out(job: Job, workshop: Workshop) -> object:
    """Work a job out as far as the marks."""
    details = joinery.detail(joinery.join(carcass.build(job, workshop), workshop), Choices())
    return setout.set_out(details)


def most_mb() -> float:
    """Return the most memory that this process held so far (millions of bytes).

    Raises:
        NotHereError: the system does not tell.
    """
    status = Path("/proc/self/status")  # Linux tells it here; `getrusage` tells the parent's there, where that is more.
    if not status.is_file():
        raise NotHereError("the system does not tell how much memory a process holds")
    lines = status.read_text(encoding="ascii").splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM:")) * 1024 / 1e6


def memory_mb(count: int) -> float:
    """Return how much more memory this process holds once it has worked out so many cases and keeps them."""
    told = read_job(EXAMPLE)
    worked_out(of_many(told.job, 1), told.workshop)  # what is loaded for any job
    before = most_mb()
    kept = worked_out(of_many(told.job, count), told.workshop)
    held = most_mb() - before
    del kept
    return held


def main() -> None:
    """Print milliseconds for each case, the ratio to one case alone, and the memory."""
    told = read_job(EXAMPLE)
    rows = []
    alone = 0.0
    for count, repeats in SIZES.items():
        job = of_many(told.job, count)
        work = partial(worked_out, job, told.workshop)
        timing = time_work(str(count), work, repeats=repeats, warm_up=min(1, repeats - 1))
        per_case = timing.processor_ms / count
        alone = alone or per_case
        rows.append([count, timing.median_ms, timing.processor_ms, per_case, per_case / alone, apart(memory_mb, count)])
    head = ("cases", "ms", "processor ms", "of it a case", "of one case's", "MB more")
    title = f"Carcass, joinery and set-out of folder cabinets; aims: {AIM_TIMES} of one case's, {AIM_MB:.0f} MB"
    show_table(title, head, rows)


if __name__ == "__main__":
    main()
