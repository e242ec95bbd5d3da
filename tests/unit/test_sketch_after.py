"""A sketch worked out from an earlier one is the same as one worked out from the start."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.faults import JobError
from storyrod.model.job import Case, Job
from storyrod.plan import Plan
from tests.places import EXAMPLES


@pytest.fixture
def job() -> Job:
    """Three cases that differ."""
    read = read_job(EXAMPLES / "rehearsal-room.toml").job
    (case,) = read.cases
    return replace(read, cases=tuple(_numbered(case, n) for n in range(3)))


def _numbered(case: Case, number: int) -> Case:
    return replace(case, code="ABC"[number], field=f"cases[{number}]", width=case.width + 10 * number)


def test_only_the_cases_that_changed_are_built_anew(job: Job) -> None:
    before = Plan(job, packaged_workshop())
    other = replace(job, cases=(job.cases[0], replace(job.cases[1], height=900.0), job.cases[2]))
    plan = Plan(other, packaged_workshop())
    plan.sketch_after(before)

    assert plan.sketch == Plan(other, packaged_workshop()).sketch
    assert plan.sketch.cases[0] is before.sketch.cases[0]


def test_a_case_gone_or_added_is_seen(job: Job) -> None:
    before = Plan(job, packaged_workshop())
    for cases in (job.cases[:1], (*job.cases, replace(job.cases[0], code="D", field="cases[3]"))):
        plan = Plan(replace(job, cases=cases), packaged_workshop())
        plan.sketch_after(before)
        assert plan.sketch == Plan(replace(job, cases=cases), packaged_workshop()).sketch


def test_nothing_is_taken_over_where_the_job_itself_changed(job: Job) -> None:
    before = Plan(job, packaged_workshop())
    thicker = replace(job, boards=tuple(replace(b, measured=b.measured + 0.2) for b in job.boards))
    plan = Plan(thicker, packaged_workshop())
    plan.sketch_after(before)

    assert "sketch" not in vars(plan)
    assert plan.sketch == Plan(thicker, packaged_workshop()).sketch


def test_faults_are_those_of_the_whole(job: Job) -> None:
    before = Plan(job, packaged_workshop())
    broken = replace(job, cases=(job.cases[0], replace(job.cases[1], width=150.0), job.cases[2]))
    with pytest.raises(JobError) as whole:
        _ = Plan(broken, packaged_workshop()).sketch
    with pytest.raises(JobError) as part:
        Plan(broken, packaged_workshop()).sketch_after(before)

    assert part.value.faults == whole.value.faults
