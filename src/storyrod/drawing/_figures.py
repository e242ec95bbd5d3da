"""How figures and sizes are written on a drawing: in the job's unit, said once per view."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.drawing._lettering import DEPTH
from storyrod.measure.length import Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.job import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """The unit in which a drawing's figures are written, by the one writer of lengths.

    Attributes:
        fraction: the parts of an inch of the job's rule.
        seen: whether the drawing is looked at and nothing is set to its figures, as an elevation; they are then to a
            tenth of a mm.
    """

    unit: Unit = Unit.MM
    fraction: int = 32
    seen: bool = False

    @staticmethod
    def of_job(job: Job) -> Figures:
        """Return how the figures of a job are written."""
        return Figures(unit=job.unit, fraction=job.fraction)

    @property
    def lengths(self) -> LengthWriter:
        """The writer of lengths in words beside a drawing."""
        return LengthWriter(self.unit, self.fraction)

    def of(self, mm: float) -> str:
        """Return a length without its unit, `37.5` or `1 15/32`."""
        return self.lengths.seen_n(mm).rstrip('"') if self.seen else self.lengths.bare(mm)

    @property
    def said(self) -> str:
        """The sentence that says the unit, once per view."""
        said = self.lengths.said.replace("Lengths", "Figures", 1)
        return said.replace("decimals", "hundredths") if self.seen else said

    def size(self, shape: Shape) -> str:
        """Return the size and depth of a cut as a drawing says it, `Ø8 ↧13`.

        What a bit or drill makes at one go keeps its trade size; what is set is in the job's unit.
        """
        n, bought = self.lengths.n, self.lengths.bought_n
        down = f" {DEPTH}{n(shape.depth)}"
        match shape:
            case Hole():
                sunk = f", sunk to Ø{bought(shape.countersink)}" if shape.countersink else ""
                return f"Ø{bought(shape.diameter)}{' through' if shape.through else down}{sunk}"
            case Slot():
                return f"slot {n(shape.length)} × {bought(shape.width)}{down}"
            case Keyhole():
                return f"keyhole Ø{bought(shape.entry_diameter)}{down}"
            case SegmentPocket():
                return f"pocket {self.lengths.outcome_n(shape.chord)} × {bought(shape.width)}{down}"
            case UndercutSlot():
                return f"undercut slot {n(shape.length)} × {bought(shape.width)}{down}"
            case Channel():
                return f"{shape.kind} {n(shape.width)} wide{down}"
            case CutOut():
                if shape.outline == "round":
                    return f"Ø{n(shape.length)} through"
                return f"{shape.outline} {n(shape.length)} × {n(shape.height)} through"
            case AngledPocket():
                return f"Ø{bought(shape.diameter)} at {shape.angle_deg:g}°{down}"

    def call_out(self, shapes: list[Shape], most: int = 3) -> str:
        """Return what is cut in one place, each size counted: `4 × Ø8 ↧13, 1 × Ø5 ↧10`."""
        counted: dict[str, int] = {}
        for shape in shapes:
            size = self.size(shape)
            counted[size] = counted.get(size, 0) + 1
        told = [f"{n} × {size}" if n > 1 else size for size, n in counted.items()]
        more = len(told) - most
        return ", ".join(told[:most]) + (f" and {more} more" if more > 0 else "")
