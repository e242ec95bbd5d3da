"""Source: worked answer of a NIOSH lifting exercise.

Where: its answer: H 20 in, V 6 in, D 16 in, fair grip: 18.4 to 18.6 lb. Row I6.
"""

from __future__ import annotations

import pytest

from storyrod.trade.lifting import (
    Grip,
    recommended_kg,
)

INCH, LB = 2.54, 0.45359237


def test_i6_a_worked_exercise() -> None:
    """H 20 in, V 6 in, D 16 in, fair grip: HM 0.50, VM 0.82, DM 0.93; 18.4 to 18.6 lb, by rounded pounds."""
    found = recommended_kg(away_cm=20 * INCH, height_cm=6 * INCH, travel_cm=16 * INCH, grip=Grip.FAIR)

    assert found / LB == pytest.approx(18.5, rel=0.025)
