"""A plan's job by other methods, for a comparison."""

from __future__ import annotations

from typing import TYPE_CHECKING

from storyrod.faults import JobError

if TYPE_CHECKING:
    from storyrod.model.comparison import WorkedOut
    from storyrod.model.job import Job
    from storyrod.model.sheet import CuttingPlan, Part
    from storyrod.model.workshop import Workshop
    from storyrod.planning._plan import Plan


class ByMethods:
    """The plan's job by other methods: each worked out once, and kept."""

    def __init__(self, plan: Plan) -> None:
        from storyrod.assembly import KnownOrders

        self.plan = plan
        plan.orders = plan.orders or KnownOrders()
        self.known: dict[tuple[Job, Workshop], WorkedOut | JobError] = {}
        self.layouts: dict[tuple[Part, ...], CuttingPlan] = {}

    def __call__(self, job: Job, workshop: Workshop) -> WorkedOut:
        """Return what the ledger reads of the job; raises `JobError` where the methods do not fit it."""
        known = self.known.get((job, workshop))
        if known is None:
            try:
                known = self._work_out(self.plan.by_other_methods(job, workshop))
            except JobError as error:
                known = error
            self.known[job, workshop] = known
        if isinstance(known, JobError):
            raise JobError(*known.faults)
        return known

    def _work_out(self, other: Plan) -> WorkedOut:
        """Return what was worked out; methods that leave all parts as large as another's share its sheets.

        Sheets count as far as money goes: the job's own are not tidied for it, where that was not done before.
        """
        from storyrod.model.comparison import WorkedOut

        run = other.machining  # a method that does not fit is told before sheets are searched for
        if other.parts not in self.layouts:
            self.layouts[other.parts] = other.sheets_costed
        return WorkedOut(details=other.details, run=run, sheets=self.layouts[other.parts], walls=other.walls)
