"""Slips by chance: every way passes proof and checker, and the best is the one that brute force finds.

`python -m benchmarks.rescue.slips` does the same for thousands.
"""

from __future__ import annotations

from random import Random

import pytest

from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.planning import Plan, rescue
from storyrod.planning._rescuing import _Work
from storyrod.rescue import Search, check_way, faults_of
from storyrod.rescue._limits import SIZE
from tests.slips import random_facts
from tests.unit.rescue.brute import best_score


@pytest.mark.parametrize("seed", range(6))
def test_every_way_can_be_gone_and_the_best_is_the_best(plan: Plan, seed: int) -> None:
    rng = Random(seed)
    facts = random_facts(plan, rng)
    while faults_of(plan.details, plan.set_out, facts):
        facts = random_facts(plan, rng)
    work = _Work(plan, "A")
    search = Search(work.bench(facts, 1, frozenset()))

    told = rescue(plan, facts, "A")

    for way in told.ways:
        bench = search.bench
        assert check_way(bench.case, bench.pieces, way, wall=bench.job.limits.wall, size=SIZE) == ()
    if told.is_best or not told.ways:
        by_two = told.ways if told.most_moves == 2 else ()
        assert (by_two[0].cost.score if by_two else None) == best_score(work, search)


def test_ways_are_told_in_the_order_of_their_score(plan: Plan) -> None:
    slip = Slip(panel="A1", kind=SlipKind.ELSEWHERE, cuts=("1",), along=3.0)
    scores = [w.cost.score for w in rescue(plan, AsBuilt(slips=(slip,)), "A").ways]

    assert len(scores) > 3
    assert scores == sorted(scores)
