"""Every page of each sound job that mutations make, asked of a real server: none is answered as a mistake of ours.

`python3 run.py harden pages [--jobs N] [--seed S]`. The addresses are those of the app itself that take a job and
nothing else. Files with faults are asked for too: their brief, text and first page must answer.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from benchmarks._timing import show_table
from benchmarks.harden._served import Served, ask, served
from benchmarks.harden.doors import SAMPLES, table_of
from benchmarks.harden.harden import made, memory_mb

ALWAYS: Final = ("brief", "text", "overview")
LATE_S: Final = 5.0
"""Brief, text and first page wait for no plan."""


def stages_of(page: Served) -> list[str]:
    """Return the addresses that take a job alone, from the app itself, the job's name left to be put in."""
    sample = f"/job/{SAMPLES['job']}/"
    asked = (path for method, path in table_of(page.routes) if method == "GET" and path.startswith(sample))
    return sorted({p.removeprefix(sample) for p in asked if "/" not in p.removeprefix(sample)})


def main(argv: Sequence[str] | None = None) -> int:
    """Print the table; the exit status is 1 where a page failed."""
    parser = argparse.ArgumentParser(prog="run.py harden pages", description=__doc__)
    parser.add_argument("--jobs", type=int, default=40, metavar="N")
    parser.add_argument("--seed", type=int, default=None, metavar="S")
    arguments = parser.parse_args(argv)
    seed = random.SystemRandom().randrange(10**6) if arguments.seed is None else arguments.seed
    print(f"seed {seed}", flush=True)
    counts: Counter[str] = Counter()
    failed: list[str] = []
    slowest, half = 0.0, 0.0
    with tempfile.TemporaryDirectory() as folder:
        jobs = Path(folder, "jobs")
        jobs.mkdir()
        with served(jobs, Path(folder, "home")) as page:
            stages = stages_of(page)
            for number in range(arguments.jobs):
                (jobs / f"n{number}.toml").write_text(made(seed, number), encoding="utf-8", errors="surrogatepass")
                for stage in (*ALWAYS, *(s for s in stages if s not in ALWAYS)):
                    began = time.monotonic()
                    answer = ask(page.port, "GET", f"/job/n{number}/{stage}", headers=page.owner)
                    took = time.monotonic() - began
                    counts[f"{answer.status}"] += 1
                    slowest = max(slowest, took) if stage in ALWAYS else slowest
                    late = stage in ALWAYS and took > LATE_S
                    if answer.status >= 500 or late or re.search(rb"Traceback \(most", answer.body):
                        failed.append(f"number {number}: {stage}: {answer.status} after {took:.1f} s")
                (jobs / f"n{number}.toml").unlink()
                half = memory_mb() if number < arguments.jobs // 2 else half
    rows = [[f"answered {status}", count] for status, count in sorted(counts.items())]
    show_table(f"{arguments.jobs} jobs, {len(stages)} pages each", ("what", "pages"), rows)
    print(f"{slowest:>8.1f}  seconds until the slowest brief, text or first page")
    print(f"{half:>8.0f}  MB of memory after half of them, {memory_mb():.0f} after all")
    print(f"{len(failed):>8}  failed")
    print("\n".join(f"          {f}" for f in failed))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
