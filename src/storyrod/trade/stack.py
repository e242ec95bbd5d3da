"""How errors add up: worst case and root of the sum of squares; `model.simulation` throws them.

Errors that share a cause (two sides from one sheet) are added before they are squared. Sources: two explanations of
RSS tolerance analysis; the arithmetic is worked out in the tests.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

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
