"""Random jobs, each planned to the end; and kept ones, which once showed something wrong.

The usual run draws the same ones each time, for what is wrong in one of them has nothing to do with the change that
is being tested. `STORYROD_JOBS_SEED=new python3 run.py test unit/test_new_jobs.py` draws others, and tells the seed
when a job fails, with the job itself; the same word with that number draws them again. What was wrong is then kept as
a job file in `kept_jobs/`, with its reason at the top: it outlives a change of how jobs are drawn.
"""

from __future__ import annotations

import os
import random
from pathlib import Path

import pytest
from hypothesis import given, note, seed, settings

from storyrod.adapters.files import job_from_text, packaged_workshop
from storyrod.adapters.files.editing import job_to_toml
from storyrod.assembly import check_plan
from storyrod.faults import Fault, JobError
from storyrod.machining import check_run, plan_work
from storyrod.model.job import Job
from storyrod.planning import Plan
from tests.strategies import jobs

SHOP = packaged_workshop()
ASKED = os.environ.get("STORYROD_JOBS_SEED") or "20261201"
SEED = random.SystemRandom().randrange(10**6) if ASKED == "new" else int(ASKED)
KEPT = sorted((Path(__file__).parent / "kept_jobs").glob("*.toml"))


def planned_right(job: Job) -> bool:
    """Whether the job is built, or told with a way out; all that is planned of it is asked of the checks."""
    assert job_from_text(job_to_toml(job), name="job.toml").job == job
    plan = Plan(job, SHOP)
    faults: tuple[Fault, ...] = ()
    work = None
    try:
        work = plan_work(plan.details, plan.set_out, SHOP, limit_s=0.2)
    except JobError as error:
        faults = error.faults
    if work is None:
        assert all(f.code and f.found and f.allowed and f.do for f in faults), faults or "no work"
        return False
    assert plan.proof.passed, plan.proof.faults
    assert [r.faults for r in check_plan(plan.joined, plan.assembly, details=plan.details) if r.faults] == []
    assert check_run(work, plan.details, plan.set_out).faults == ()
    _ = plan.soundness  # estimates never end in an error
    return True


def test_random_jobs_are_planned_right_or_told_why_not() -> None:
    built: list[bool] = []

    @seed(SEED)
    @settings(max_examples=6 if ASKED != "new" else 10, derandomize=False)
    @given(jobs(SHOP, most_cases=6))
    def draw(job: Job) -> None:
        note(f"STORYROD_JOBS_SEED={SEED}\n{job_to_toml(job)}")
        built.append(planned_right(job))

    draw()
    assert any(built), SEED  # how many are turned away is counted in `test_strategies`, on a fixed sample


@pytest.mark.parametrize("path", KEPT, ids=lambda p: p.stem)
def test_what_a_random_job_showed_once_stays_mended(path: Path) -> None:
    assert planned_right(job_from_text(path.read_text(encoding="utf-8"), name=path.name).job)
