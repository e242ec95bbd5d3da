"""Source: How much space should be between drawers, an engineering how-to site.

Where: its text (page not noted): 3 mm (1/8 in) between fronts.
"""

from __future__ import annotations

import pytest

from storyrod.measure.length import nearest_fraction, parse_length, show_inches
from storyrod.model.job import Fronts


def test_fronts_leave_3_between_them() -> None:
    assert Fronts().gap == 3


def test_3_mm_and_an_eighth_of_an_inch_are_printed_side_by_side() -> None:
    assert parse_length('1/8"') == pytest.approx(3.0, abs=0.2)
    assert show_inches(float(nearest_fraction(3.0, 16)) * 25.4, 16) == '1/8"'
