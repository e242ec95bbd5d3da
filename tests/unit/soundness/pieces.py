"""Small jobs for the soundness stage, read as a maker writes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from storyrod.adapters.files import job_from_text
from storyrod.model.soundness import CaseSoundness, Sag, Soundness, Tipping
from storyrod.planning import Plan
from storyrod.soundness import examine

BOARDS = """
[boards.mdf18]
kind = "mdf"
thickness = 18
measured = 18
[boards.mdf6]
kind = "mdf"
thickness = 6
measured = 6
[edgings.oak]
name = "red oak lipping"
thickness = 12
solid = true
"""

BOOKCASE = """
[[cases]]
code = "A"
board = "mdf18"
width = 836
height = 900
depth = 300
"""


def plan_of(text: str, boards: str = BOARDS) -> Plan:
    """Return the plan of a job written as text."""
    told = job_from_text(boards + text, name="job.toml")
    return Plan(told.job, told.workshop)


def examined(text: str, boards: str = BOARDS, **more: Any) -> Soundness:
    """Return a job's soundness."""
    plan = plan_of(text, boards)
    return examine(plan.carcass, plan.details, plan.workshop, **more)


@dataclass(frozen=True)
class Found:
    """One case's soundness, with short ways to what a test asks."""

    whole: Soundness
    case: CaseSoundness

    @property
    def tipping(self) -> Tipping:
        """How it stands; only of a case that stands."""
        assert self.case.tipping is not None
        return self.case.tipping

    def sag(self, name: str) -> Sag:
        return next(s for s in self.case.sags if s.name == name)

    @property
    def codes(self) -> list[str]:
        return [c.code for c in self.case.cautions]

    def told(self, code: str) -> str:
        return str(next(c for c in self.case.cautions if c.code == code))


def found(text: str, boards: str = BOARDS, **more: Any) -> Found:
    """Return the soundness of a job's first case."""
    whole = examined(text, boards, **more)
    return Found(whole, whole.cases[0])
