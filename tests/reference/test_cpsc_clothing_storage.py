"""Source: Clothing Storage Units business guidance, US Consumer Product Safety Commission, on 87 FR 72598, 2022.

Where: its figure of what fills a drawer: 8.5 lb/ft3. Row D1.
"""

from __future__ import annotations

import pytest

from storyrod.model.thresholds import Thresholds

FILL = 40e-3 * Thresholds().fill_kg_m3


def test_d1_what_fills_a_drawer() -> None:
    """8.5 lb/ft3 is 136.157 kg/m3; the row rounds it to 136.2: 5.448 kg in 40 dm3."""
    assert Thresholds().fill_kg_m3 == pytest.approx(136.157, abs=0.05)
    assert pytest.approx(5.448, abs=0.003) == FILL
