"""The job by every method of the workshop, worked out one method after the other behind the page."""

from __future__ import annotations

import copy
import threading
from collections.abc import Iterator

from storyrod.adapters.web._errands import Errand
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError
from storyrod.model.account import Terms
from storyrod.model.comparison import Comparison
from storyrod.planning import Plan


class Comparing(Errand):
    """Works the job out by each method; once done, `at` tells the comparison on any terms at once."""

    def __init__(self, worked: Worked) -> None:
        super().__init__()
        if worked.plan is None:
            raise ValueError("a file that cannot be read has no methods to compare")
        # A plan of our own: what every method comes to is let go with it.
        self._plan: Plan = copy.copy(worked.plan)
        self._located = worked.read.located if worked.read is not None else None
        self._busy = threading.Lock()
        self._told: dict[Terms | None, Comparison] = {}
        self.in_all = len(self._plan.workshop.methods)
        self.count = 0
        self.faults: tuple[Fault, ...] = ()

    def work(self) -> Iterator[None]:
        """Work the job out by each method; what that finds is kept by the plan."""
        for method in self._plan.workshop.methods:
            try:
                self._plan.compared(None, [method.code])
            except JobError as error:
                self.faults = (self._located(error) if self._located is not None else error).faults
                return
            self.count += 1
            yield
        self.at(None)

    def at(self, terms: Terms | None) -> Comparison:
        """Return the comparison on some terms, or on the workshop's own."""
        with self._busy:
            told = self._told.get(terms)
            if told is None:
                told = self._plan.compared(terms)
                self._told[terms] = told
            return told
