"""Kerf twins of every published instance that lies here: lengths times ten, then a kerf off every part and sheet.

With a kerf `k` the problem is the same as one without, in which every part and the usable part of every sheet are `k`
longer and wider; so a twin is the same problem at ten times the scale, and by counted rounds takes the very same
sheets. Every plan is judged with its kerf. Kerfs of 1, 3.2 and 8 take turns, where the thinnest part is thick enough.

    python3 benchmarks/run_all.py sheets/bench_kerf_twins    all 575: about five minutes
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from benchmarks._needs import shared_data
from benchmarks.sheets.published import Job, one_size, several_sizes
from storyrod.faults import JobError
from storyrod.model.sheet import CutRules, Trim
from storyrod.sheets import judge, lay_out

KERFS = (1.0, 3.2, 8.0)
ROUNDS = 30


def main() -> None:
    """Print how many twins took the same sheets, and how many plans the judge turned away."""
    same = other = invalid = unsolved = 0
    for n, (name, plain) in enumerate(instances()):
        kerf = KERFS[n % len(KERFS)]
        twin = twin_of(plain, kerf)
        used: list[Counter[str]] = []
        for job in (plain, twin):
            try:
                plan = lay_out(*job, rounds=ROUNDS, tidy=False)
            except JobError:  # No plan in so few rounds, where the stock is only just enough.
                used.append(Counter())
                continue
            invalid += bool(judge(plan, *job))
            used.append(Counter(s.stock for s in plan.sheets))
        unsolved += not used[0]
        same += used[0] == used[1]
        other += used[0] != used[1]
        if used[0] != used[1]:
            print(f"  {name}, kerf {kerf:g}: {dict(used[0])} without, {dict(used[1])} with", flush=True)
    print(
        f"{same} twins with the same sheets ({unsolved} of them unsolved in {ROUNDS} rounds, both alike), "
        f"{other} with others; {invalid} plans turned away by the judge"
    )


def instances() -> Iterator[tuple[str, Job]]:
    """Yield every instance with one sheet size, then with several."""
    for file, read in (("bwmv.json", one_size), ("vsheet.json", several_sizes)):
        told = json.loads(shared_data("cutting", file).read_text(encoding="utf-8"))
        for instance in told["instances"]:
            yield instance["id"], read(instance)


def twin_of(job: Job, kerf: float) -> Job:
    """Return the twin with that kerf, or with one that the thinnest part allows."""
    parts, stock, _ = job
    thinnest = min(min(p.length, p.width) for p in parts)
    kerf = min(kerf, 10 * thinnest - 1)
    smaller = [replace(p, length=10 * p.length - kerf, width=10 * p.width - kerf) for p in parts]
    sheets = [replace(s, length=10 * s.length - kerf, width=10 * s.width - kerf) for s in stock]
    return smaller, sheets, CutRules(kerf=kerf, trim=Trim())


if __name__ == "__main__":
    main()
