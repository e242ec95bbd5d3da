"""Source: plane geometry of a leaning frame, F6: the diagonals of a w by h frame that leans s over its height differ by
the root of (w + s)^2 + h^2 less the root of (w - s)^2 + h^2, about 2ws over the root of w^2 + h^2.
"""

from __future__ import annotations

import math

import pytest

from storyrod.trade.square import diagonal_difference


@pytest.mark.parametrize(
    ("width", "height", "lean", "expected"), [(600, 800, 1, 1.200), (900, 2000, 2, 1.641), (560, 720, 0.5, 0.614)]
)
def test_f6(width: float, height: float, lean: float, expected: float) -> None:
    found = diagonal_difference(width, height, lean)

    assert found == pytest.approx(expected, abs=0.001)
    assert found == pytest.approx(2 * width * lean / math.hypot(width, height), rel=1e-3)
