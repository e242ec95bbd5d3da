"""Source: Uysal, Withdrawal strength of various laminated veneer dowels from composite materials, Wood and Fiber
Science.

Where: its results: 2.82 N/mm2 in the edge of chipboard, 7.47 in the face of MDF. Row E10.
"""

from __future__ import annotations

import pytest

from storyrod.trade.strength import (
    DOWEL_IN_BOARD,
    DOWEL_TENSILE_N_MM2,
    dowel_withdrawal_n,
)


@pytest.mark.parametrize(("tau", "diameter", "length", "n"), [(2.82, 8, 25, 1771.9), (7.47, 8, 12, 2252.9)])
def test_e10_dowels_in_board(tau: float, diameter: float, length: float, n: float) -> None:
    assert dowel_withdrawal_n(tau, diameter, length, DOWEL_TENSILE_N_MM2) == pytest.approx(n, abs=0.05)


def test_the_glue_s_strength_in_board_is_that_of_the_tests() -> None:
    """Least and most; the usual one is borrowed from solid wood."""
    assert DOWEL_IN_BOARD == (2.82, 4.9, 7.47)
