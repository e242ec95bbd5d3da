"""Slips by chance on jobs by chance, by the thousand: every way out through the checker, the best beside brute force.

    python -m benchmarks.rescue.slips --count 5000 --seed 1 --brute 200

Every way that is offered is checked by code that shares none with the search, and proven once more; on jobs of up to
six panels the first `--brute` slips are worked out by brute force over the same moves too. Prints what was found, and
ends with status 1 where anything was wrong.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from collections.abc import Sequence
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


def main(arguments: Sequence[str] | None = None) -> int:
    """Run as many slips as are asked for; return 1 where a way was wrong or a better one was missed."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--brute", type=int, default=20)
    asked = parser.parse_args(arguments)
    rng, seen, wrong = Random(asked.seed), Counter[str](), list[str]()
    slowest, began = 0.0, time.perf_counter()
    plan: Plan | None = None
    while seen["slips"] < asked.count:
        if plan is None or seen["slips"] % EACH == 0:
            plan = random_plan(rng)
            if plan is None:
                continue
        facts = random_facts(plan, rng)
        if faults_of(plan.details, plan.set_out, facts):
            seen["refused"] += 1
            continue
        seen["slips"] += 1
        start = time.perf_counter()
        wrong += _one(plan, facts, seen, is_brute=seen["brute"] < asked.brute)
        slowest = max(slowest, time.perf_counter() - start)
        if seen["slips"] % EACH == 0:
            print(f"{dict(seen)}, {len(wrong)} wrong, {time.perf_counter() - began:.0f} s", flush=True)
    print(f"{dict(seen)}, {len(wrong)} wrong; slowest {slowest:.1f} s, {time.perf_counter() - began:.0f} s in all")
    print("\n".join(wrong[:20]))
    return 1 if wrong else 0


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
