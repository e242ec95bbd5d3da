"""Source: worked solution of a time-study exercise.

Where: its three elements of a pilot of ten: t 2.262, accuracy of 10 %, 53 timings. Row G10.
"""

from __future__ import annotations

import math

import pytest

from storyrod.ledger import timings_needed


@pytest.mark.parametrize(
    ("deviation", "mean", "exact", "whole"), [(0.16, 0.5, 52.39, 53), (0.30, 1.2, 31.98, 32), (0.07, 0.4, 15.67, 16)]
)
def test_three_elements_of_a_pilot_of_ten(deviation: float, mean: float, exact: float, whole: int) -> None:
    """The worked solution: t for ten timings is 2.262, accuracy +-10 %; 53 timings serve all three elements."""
    needed = timings_needed(mean, deviation, 2.262, 0.10)

    assert needed == pytest.approx(exact, abs=0.02)
    assert math.ceil(needed) == whole
