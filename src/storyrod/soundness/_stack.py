"""How errors add up: worst case and root of the sum of squares; `model.simulation` throws them.

Errors that share a cause (two sides from one sheet) are added before they are squared. Sources: two explanations of
RSS tolerance analysis; the arithmetic is worked out in the tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from storyrod.model.simulation import SIGMAS, ErrorShape, ErrorTerm, merged


def worst_case(terms: Iterable[ErrorTerm]) -> float:
    """Return the sum of all errors at their worst (+-)."""
    return sum(t.reach for t in merged(terms))


def root_sum_square(terms: Iterable[ErrorTerm]) -> float:
    """Return the root of the sum of squares (+-): what is met but seldom exceeded."""
    return math.sqrt(sum(t.reach**2 for t in merged(terms)))


def deviation(terms: Iterable[ErrorTerm]) -> float:
    """Return the standard deviation of the sum: T / 3 for a normal error, T / sqrt(3) for an even one."""
    return math.sqrt(
        sum((t.reach / (SIGMAS if t.shape is ErrorShape.NORMAL else math.sqrt(3))) ** 2 for t in merged(terms))
    )


def diagonal_difference(width: float, height: float, lean: float) -> float:
    """Return how much longer one diagonal of a box is than the other, when its top leans over by `lean`."""
    return math.hypot(width + lean, height) - math.hypot(width - lean, height)


_LENGTHS: Final = (3.0, 6.0, 30.0, 120.0, 400.0, 1000.0, 2000.0, 4000.0)
_CLASSES: Final[dict[str, tuple[float | None, ...]]] = {
    "f": (0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, None),
    "m": (0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2.0),
    "c": (0.2, 0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 4.0),
    "v": (None, 0.5, 1.0, 1.5, 2.5, 4.0, 6.0, 8.0),
}


def general_tolerance(length: float, grade: str = "m") -> float | None:
    """Return the general tolerance (+- mm) of a length by ISO 2768-1 (five restatements), or None where it has none.

    The upper end of a range belongs to it: 400 is still the lower one's.
    """
    if length < 0.5:
        return None
    place = next((i for i, upper in enumerate(_LENGTHS) if length <= upper), None)
    return None if place is None else _CLASSES[grade][place]
