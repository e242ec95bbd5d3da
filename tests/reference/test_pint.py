"""Source: pint 0.26, a library of units.

Where: its `inch`, in exact arithmetic.
"""

from __future__ import annotations

import pint
import pytest

from storyrod.measure.length import Unit, parse_length

UNITS = pint.UnitRegistry()


def test_every_sixty_fourth_of_four_inches_agrees_with_a_unit_library() -> None:
    for parts in [*range(1, 257), 1512, 6144]:
        mm = (parts / 64 * UNITS.inch).to("mm").magnitude
        assert parse_length(f"{parts}/64", Unit.INCH) == pytest.approx(mm, abs=1e-9), parts
