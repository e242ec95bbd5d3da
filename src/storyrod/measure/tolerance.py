"""The one set of tolerances of the project, in mm."""

from typing import Final

EXACT: Final = 1e-6
"""Two places closer than this are the same place; mates' axes agree to this in the case frame."""

TOUCH: Final = 1e-4
"""Two surfaces closer than this touch."""


def same(a: float, b: float, tolerance: float = EXACT) -> bool:
    """Return whether two lengths are the same within `tolerance`."""
    return abs(a - b) <= tolerance


def rounded_to(value: float, step: float) -> float:
    """Return `value` at the nearest whole number of `step`s, halves up, free of float dust."""
    steps = (value + step * 1e-9) / step + 0.5
    return round(int(steps // 1) * step, 9)
