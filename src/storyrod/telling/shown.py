"""How lengths and sizes of one job are written."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.measure.writing import LengthWriter
from storyrod.model.job import Job
from storyrod.model.panel import Panel


@dataclass(frozen=True, slots=True)
class Shown:
    """The job's way of writing lengths."""

    lengths: LengthWriter

    @classmethod
    def of(cls, job: Job) -> Shown:
        """Return how the job writes lengths."""
        return cls(job.lengths)

    def n(self, mm: float) -> str:
        """Return a length in the job's unit."""
        return self.lengths.n(mm)

    def size(self, panel: Panel) -> str:
        """Return finished size and thickness."""
        return f"{self.n(panel.length)} \u00d7 {self.n(panel.width)} \u00d7 {self.n(panel.thickness)}"

    @property
    def unit_name(self) -> str:
        """The unit within a sentence: `millimetres`, or `inches`."""
        return self.lengths.named

    @property
    def unit_words(self) -> str:
        """The sentence that says the unit, once a view."""
        return self.lengths.said
