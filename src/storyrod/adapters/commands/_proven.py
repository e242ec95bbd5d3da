"""A job file worked out and proven, or every fault of it with its line."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from storyrod.faults import JobError
    from storyrod.model.job import Job
    from storyrod.model.workshop import Workshop
    from storyrod.planning import Plan


def proven_plan(
    path: Path, *, then: Callable[[Plan], Plan] | None = None, log: str | None = None, again: bool = False
) -> Plan:
    """Return the plan of a job file, worked out and proven; `then` goes on with it, its faults told alike.

    With a `log`, the offcuts on its rack are in stock (see `plan_with_rack`, and there for `again`).

    Raises:
        JobError: every fault, with the line of the file that caused it; a plan that is not proven is one too.
    """
    from storyrod.adapters.files import read_job
    from storyrod.faults import JobError, raise_if_any
    from storyrod.planning import Plan

    try:
        read = read_job(path)
    except JobError as error:
        raise _with_faults_of_building(path, error) from None
    plan = Plan(read.job, read.workshop) if log is None else _with_rack(read.job, read.workshop, log, again=again)
    try:
        raise_if_any(plan.faults)
    except JobError as error:
        raise read.located(_of_every_case(plan, error)) from None
    try:
        return plan if then is None else then(plan)
    except JobError as error:
        raise read.located(error) from None


def _with_faults_of_building(path: Path, error: JobError) -> JobError:
    """Return the faults of reading a file with those of building its cases that are sound, in the file's order."""
    from storyrod.adapters.files import sound_part
    from storyrod.faults import JobError
    from storyrod.planning import Plan

    part = sound_part(path)
    if part is None:
        return error
    plan = Plan(part.job, part.workshop)
    try:
        more = JobError(*plan.faults)
    except JobError as found:
        more = _of_every_case(plan, found)
    told = dict.fromkeys((*error.faults, *part.located(more).faults))
    return JobError(*sorted(told, key=lambda f: (f.file, f.line or 0)))


def _with_rack(job: Job, workshop: Workshop, where: str, *, again: bool) -> Plan:
    from storyrod.adapters.commands._log import refuse_missing
    from storyrod.adapters.log import open_log, plan_with_rack

    refuse_missing(where, "--log")
    with open_log(where) as log:
        return plan_with_rack(job, workshop, log, again=again)


_MOST_AGAIN = 50  # cases that are gone through once more for their faults; it is soon done


def _of_every_case(plan: Plan, error: JobError) -> JobError:
    """Return the faults with those that later stages find in the other cases, so that a maker mends all at once."""
    from dataclasses import replace

    from storyrod.faults import JobError
    from storyrod.planning import Plan

    job, faults = plan.job, dict.fromkeys(error.faults)
    faulty = [case for case in job.cases if any(f.field.startswith(case.field) for f in faults)]
    for case in job.cases:
        if case in faulty or not 1 < len(job.cases) <= _MOST_AGAIN:
            continue
        overrides = tuple(o for o in job.overrides if o.case == case.code)
        try:
            faults |= dict.fromkeys(Plan(replace(job, cases=(case,), overrides=overrides), plan.workshop).faults)
        except JobError as other:
            faults |= dict.fromkeys(other.faults)
    return JobError(*faults)
