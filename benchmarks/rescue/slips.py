"""Slips by chance on jobs by chance, by the thousand: every way out through the checker, the best beside brute force.

    python -m benchmarks.rescue.slips --count 5000 --seed 1 --brute 200 --workers 2

Every way that is offered is checked by code that shares none with the search, and proven once more; on jobs of up to
six panels the first `--brute` slips are worked out by brute force over the same moves too. Prints what was found, and
ends with status 1 where anything was wrong.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass, field
from random import Random

from storyrod.model.as_built import AsBuilt
from storyrod.model.panel import Role
from storyrod.model.rescue import Way
from storyrod.planning import Plan, rescue
from storyrod.planning._rescuing import _Work
from storyrod.rescue import Search, check_way, faults_of
from storyrod.rescue._limits import SIZE
from tests.slips import random_facts, random_plan
from tests.unit.rescue.brute import best_score

SMALL = 6
"""Panels up to which brute force is used."""

TWO = 2
"""Moves together that brute force goes through: a way of three is found only where it finds none."""

EACH = 25
"""Slips on one job."""


@dataclass(slots=True)
class Tally:
    """What was tried and what was wrong."""

    seen: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)
    slowest: float = 0.0

    def add(self, other: Tally) -> None:
        """Count what another job's slips showed with what is counted here."""
        self.seen += other.seen
        self.wrong += other.wrong
        self.slowest = max(self.slowest, other.slowest)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run as many slips as are asked for; return 1 where a way was wrong or a better one was missed."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--brute", type=int, default=20)
    parser.add_argument("--workers", type=int, default=1, metavar="N", help="how many processes share the jobs")
    asked = parser.parse_args(arguments)
    tally, began = Tally(), time.perf_counter()
    pieces = [
        (f"{asked.seed} {n}", min(EACH, asked.count - at), math.ceil(asked.brute * EACH / asked.count))
        for n, at in enumerate(range(0, asked.count, EACH))
    ]
    with ProcessPoolExecutor(asked.workers) as pool:
        for done in as_completed([pool.submit(on_one_job, *piece) for piece in pieces]):
            tally.add(done.result())
            print(f"{dict(tally.seen)}, {len(tally.wrong)} wrong, {time.perf_counter() - began:.0f} s", flush=True)
    print(f"{len(tally.wrong)} wrong; slowest {tally.slowest:.1f} s, {time.perf_counter() - began:.0f} s in all")
    print("\n".join(tally.wrong[:20]))
    return 1 if tally.wrong else 0


def on_one_job(seed: str, count: int, brute: int) -> Tally:
    """Try slips on a job drawn from a seed of its own, whoever works on it and in whatever order.

    Args:
        count: how many slips.
        brute: how many of them are worked out by brute force too, where the job is small.
    """
    rng, tally = Random(seed), Tally()
    plan: Plan | None = None
    while plan is None:
        plan = random_plan(rng)
    while tally.seen["slips"] < count:
        facts = random_facts(plan, rng)
        if faults_of(plan.details, plan.set_out, facts):
            tally.seen["refused"] += 1
            continue
        tally.seen["slips"] += 1
        start = time.perf_counter()
        tally.wrong += _one(plan, facts, tally.seen, is_brute=tally.seen["brute"] < brute)
        tally.slowest = max(tally.slowest, time.perf_counter() - start)
    return tally


def _one(plan: Plan, facts: AsBuilt, seen: Counter[str], *, is_brute: bool) -> list[str]:
    told = rescue(plan, facts, "A")
    work = _Work(plan, "A")
    search = Search(work.bench(facts, 1, frozenset()))
    _ = [*search.states()]  # now plans by other methods are known
    seen["ways"] += len(told.ways)
    seen["without a way"] += not told.ways
    seen["only remaking"] += told.only_remaking
    seen["not proven best"] += bool(told.ways) and not told.is_best
    seen["by three moves"] += bool(told.ways) and told.most_moves > TWO
    found = [f"{facts}: {words}" for way in told.ways for words in _wrong(work, search, way)]
    if is_brute and len(plan.details.cases[0].panels) <= SMALL:
        seen["brute"] += 1
        best = best_score(work, search)
        first = told.ways[0].cost.score if told.ways and told.most_moves == TWO else None
        if first != best and (told.is_best or best is None or first is None):
            seen["missed"] += best is not None and first is None
            found.append(f"{facts}: brute force {best}, search {first}")
    return found


def _wrong(work: _Work, search: Search, way: Way) -> list[str]:
    bench = search.bench
    found = [f.found for f in check_way(bench.case, bench.pieces, way, wall=bench.job.limits.wall, size=SIZE)]
    planned = {p.id: p.box for p in bench.case.panels}
    is_outer = any(p.role in {Role.TOP, Role.BASE} and p.box != planned[p.id] for p in way.case.panels)
    sizes = is_outer or any(
        abs(a - b) > 1e-6
        for p in way.case.panels
        for a, b in zip(way.pieces[way.seats[p.id].piece].sizes, (p.length, p.width, p.thickness), strict=True)
    )
    if not work.holds(way.as_stands, way.case, sizes, frozenset(way.left)):
        found.append(f"{way.codes} does not pass the proof")
    return found


if __name__ == "__main__":
    sys.exit(main())
