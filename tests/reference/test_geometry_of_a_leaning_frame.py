"""Source: plane geometry of a leaning frame, worked by hand.

Where: no book: the diagonals of a w by h frame that leans s over its height differ by the root of (w + s)^2 + h^2 less
the root of (w - s)^2 + h^2. Row F6.
"""

from __future__ import annotations

import pytest

from storyrod.trade.square import diagonal_difference


def test_f6_diagonals_of_three_frames_that_lean() -> None:
    assert diagonal_difference(600, 800, 1) == pytest.approx(1.200, abs=0.001)
    assert diagonal_difference(900, 2000, 2) == pytest.approx(1.641, abs=0.001)
    assert diagonal_difference(560, 720, 0.5) == pytest.approx(0.614, abs=0.001)
