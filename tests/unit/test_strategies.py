"""Random jobs are like real ones: hardly any is turned away, and a sample holds what makers build.

The sample is the same each time; `STORYROD_HYPOTHESIS=thorough` draws one by new chance.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

import pytest
from hypothesis import given, seed, settings

from storyrod.adapters.files import packaged_workshop
from storyrod.faults import JobError
from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.model.job import BackKind, BetweenOrOver, Case, Holds, HungBy, Job, Opening, RailsStand, Split, WallKind
from storyrod.planning import Plan
from tests.drawn_parts import PARTS_OF_AN_INCH
from tests.strategies import MOST_PANELS, SHELL, jobs

pytestmark = pytest.mark.slow  # all together, so that one worker draws the sample they share

SHOP = packaged_workshop()


@dataclass
class Sample:
    """What was drawn: the jobs, how many were turned away, the methods that hold joints, panels a job."""

    jobs: list[Job] = field(default_factory=list)
    turned_away: list[str] = field(default_factory=list)
    methods: Counter[str] = field(default_factory=Counter)
    panels: list[int] = field(default_factory=list)

    @property
    def cases(self) -> list[Case]:
        """Every case of every job."""
        return [c for j in self.jobs for c in j.cases]


@cache
def sample() -> Sample:
    """Draw some jobs for each method that a maker may like best, and cut all their joints."""
    found = Sample()
    for number, method in enumerate(SHOP.methods):

        @seed(number)  # of their own: else every method would meet the same jobs
        @settings(max_examples=5)
        @given(jobs(SHOP, favourite=method.code))
        def draw(job: Job) -> None:
            _cut(job, found)

        draw()
    return found


def _cut(job: Job, found: Sample) -> None:
    found.jobs.append(job)
    plan = Plan(job, SHOP)
    try:
        details = plan.sketch
    except JobError as error:
        found.turned_away.append(error.faults[0].code)
        return
    found.methods.update(j.method for c in details.cases for j in c.joints)
    found.panels.append(sum(len(c.panels) for c in details.cases))


def depth(node: Opening) -> int:
    """Return how deep openings are nested: 0 for one that is left whole."""
    return 1 + max(map(depth, node.inside)) if node.inside else 0


def whole(node: Opening) -> Iterator[Opening]:
    """Yield an opening and all that are in it."""
    yield node
    for inner in node.inside:
        yield from whole(inner)


def held(case: Case) -> Counter[Holds]:
    """Count what the openings of a case hold."""
    return Counter(n.holds for n in whole(case.inside))


def test_hardly_any_job_is_turned_away() -> None:
    told = sample()

    assert len(told.jobs) >= 60
    assert len(told.turned_away) < len(told.jobs) / 5, Counter(told.turned_away)


def test_every_method_holds_some_joint() -> None:
    assert set(sample().methods) == {m.code for m in SHOP.methods}


def test_there_are_all_kinds_of_backs_and_insides() -> None:
    cases = sample().cases

    assert {c.back.kind for c in cases} == set(BackKind)
    assert {c.hung.wall for c in cases if c.hung} == {WallKind.STUDS, WallKind.MASONRY}
    assert {(c.rail_count, c.rails_stand) for c in cases if c.top is BetweenOrOver.RAILS} >= {
        (2, RailsStand.FLAT),
        (3, RailsStand.UPRIGHT),
    }
    assert sum(c.back_rail is not None for c in cases) >= 3
    assert sum(c.worktop is not None for c in cases) >= 3
    assert sum(c.feet is not None for c in cases) >= 3
    assert sum(c.skirting is not None for c in cases) >= 3
    assert {c.hung.by for c in cases if c.hung} == set(HungBy)
    assert {c.back.board for c in cases if c.back.kind is BackKind.BETWEEN} == {"carcass", "thin"}
    assert {n.split for c in cases for n in whole(c.inside)} == {*Split, None}
    assert {n.holds for c in cases for n in whole(c.inside)} == set(Holds)
    assert sum(depth(c.inside) >= 3 for c in cases) >= 3
    assert sum(held(c)[Holds.DRAWER] >= 3 for c in cases) >= 3
    assert sum(held(c)[Holds.DRAWER] > 0 and held(c)[Holds.DOOR] + held(c)[Holds.PAIR_OF_DOORS] > 0 for c in cases) >= 3


def test_jobs_are_as_large_as_a_maker_s_and_no_larger() -> None:
    panels = sample().panels

    assert max(panels) >= 25
    assert max(panels) <= MOST_PANELS + SHELL


def test_inch_jobs_are_written_in_fractions() -> None:
    for unit in Unit:
        lengths = [x for j in sample().jobs if j.unit is unit for c in j.cases for x in (c.width, c.height, c.depth)]
        step = MM_PER_INCH / PARTS_OF_AN_INCH if unit is Unit.INCH else 0.5
        assert len(lengths) >= 30
        assert all(abs(x / step - round(x / step)) < 1e-9 for x in lengths)


def test_there_may_be_six_cases() -> None:
    counts: Counter[int] = Counter()

    @settings(max_examples=15)
    @given(jobs(SHOP, most_cases=6))
    def draw(job: Job) -> None:
        counts[len(job.cases)] += 1

    draw()
    assert min(counts) == 1
    assert max(counts) >= 5
