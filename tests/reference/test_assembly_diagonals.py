"""Source: plane geometry of a leaning frame, F6: the diagonals of a w by h frame that leans s over its height differ by
the root of (w + s)^2 + h^2 less the root of (w - s)^2 + h^2, about 2ws over the root of w^2 + h^2.
"""

from __future__ import annotations

import math

import pytest

from storyrod.assembly._squares import difference


@pytest.mark.parametrize(
    ("width", "height", "lean", "expected"), [(600, 800, 1, 1.200), (900, 2000, 2, 1.641), (560, 720, 0.5, 0.614)]
)
def test_f6(width: float, height: float, lean: float, expected: float) -> None:
    assert difference(width, height, lean) == pytest.approx(expected, abs=0.001)
    assert difference(width, height, lean) == pytest.approx(2 * width * lean / math.hypot(width, height), rel=1e-3)


def test_lean_is_told_from_both_diagonals() -> None:
    """(D1^2 - D2^2) / 4w gives the lean back, exactly."""
    long, short = math.hypot(600 + 1, 720), math.hypot(600 - 1, 720)

    assert (long**2 - short**2) / (4 * 600) == pytest.approx(1.0)
