"""Source: Podlena et al., BioResources 13(3), 2018, 5179-5192, and 15(1), 2020, 1665-1677.

Where: their results for hardwood dowels glued in solid wood: 3.0 to 8.6 N/mm2, a single spiral 4.9. Row E10.
"""

from __future__ import annotations

import pytest

from storyrod.trade.strength import (
    DOWEL_IN_WOOD,
    DOWEL_TENSILE_N_MM2,
    dowel_withdrawal_n,
)


def test_e10_a_dowel_in_wood_tears_before_its_glue() -> None:
    """8 x 25 glued at 4.9: 3078.8 N; the dowel itself, at 60 N/mm2 (common practice, no source): 3015.9."""
    assert DOWEL_TENSILE_N_MM2 == 60
    assert dowel_withdrawal_n(4.9, 8, 25) == pytest.approx(3078.8, abs=0.05)
    assert dowel_withdrawal_n(4.9, 8, 25, DOWEL_TENSILE_N_MM2) == pytest.approx(3015.93, abs=0.05)


def test_the_glue_s_strength_in_wood_is_that_of_the_tests() -> None:
    """Least, usual and most."""
    assert DOWEL_IN_WOOD == (3.0, 4.9, 8.6)
