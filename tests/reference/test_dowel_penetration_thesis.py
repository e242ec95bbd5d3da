"""Source: The effect of dowel diameter and dowel penetration on joint strength, MSc thesis, Michigan State University,
1959.

Where: its finding: a longer dowel is never weaker, and in the end the dowel itself tears. Row E12.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.trade.strength import (
    DOWEL_TENSILE_N_MM2,
    dowel_withdrawal_n,
)


@given(length=st.floats(5, 60), more=st.floats(0.1, 30), diameter=st.floats(5, 12))
def test_e12_a_longer_dowel_is_never_weaker_and_breaks_in_the_end(length: float, more: float, diameter: float) -> None:
    short, long = (dowel_withdrawal_n(4.9, diameter, n, DOWEL_TENSILE_N_MM2) for n in (length, length + more))
    torn = DOWEL_TENSILE_N_MM2 * math.pi * diameter**2 / 4

    assert short <= long <= torn * (1 + 1e-9)
    assert dowel_withdrawal_n(4.9, diameter, 1000, DOWEL_TENSILE_N_MM2) == pytest.approx(torn)
