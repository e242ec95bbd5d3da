"""Lengths as a maker writes them, and as a rule shows them.

Read: `600`, `600 mm`, `60 cm`, `1.2 m`, `590,5`, `23 5/8"`, `23 5/8 in`, `2' 3 1/2"`, `3/4"`. Shown: millimetres to
the hundredth; inches as a fraction where a rule shows it, else to the ten-thousandth. Writing never rounds to a step:
what is to be a whole step was made one where it was worked out. `measure.writing` is the one way in for words and
pages.
"""

from __future__ import annotations

import math
import re
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import Final

from storyrod.faults import Fault, JobError

MM_PER_INCH: Final = 25.4
"""Exact by the international yard and pound agreement of 1959."""

LONGEST: Final = 20_000.0
"""No length of a cabinet job is longer (mm); a longer one is a slip of the pen."""


class Unit(StrEnum):
    """The unit in which a job is written, shown and printed."""

    MM = "mm"
    INCH = "in"


_NUMBER = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_METRIC = re.compile(rf"^({_NUMBER})\s*(mm|cm|m)?$", re.IGNORECASE)
_FEET = re.compile(r"^(\d+)\s*(?:'|ft|feet)\s*[- ]?\s*(.*)$", re.IGNORECASE)
_INCH = re.compile(rf"^(?:({_NUMBER})|(?:(\d+)[ -]+)?(\d+)\s*/\s*(\d+))\s*(\"|''|in|inch|inches)?$", re.IGNORECASE)
_SCALE: Final = {"mm": 1.0, "cm": 10.0, "m": 1000.0}
_ALLOWED: Final = 'a length such as 600, "60 cm", "590,5", \'23 5/8"\' or "2\' 3 1/2\\""'


def parse_length(written: object, unit: Unit = Unit.MM) -> float:
    """Return the millimetres that a maker wrote; a bare number is in `unit`.

    Raises:
        JobError: one fault without field when it is no length, not finite, or beyond 20 m.
    """
    if isinstance(written, bool) or not isinstance(written, int | float | str):
        raise _no_length(repr(written))
    try:
        value = _from_text(written, unit) if isinstance(written, str) else _from_number(written, unit)
    except OverflowError:  # more digits than a float holds
        value = math.inf
    if not math.isfinite(value):
        raise _no_length("not a number" if math.isnan(value) else "an endless length")
    if abs(value) > LONGEST:
        raise _no_length(f"{value:g} mm, longer than any cabinet")
    return value


def _from_number(written: float, unit: Unit) -> float:
    return float(written) * (MM_PER_INCH if unit is Unit.INCH else 1.0)


def _no_length(found: str) -> JobError:
    return JobError(
        Fault(
            code="length",
            field="",
            found=found,
            allowed=_ALLOWED,
            do="Write the length in one of these ways.",
        )
    )


def _from_text(text: str, unit: Unit) -> float:
    plain = text.strip().replace("\u2033", '"').replace("\u2032", "'").replace("\u201d", '"').replace("\u2019", "'")
    sign = -1.0 if plain.startswith("-") else 1.0
    plain = plain.removeprefix("-" if sign < 0 else "+").strip()
    metric = _METRIC.match(plain)
    if metric and (metric[2] or unit is Unit.MM):
        return sign * _decimal(metric[1]) * _SCALE[(metric[2] or "mm").lower()]
    feet = _FEET.match(plain)
    if feet and not plain.endswith("''"):
        inches = _inches(feet[2]) if feet[2].strip() else Fraction(0)
        if inches is not None:
            return sign * float(int(feet[1]) * 12 + inches) * MM_PER_INCH
    inches = _inches(plain)
    if inches is not None and (unit is Unit.INCH or re.search(r"(\"|''|in|inch|inches)$", plain, re.IGNORECASE)):
        return sign * float(inches) * MM_PER_INCH
    raise _no_length(f'"{text[:40]}"')


def _decimal(text: str) -> float:
    return float(text.replace(",", "."))


def _inches(text: str) -> Fraction | None:
    match = _INCH.match(text.strip())
    if match is None:
        return None
    if match[1]:
        return Fraction(match[1].replace(",", "."))
    if int(match[4]) == 0:
        return None
    return Fraction(int(match[2] or 0)) + Fraction(int(match[3]), int(match[4]))


def nearest_fraction(mm: float, parts: int = 32) -> Fraction:
    """Return the length in inches at the nearest 1/`parts` inch (halves up)."""
    return Fraction(math.floor(mm / MM_PER_INCH * parts + 0.5 + 1e-9), parts)


FINEST: Final = 64
"""The finest parts of an inch on a workshop's rule."""

_PLACES: Final = 4
_DIGIT: Final = 10**_PLACES
"""An inch is written to the ten-thousandth, so that sums of written figures come out: a thirty-second is 31.25
thousandths, and a fraction and a figure in thousandths have no sum that thousandths hold."""

_FEWEST_PLACES: Final = 3
"""Decimal inches keep this many places, as a calliper shows them; only what is finer loses its noughts."""

HALF_DIGIT_MM: Final = 0.005
"""Half the last digit of a length that is written in millimetres (mm)."""

HALF_DIGIT_INCH: Final = MM_PER_INCH / _DIGIT / 2
"""Half the last digit of a length that is written in inches (mm); a figure nearer than this to a line of the rule is
that line's."""


def show_inches(mm: float, parts: int = 32) -> str:
    """Return the length in inches: `23 5/8"` where a rule shows it, else to the ten-thousandth, `0.7087"`, `0.697"`.

    A rule shows it where it is a whole number of 1/`parts` inch, or of 1/64, to half a ten-thousandth. Nothing else is
    made to fit a fraction: what is written is the figure itself.
    """
    size = abs(mm)
    for of in (parts, FINEST):
        value = nearest_fraction(size, of)
        if abs(float(value) * MM_PER_INCH - size) <= HALF_DIGIT_INCH:
            return f'{_sign(mm, value)}{_mixed(value)}"'
    digits = _inch_digits(size)
    whole, rest = divmod(digits, _DIGIT)
    decimals = f"{rest:0{_PLACES}d}"
    decimals = decimals[:_FEWEST_PLACES] + decimals[_FEWEST_PLACES:].rstrip("0")
    return f'{_sign(mm, digits)}{whole}.{decimals}"'


def read_from_inches(mm: float, parts: int = 32) -> float:
    """Return the length (mm) that someone sets who reads what `show_inches` wrote."""
    size = abs(mm)
    for of in (parts, FINEST):
        read = math.floor(size / MM_PER_INCH * of + 0.5 + 1e-9) / of * MM_PER_INCH
        if abs(read - size) <= HALF_DIGIT_INCH:
            return math.copysign(round(read, 6), mm)
    return math.copysign(round(_inch_digits(size) * MM_PER_INCH / _DIGIT, 6), mm)


def read_from_mm(mm: float) -> float:
    """Return the length (mm) that someone sets who reads what `show_mm` wrote to the hundredth."""
    return math.copysign(math.floor(abs(mm) * 100 + 0.5 + 1e-6) / 100, mm)


def _inch_digits(mm: float) -> int:
    return math.floor(mm / MM_PER_INCH * _DIGIT + 0.5 + 1e-6)


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    shown = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {shown}" if whole else shown


def _sign(mm: float, shown: float | Fraction) -> str:
    return "-" if mm < 0 and shown else ""


@lru_cache(maxsize=4096)
def show_mm(mm: float, decimals: int = 2) -> str:
    """Return the length in millimetres to the hundredth, halves away from 0, without trailing zeros: `590.5`, `600`."""
    scale = 10**decimals
    steps = math.floor(abs(mm) * scale + 0.5 + 1e-6)
    whole, rest = divmod(steps, scale)
    shown = f"{whole}.{rest:0{decimals}d}".rstrip("0") if rest else str(whole)
    return f"{_sign(mm, steps)}{shown}"


def show_length(mm: float, unit: Unit = Unit.MM, parts: int = 32) -> str:
    """Return the length in the job's unit, with the inch mark for inches and no unit for mm."""
    return show_inches(mm, parts) if unit is Unit.INCH else show_mm(mm)
