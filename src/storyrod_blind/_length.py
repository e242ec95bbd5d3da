"""Lengths as they are printed: millimetres, inch fractions, decimal inches; exact, with the unit that was said."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache

MM_PER_INCH = Fraction(254, 10)  # the international inch, 25.4 mm exactly

LENGTH = r"\d+ \d+/\d+(?:\"| in)|\d+/\d+(?:\"| in)|\d+(?:\.\d+)?(?:\"| in\b| mm\b)?"
"""One length: whole and fraction, fraction, or decimal, with the unit that is written beside it, if any."""

_PARTS = re.compile(r"^(?:(\d+(?:\.\d+)?)(?: (\d+)/(\d+))?|(\d+)/(\d+)) ?(\"|in|mm)?$")
_SPAN = re.compile(rf"^({LENGTH}) to ({LENGTH})$")


class Unit(StrEnum):
    """What a figure is in."""

    MM = "mm"
    INCH = "in"


@dataclass(frozen=True, slots=True)
class Length:
    """A length as it is printed.

    Attributes:
        mm: its value in millimetres, exact.
        unit: what it was read in.
        is_said: whether the unit is written beside the figure, and not taken from the page.
        is_decimal: whether it is written with a decimal point, and not as a whole figure or a fraction.
    """

    mm: Fraction
    unit: Unit
    is_said: bool
    is_decimal: bool = False


@dataclass(frozen=True, slots=True)
class Span:
    """From where to where something goes; both the same for a place."""

    low: Length
    high: Length

    @property
    def middle(self) -> Fraction:
        """Half way, in mm."""
        return (self.low.mm + self.high.mm) / 2

    @property
    def width(self) -> Fraction:
        """From low to high, in mm."""
        return self.high.mm - self.low.mm


class UnreadError(ValueError):
    """A figure or phrase that cannot be read."""


@lru_cache(maxsize=10_000)
def read_length(text: str, page_unit: Unit) -> Length:
    """Return a printed length; a bare figure is in the unit of its page.

    Raises:
        UnreadError: it is no length.
    """
    match = _PARTS.match(text.strip())
    if match is None:
        raise UnreadError(f"no length: {text!r}")
    whole, top, bottom, only_top, only_bottom, mark = match.groups()
    value = Fraction(only_top) / Fraction(only_bottom) if only_top else Fraction(whole)
    if top:
        value += Fraction(int(top), int(bottom))
    unit = {'"': Unit.INCH, "in": Unit.INCH, "mm": Unit.MM, None: page_unit}[mark]
    return Length(value * (MM_PER_INCH if unit is Unit.INCH else 1), unit, mark is not None, "." in text)


def read_span(text: str, page_unit: Unit) -> Span:
    """Return a printed place, `50`, or stretch, `282.3 to 300`.

    Raises:
        UnreadError: it is neither.
    """
    match = _SPAN.match(text.strip())
    if match is None:
        at = read_length(text, page_unit)
        return Span(at, at)
    return Span(read_length(match[1], page_unit), read_length(match[2], page_unit))


def unit_said(text: str) -> Unit | None:
    """Return the unit that words say, `in millimetres` or `in inches`, if they say one."""
    plain = " ".join(text.split())
    if re.search(r"\bin inches\b", plain):
        return Unit.INCH
    if re.search(r"\bin (?:millimetres|mm)\b", plain):
        return Unit.MM
    return None
