"""Source: a trade page on packers under a tool's base.

Where: its text (page not noted): tool's base b, centre c: b - c under the work, c - b under the tool; worked by hand
in each case.
"""

from __future__ import annotations

import pytest

from storyrod.trade.bush import (
    packer_for_base,
)


@pytest.mark.parametrize(
    ("base", "centre", "packer"), [(10, 9, 1), (8, 11, -3), (9.5, 17.6 / 2, 0.7), (9, 18 / 2, 0), (9, 22 / 2, -2)]
)
def test_packers_of_the_trade_page(base: float, centre: float, packer: float) -> None:
    """Tool's base b, centre c: b - c under the work, c - b under the tool; t 17.6, b 9.5 gives 0.7."""
    assert packer_for_base(base, centre) == pytest.approx(packer)
