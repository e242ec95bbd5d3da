"""Source: Engineering economy, a textbook.

Where: appendix A, table 1, the rows at 0.25 %, as they are printed. Row H1.
"""

from __future__ import annotations

import pytest

from storyrod.ledger import capital_recovery


def test_rows_at_a_quarter_percent() -> None:
    """Five printed places: half a unit of the last one."""
    for years, recovery in ((5, 0.20150), (10, 0.10138), (12, 0.08469), (25, 0.04131)):
        assert capital_recovery(0.0025, years) == pytest.approx(recovery, abs=0.000005), years
