"""Source: Calculating wood movement, a magazine's table, 2021.

Where: the row of red alder, its coefficient rounded to 0.0026. Row A4.
"""

from __future__ import annotations

import pytest

from storyrod.trade.moisture import movement
from storyrod.trade.woods import change_of


def test_a4_red_alder() -> None:
    assert movement(8, 0.0026, 6, 12) == pytest.approx(0.1248)
    assert movement(8, change_of("red alder")[1], 6, 12) == pytest.approx(0.12288)
