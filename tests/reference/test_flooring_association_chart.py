"""Source: Dimensional change chart of a flooring trade association, publication A200, after Agriculture Handbook 72,
1987.

Where: the column of tangential change, and its example of a mesquite floor, printed as 0.019. Row A3.
"""

from __future__ import annotations

import pytest

from storyrod.trade.moisture import movement
from storyrod.trade.woods import CHANGE, change_of

INCH = 25.4


CHART = {
    # Tangential change for each percent of moisture content, 6 to 14 %.
    "Douglas-fir": (None, 0.00267),
    "southern pine": (None, 0.00265),
    "teak": (None, 0.00186),
    "mesquite": (None, 0.00129),
    "purpleheart": (None, 0.00212),
}


def test_a3_mesquite_floor() -> None:
    """5 in, 6 to 9 %: 0.01935 in; the chart prints 0.019."""
    grown = movement(5 * INCH, change_of("mesquite")[1], 6, 9) / INCH

    assert grown == pytest.approx(0.01935, abs=5e-5)
    assert round(grown, 3) == 0.019


def test_woods_that_the_chart_has_besides() -> None:
    assert {k: CHANGE[k] for k in CHART} == CHART
