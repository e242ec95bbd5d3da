"""What was proven about a set-out, with the figures: each claim, how much was checked, the worst and the limit."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import chain

from storyrod.faults import Fault
from storyrod.measure.length import MM_PER_INCH
from storyrod.measure.writing import METRIC, LengthWriter


class Claim(StrEnum):
    """What is claimed; the value is a paragraph of `docs/proof.md`."""

    MATES = "mates agree"
    MARKS = "marks agree"
    MARKS_TRUE = "marks are true"
    STATIONS = "stations keep their rules"
    CONNECTORS = "connectors add up"
    INSIDE = "cuts stay inside"
    SKIN = "skin is left"
    WALL = "wall is left"
    MEETINGS = "cuts keep apart"
    OPPOSITE = "opposite cuts keep their skin"
    SCREWS = "screws do not pierce"
    BOXES = "panels keep apart"
    SUMS = "sizes add up"
    FRAMES = "frames are sound"
    TWINS = "twins are mirrored"
    CLEARANCES = "clearances are left"
    MEASURED = "clearances are measured"
    DRAWERS_OUT = "drawers come out"
    PRINTED_LENGTHS = "lengths agree as printed"
    PRINTED_MATES = "mates agree as printed"
    PRINTED_PATTERNS = "patterns keep their shape as printed"
    PRINTED_ROOM = "drawers keep their room as printed"
    SOLID_APART = "solids keep apart"
    SOLID_VOLUMES = "solids have their volumes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One claim, checked.

    Attributes:
        claim: what was claimed.
        subject: what was checked, in the plural, as `pairs of holes and slots`.
        holds: what is true of all of them, as `meet within 0.000001 mm`.
        fails: what is not true of the ones at fault, as `do not meet`.
        one: the sentence for a single one, as `pair of holes and slots meets within 0.000001 mm`.
        checked: how many.
        worst: the figure nearest to its limit, or beyond it; None where nothing is measured.
        limit: what `worst` may not pass; None where nothing is measured.
        at_least: whether `limit` is the least allowed (else the most).
        measure: what `worst` is, where "least found" or "greatest found" does not say it.
        unit: of `worst` and `limit`.
        faults: every one that does not hold.
    """

    claim: Claim
    subject: str
    holds: str
    fails: str
    one: str
    checked: int
    worst: float | None = None
    limit: float | None = None
    at_least: bool = False
    measure: str = ""
    unit: str = "mm"
    faults: tuple[Fault, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether the claim holds for all that was checked."""
        return not self.faults

    def line(self, lengths: LengthWriter = METRIC) -> str:
        """Return the finding as one plain sentence, its figure first, in the unit of `lengths`."""
        if not self.passed:
            return f"{len(self.faults)} of {self.checked} {self.subject} {self.fails}: {self.faults[0].found}."
        sentence = f"1 {self.one}" if self.checked == 1 else f"{self.checked} {self.subject} {self.holds}"
        if self.worst is None:
            return f"{sentence}."
        measure = self.measure or ("least found" if self.at_least else "greatest found")
        in_inches = lengths.is_inch and self.unit == "mm"
        worst = f"{figure(self.worst / MM_PER_INCH)} in" if in_inches else f"{figure(self.worst)} {self.unit}"
        return f"{sentence} ({measure}: {worst})."


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """All that was proven about a job by exact arithmetic."""

    findings: tuple[Finding, ...]

    @property
    def passed(self) -> bool:
        """Whether every claim holds."""
        return all(f.passed for f in self.findings)

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Every fault of every claim."""
        return tuple(chain.from_iterable(f.faults for f in self.findings))

    def of(self, claim: Claim) -> Finding:
        """Return the finding of one claim."""
        return next(f for f in self.findings if f.claim is claim)

    def lines(self, lengths: LengthWriter = METRIC) -> tuple[str, ...]:
        """Return one plain sentence for each claim for which there was something to check."""
        return tuple(f.line(lengths) for f in self.findings if f.checked or f.faults)


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelVolume:
    """One panel's volume as the solid modeller has it, and as box less features makes it (mm3).

    `exact` is None where features share wood, so that their volumes do not simply add up. `tolerance` is what
    flat-sided circles may make of it.
    """

    panel: str
    name: str
    meshed: float
    exact: float | None
    tolerance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlap:
    """Two machined panels that share wood: how much, in mm3, and over which patch (mm)."""

    case: str
    one: str
    other: str
    volume_mm3: float
    size: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class SolidWitness:
    """What the solid modeller found: an independent witness to the exact proof.

    `overlaps` are those beyond tolerance.
    """

    panels: int
    pairs: int
    volumes: tuple[PanelVolume, ...]
    overlaps: tuple[Overlap, ...]
    findings: tuple[Finding, ...]

    @property
    def passed(self) -> bool:
        """Whether no two panels overlap and every volume is right."""
        return all(f.passed for f in self.findings)

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Every fault of both claims."""
        return tuple(chain.from_iterable(f.faults for f in self.findings))

    def lines(self) -> tuple[str, ...]:
        """Return one plain sentence for each claim."""
        return tuple(f.line() for f in self.findings if f.checked or f.faults)


def figure(value: float) -> str:
    """Return a figure of a proof as it is printed: three decimals, six for very small ones, no trailing zeros."""
    text = f"{value:.{3 if abs(value) >= 0.01 else 6}f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text
