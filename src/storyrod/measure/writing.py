"""The one way a length is written: on every page, card, drawing and file, in a fault and in a caution.

A job has one writer (`job.lengths`); whatever puts a length into words takes it and asks it. So one packet has one
unit, and the same figure reads the same wherever it is written. `docs/conventions.md` says which rule is for what.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from storyrod.measure.length import (
    HALF_DIGIT_INCH,
    HALF_DIGIT_MM,
    MM_PER_INCH,
    Unit,
    nearest_fraction,
    read_from_inches,
    read_from_mm,
    show_inches,
    show_mm,
)

_BOUGHT_PARTS: Final = 64
"""Bits, drills and boards sold by the inch come in sixty-fourths at the finest."""

_DUST: Final = 1e-6
"""What is this near to a written figure (mm) is that figure."""


@dataclass(frozen=True, slots=True)
class LengthWriter:
    """Writes lengths (mm) in one unit.

    Attributes:
        fraction: the parts of an inch of the job's rule; a figure between its lines is written in decimals.
    """

    unit: Unit = Unit.MM
    fraction: int = 32

    @property
    def is_inch(self) -> bool:
        """Whether it writes inches."""
        return self.unit is Unit.INCH

    def n(self, mm: float) -> str:
        """Return a figure for a page that says its unit once: `590.5`, or `23 5/8"`."""
        return show_inches(mm, self.fraction) if self.is_inch else show_mm(mm)

    def printed(self, mm: float) -> float:
        """Return the length (mm) that someone sets who reads the written figure: within half its last digit."""
        return read_from_inches(mm, self.fraction) if self.is_inch else read_from_mm(mm)

    @property
    def half_digit(self) -> float:
        """Half the last digit that is written (mm): by so much a written figure may differ from its length."""
        return HALF_DIGIT_INCH if self.is_inch else HALF_DIGIT_MM

    def bare(self, mm: float) -> str:
        """Return a figure without any sign of its unit, for a drawing that says it once: `590.5`, or `23 5/8`."""
        return self.n(mm).rstrip('"')

    def told(self, mm: float) -> str:
        """Return a figure with its unit, for a sentence: `590.5 mm`, or `23 5/8"`."""
        return self.n(mm) if self.is_inch else f"{show_mm(mm)} mm"

    def told_least(self, mm: float) -> str:
        """Return a least length with its unit, never written less than it is: the written figure will do."""
        return self.told(mm if self.printed(mm) >= mm - _DUST else mm + 2 * self.half_digit)

    def told_most(self, mm: float) -> str:
        """Return a greatest length with its unit, never written more than it is."""
        return self.told(mm if self.printed(mm) <= mm + _DUST else mm - 2 * self.half_digit)

    def size(self, *sides: float) -> str:
        """Return sides as on a page that says its unit once: `590 \u00d7 300`."""
        return " \u00d7 ".join(self.n(side) for side in sides)

    def told_size(self, *sides: float) -> str:
        """Return sides with their unit: `590 \u00d7 300 mm`, or `23 1/4" \u00d7 12"`."""
        return self.size(*sides) if self.is_inch else f"{self.size(*sides)} mm"

    def bought(self, mm: float) -> str:
        """Return the trade size of a bought thing, always with its unit: `8 mm`, or `1/4"` where it is sold so.

        Bits, drills, dowels, runners and boards keep the size they are asked for by, whatever the job's unit.
        """
        fraction = sold_by_inch(mm) if self.is_inch else None
        return show_inches(mm, _BOUGHT_PARTS) if fraction is not None else f"{show_mm(mm)} mm"

    def bought_n(self, mm: float) -> str:
        """Return a trade size for a page that says its unit once: `8` in a mm job, `8 mm` in an inch job."""
        return self.bought(mm) if self.is_inch else show_mm(mm)

    def seen_n(self, mm: float) -> str:
        """Return a figure that is looked at, not set to (the outside on a cover, an opening on an elevation).

        To 0.1 mm; in inches a fraction where it is one, else to 0.01. For a page that says its unit once.
        """
        if not self.is_inch:
            return show_mm(mm, 1)
        exact = show_inches(mm, self.fraction)
        return f'{mm / MM_PER_INCH:.2f}"' if "." in exact else exact

    def seen_size(self, *sides: float) -> str:
        """Return the sides of what is looked at, for a page that says its unit once: `600.1 \u00d7 300`."""
        return " \u00d7 ".join(self.seen_n(side) for side in sides)

    def told_seen_size(self, *sides: float) -> str:
        """Return the sides of what is looked at, with their unit: `600.1 \u00d7 300 mm`, or `23.63" \u00d7 12"`."""
        return self.seen_size(*sides) if self.is_inch else f"{self.seen_size(*sides)} mm"

    def outcome_n(self, mm: float) -> str:
        """Return a size that a cutter makes and nobody sets (a disc's chord): to 0.1 mm, or 0.01 in; unit said once."""
        return f'{mm / MM_PER_INCH:.2f}"' if self.is_inch else show_mm(mm, 1)

    def about(self, mm: float) -> str:
        """Return an estimate (a sag, a movement, an error to expect) with its unit: `2.3 mm`, or `0.09"`."""
        return self.about_n(mm) if self.is_inch else f"{self.about_n(mm)} mm"

    def about_n(self, mm: float) -> str:
        """Return an estimate for a page that says its unit once: `2.3`, or `0.09"`."""
        return f'{mm / MM_PER_INCH:.2f}"' if self.is_inch else f"{mm:.1f}"

    @property
    def word(self) -> str:
        """The unit as a column's head says it: `mm`, or `in`."""
        return self.unit.value

    @property
    def named(self) -> str:
        """The unit within a sentence: `millimetres`, or `inches`."""
        return "inches" if self.is_inch else "millimetres"

    @property
    def said(self) -> str:
        """The sentence that says the unit, once a page or view."""
        if self.is_inch:
            return "Lengths in inches: a fraction where a rule shows it, decimals where it does not."
        return "Lengths in millimetres."

    @property
    def explained(self) -> str:
        """The sentence that says the unit, and in inches how decimals are to be read: once a packet, and at the bench.

        Nobody sets a fourth place; without it sums of fractions and thousandths do not come out as printed.
        """
        if self.is_inch:
            return (
                f"{self.said} Set decimals to the thousandth; the fourth place is only there so that printed "
                f"figures add up."
            )
        return self.said


def sold_by_inch(mm: float) -> Fraction | None:
    """Return the size in inches where it is sold by the inch: a whole number of 1/64 and of no half millimetre."""
    fraction = nearest_fraction(mm, _BOUGHT_PARTS)
    is_exact = abs(float(fraction) * MM_PER_INCH - mm) < 1e-3
    return fraction if is_exact and abs(mm * 2 - round(mm * 2)) > 1e-3 else None


METRIC: Final = LengthWriter()
"""The writer where no job says otherwise: millimetres."""
