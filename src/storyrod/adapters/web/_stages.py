"""The way through a job, as notches on the rod that stands beside every page of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """One stage of the work: its key in addresses, its name on the rod, and what is settled there."""

    key: str
    name: str
    about: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A stage as a job's rod shows it: plain, crossed with a count of faults, marked with one of cautions, or filled
    as far as work is ticked.
    """

    stage: Stage
    href: str
    faults: int = 0
    cautions: int = 0
    done: float = 0.0


STAGES: Final = (
    Stage(key="overview", name="The job", about="Can I build it, what do I buy, what do I do now"),
    Stage(key="brief", name="Brief", about="Sizes, openings and what they hold"),
    Stage(key="panels", name="Panels", about="The case in the round, and its panels"),
    Stage(key="joints", name="Joints", about="How it is held, and what that costs"),
    Stage(key="sheets", name="Sheets", about="How the sheets are cut"),
    Stage(key="set-out", name="Set-out", about="Every mark on every panel"),
    Stage(key="set-ups", name="Set-ups", about="Jigs, settings and the order of work"),
    Stage(key="assembly", name="Assembly", about="In which order it goes together"),
    Stage(key="stand", name="Will it stand?", about="Sag, tipping, lifting and how it is fixed"),
    Stage(key="bench", name="Bench", about="One card at a time, ticked"),
    Stage(key="costs", name="Costs", about="Minutes, money, and what the bench taught"),
    Stage(key="print", name="Print", about="The packet and every file"),
)
