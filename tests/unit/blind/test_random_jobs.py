"""Random jobs in mm and in inches, built from their paper alone: all is read, and nothing new is found."""

from __future__ import annotations

import os
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, reject, settings

from storyrod.adapters.files import packaged_workshop
from storyrod.faults import JobError, raise_if_any
from storyrod.measure.length import Unit
from storyrod.model.job import Job
from storyrod.plan import Plan
from storyrod_blind import FindingKind, build
from tests.strategies import jobs
from tests.unit.blind.papers import printed

SHOP = packaged_workshop()
KNOWN = tomllib.loads((Path(__file__).parent / "known.toml").read_text(encoding="utf-8"))["random"]
MANY = int(os.environ.get("STORYROD_BLIND_JOBS", "5"))
"""How many jobs are drawn in each unit: set STORYROD_BLIND_JOBS=200 to look further."""


@pytest.mark.parametrize("unit", list(Unit))
def test_a_random_job_is_read_whole_and_shows_nothing_new(unit: Unit) -> None:
    known = {FindingKind[kind] for kind in KNOWN["kinds"]}

    @settings(max_examples=MANY)
    @given(job=jobs(SHOP, most_cases=1))
    def check(job: Job) -> None:
        plan = Plan(replace(job, unit=unit), SHOP)
        try:
            raise_if_any((*plan.faults, *plan.proof.faults))
            _ = plan.machining, plan.assembly
        except JobError:
            reject()
        report = build(printed(plan))
        marks = [m for c in plan.set_out.cases for p in c.panels for m in p.marks]
        told = "\n".join(f"{f.kind.name} {f.about}: {f.words} {f.by_mm:+.3f}" for f in report.findings)

        assert report.cuts == len(marks), told
        assert report.mates == sum(bool(m.mate) for m in marks) / 2, told
        assert report.joints == sum(len(c.joints) for c in plan.details.cases), told
        assert set(report.by_kind) <= known, told

    check()
