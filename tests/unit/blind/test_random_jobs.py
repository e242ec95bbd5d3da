"""Random jobs in mm and in inches, built from their paper alone: all is read, and nothing new is found.

Each job is drawn from a seed of its own, so that a job that fails can be drawn again by itself. The seeds are the same
in each run: what is found is a fault of what was changed, never of chance. `STORYROD_BLIND_SEED` draws others.
"""

from __future__ import annotations

import os
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings

from storyrod.adapters.files import packaged_workshop
from storyrod.faults import JobError, raise_if_any
from storyrod.measure.length import Unit
from storyrod.model.job import Job
from storyrod.planning import Plan
from storyrod_blind import Finding, FindingKind, build
from tests.strategies import jobs
from tests.unit.blind.papers import printed

SHOP = packaged_workshop()
KNOWN = tomllib.loads((Path(__file__).parent / "known.toml").read_text(encoding="utf-8"))["random"]
MANY = int(os.environ.get("STORYROD_BLIND_JOBS", "2"))
"""How many jobs are drawn in each unit: set STORYROD_BLIND_JOBS=200 to look further."""
FIRST = int(os.environ.get("STORYROD_BLIND_SEED", "0"))
"""Seed of the first job; each further one has the next."""
_DRAWN = 3  # jobs drawn from one seed, of which the last that can be built is taken: the first are very plain
_LAST_DIGIT = 5e-4  # mm that a bound, which is written to the thousandth, may be rounded by


def job_of(own: int, unit: Unit) -> Plan | None:
    """Return the plan of the job of a seed; None where it draws none that can be built."""
    drawn: list[Job] = []

    @seed(own)
    @settings(
        max_examples=_DRAWN,
        database=None,
        derandomize=False,
        phases=[Phase.generate],
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(job=jobs(SHOP, most_cases=1))
    def draw(job: Job) -> None:
        drawn.append(job)

    draw()
    for job in reversed(drawn):
        plan = Plan(replace(job, unit=unit), SHOP)
        try:
            raise_if_any((*plan.faults, *plan.proof.faults))
            _ = plan.machining, plan.assembly, plan.sheets  # a job that wants more board than there is has no packet
        except JobError:
            continue
        return plan
    return None


def is_known(finding: Finding, unit: Unit) -> bool:
    worst = KNOWN[unit.value].get(finding.kind.name)
    return worst is not None and abs(finding.by_mm) <= worst + _LAST_DIGIT


@pytest.mark.parametrize("unit", list(Unit))
def test_a_random_job_is_read_whole_and_shows_nothing_new(unit: Unit) -> None:
    built = 0
    for own in range(FIRST, FIRST + MANY):
        plan = job_of(own, unit)
        if plan is None:
            continue
        built += 1
        report = build(printed(plan))
        marks = [m for c in plan.set_out.cases for p in c.panels for m in p.marks]
        new = [f for f in report.findings if not is_known(f, unit)]
        told = "\n".join(f"{f.kind.name} {f.about}: {f.words} {f.by_mm:+.4f}" for f in new)
        which = f"the job of seed {own} in {unit.value}:\n{plan.job!r}\n{told}"

        assert report.cuts == len(marks), which
        assert report.mates == sum(bool(m.mate) for m in marks) / 2, which
        assert report.joints == sum(len(c.joints) for c in plan.details.cases), which
        assert not new, which
    assert built >= MANY / 2


def test_each_bound_names_a_kind_of_finding() -> None:
    assert {k for u in Unit for k in KNOWN[u.value]} <= set(FindingKind.__members__)
