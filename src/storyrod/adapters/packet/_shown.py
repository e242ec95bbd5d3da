"""How figures and panels are written in the packet of one job."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.adapters.packet._blocks import Packet, Section
from storyrod.measure.writing import LengthWriter
from storyrod.model.job import Job
from storyrod.model.mark import PanelSetOut
from storyrod.model.panel import Panel, PanelId
from storyrod.plan import Plan


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


def counts(plan: Plan) -> dict[PanelId, int]:
    """Return how many of each panel the job makes."""
    return {p.id: c.built.case.count for c in plan.details.cases for p in c.panels}


def hand_words(out: PanelSetOut) -> str:
    """Return what the maker must know of a panel's hand."""
    panel = out.panel
    if panel.twin is None:
        return ""
    side = "left" if panel.name.split(" ")[-2:-1] == ["left"] or panel.name.startswith("left") else "right"
    return f"{side} hand; its twin is the mirror"


def packet_of(plan: Plan, sections: tuple[Section, ...], *, date: str = "") -> Packet:
    """Return sections of a plan as a packet: with its title and version in the head, and its unit at the foot."""
    return Packet(
        title=plan.job.title,
        version=plan.version,
        maker=plan.job.maker,
        date=date,
        paper=plan.job.paper.value,
        sections=sections,
        unit=plan.job.lengths.named,
    )
