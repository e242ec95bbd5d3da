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
    from storyrod.model.workshop import Workshop
    from storyrod.planning import Plan

__version__ = "0.1.0"

__all__ = ["Caution", "Fault", "JobError", "__version__", "plan"]


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
