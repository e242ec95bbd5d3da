"""How figures and sizes are written on a drawing: in the job's unit, said once per view."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.drawing._lettering import DEPTH
from storyrod.measure.length import Unit, show_inches, show_mm
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Hole,
    Keyhole,
    ProfileSlot,
    SegmentPocket,
    Shape,
    Slot,
)
from storyrod.model.job import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """The unit in which a drawing's figures are written.

    Attributes:
        fraction: the smallest part of an inch.
        decimals: of a millimetre; two where marks are made to a quarter of one.
    """

    unit: Unit = Unit.MM
    fraction: int = 32
    decimals: int = 1

    @staticmethod
    def of_job(job: Job) -> Figures:
        """Return how the figures of a job are written."""
        tenths = abs(job.mark_to * 10 - round(job.mark_to * 10)) < 1e-9
        return Figures(unit=job.unit, fraction=job.fraction, decimals=1 if tenths else 2)

    def of(self, mm: float) -> str:
        """Return a length without its unit, `37.5` or `1 15/32`."""
        if self.unit is Unit.INCH:
            return show_inches(mm, self.fraction).rstrip('"')
        return show_mm(mm, self.decimals)

    @property
    def said(self) -> str:
        """The sentence that says the unit, once per view."""
        if self.unit is Unit.INCH:
            return f"Figures in inches, to the nearest 1/{self.fraction}."
        return "Figures in millimetres."

    def size(self, shape: Shape) -> str:
        """Return the size and depth of a cut as a drawing says it, `Ø8 ↧13`.

        Cutters and drills keep millimetres in an inch job: they are bought by them.
        """
        down = f" {DEPTH}{show_mm(shape.depth)}"
        match shape:
            case Hole():
                sunk = f", sunk to Ø{show_mm(shape.countersink)}" if shape.countersink else ""
                return f"Ø{show_mm(shape.diameter)}{' through' if shape.through else down}{sunk}"
            case Slot():
                return f"slot {show_mm(shape.length)} × {show_mm(shape.width)}{down}"
            case Keyhole():
                return f"keyhole Ø{show_mm(shape.entry_diameter)}{down}"
            case SegmentPocket():
                return f"pocket {show_mm(shape.chord)} × {show_mm(shape.width)}{down}"
            case ProfileSlot():
                return f"profile slot {show_mm(shape.length)} × {show_mm(shape.width)}{down}"
            case Channel():
                return f"{shape.kind} {show_mm(shape.width)} wide{down}"
            case CutOut():
                if shape.outline == "round":
                    return f"Ø{show_mm(shape.length)} through"
                return f"{shape.outline} {show_mm(shape.length)} × {show_mm(shape.height)} through"
            case AngledPocket():
                return f"Ø{show_mm(shape.diameter)} at {shape.angle_deg:g}°{down}"

    def call_out(self, shapes: list[Shape], most: int = 3) -> str:
        """Return what is cut in one place, each size counted: `4 × Ø8 ↧13, 1 × Ø5 ↧10`."""
        counted: dict[str, int] = {}
        for shape in shapes:
            size = self.size(shape)
            counted[size] = counted.get(size, 0) + 1
        told = [f"{n} × {size}" if n > 1 else size for size, n in counted.items()]
        more = len(told) - most
        return ", ".join(told[:most]) + (f" and {more} more" if more > 0 else "")
