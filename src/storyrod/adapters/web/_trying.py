"""What other methods would come to at one place of a job, tried one after the other behind the page."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from pathlib import Path

from storyrod.adapters.choosing import Effect, Place, changes_for, effect_now, effect_of, methods_for
from storyrod.adapters.web._errands import Errand
from storyrod.adapters.web._worked import Worked
from storyrod.faults import JobError
from storyrod.model.method import Method
from storyrod.planning import Plan


class Trying(Errand):
    """Tries every method that is made for a place; `found` fills as they are worked out."""

    def __init__(self, worked: Worked, place: Place, folder: Path) -> None:
        super().__init__()
        if worked.plan is None or worked.read is None:
            raise ValueError("a file that cannot be read has no methods to try")
        self.text = worked.text
        self.name = worked.name
        self.folder = folder
        self.place = place
        # A plan of our own, with all that is known so far, so that the page need not wait for us.
        self.plan: Plan = copy.copy(worked.plan)
        self.methods: tuple[Method, ...] = methods_for(place, self.plan.workshop.methods)
        self.now: Effect | None = None
        self.found: dict[str, Effect] = {}

    def work(self) -> Iterator[None]:
        """Work the job out as it is, then by each method."""
        self.now = effect_now(self.plan, self.place)
        yield
        for method in self.methods:
            self.found = self.found | {method.code: self._by(method)}
            yield

    def _by(self, method: Method) -> Effect:
        from storyrod.adapters.files import job_from_text
        from storyrod.adapters.files.editing import edit_job

        try:
            text = edit_job(self.text, changes_for(self.place, method.code, self.plan.job))
            read = job_from_text(
                text,
                name=f"{self.name}.toml",
                folder=self.folder,
                path=self.folder / f"{self.name}.toml",
                inside=True,
            )
        except JobError as error:
            return Effect(method=method.code, why_not=tuple(str(f) for f in error.faults[:3]))
        return effect_of(self.plan, read.job, self.place, method)
