"""Source: Engineering Economic Analysis, a textbook.

Where: appendix of compound interest tables, p. 585, the rows at 35 %, as they are printed. Row H1.
"""

from __future__ import annotations

import pytest

from storyrod.ledger import capital_recovery


def test_rows_at_35_percent() -> None:
    """Four printed places: half a unit of the last one."""
    for years, recovery in ((2, 0.7755), (3, 0.5897), (5, 0.4505), (10, 0.3683)):
        assert capital_recovery(0.35, years) == pytest.approx(recovery, abs=0.00005), years
