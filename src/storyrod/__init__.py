"""Storyrod: from a cabinet maker's brief to every panel, mark, setting, cut, move and minute, proven first.

The library's whole face:

    import storyrod

    plan = storyrod.plan("examples/first-box.toml")
    for case in plan.details.cases:
        for panel in case.panels:
            print(panel.mark, panel.name, panel.length, panel.width)

In a notebook a plan shows its pictures.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.faults import Caution, Fault, JobError

if TYPE_CHECKING:
    from storyrod.model.job import Job
    from storyrod.model.study import StudyTable
    from storyrod.model.workshop import Workshop
    from storyrod.planning import Plan

__version__ = "0.1.0"

__all__ = ["Caution", "Fault", "JobError", "__version__", "plan", "study"]


def plan(job: Job | str | Path, workshop: Workshop | None = None) -> Plan:
    """Return the plan of a job; its stages are worked out when first asked for.

    Args:
        job: a job already read, or the path of a job file.
        workshop: the workshop it is made in; by default the one that the job file names, or the packaged one.

    Raises:
        JobError: the file cannot be read or understood; every fault at once.
    """
    from storyrod.adapters.files import packaged_workshop, read_job
    from storyrod.adapters.notebook import ShownPlan

    if isinstance(job, str | Path):
        read = read_job(Path(job))
        return ShownPlan(read.job, workshop or read.workshop)
    return ShownPlan(job, workshop or packaged_workshop())


def study(path: str | Path, *, workers: int = 1) -> StudyTable:
    """Return the table of a study file: every variant of its job, each worked out by the real plan.

    Args:
        path: the study file; its job file lies beside it.
        workers: so many processes at a time; more than one needs the extra `study`, and a script whose beginning is
            guarded by `if __name__ == "__main__":`, since each worker imports it.

    Raises:
        JobError: the study or its job cannot be understood, or comes to more variants than it allows.
    """
    from storyrod.adapters.files.studying import read_study
    from storyrod.adapters.study import Alone, table_of

    if workers == 1:
        return table_of(read_study(path), Alone())
    from storyrod.adapters.study.cluster import Spread

    return table_of(read_study(path), Spread(workers))
