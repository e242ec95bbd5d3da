"""What levelling feet carry, where a base on them spans, and about which line the case tips; sums by hand."""

from __future__ import annotations

import pytest

from storyrod.model.soundness import Rest
from tests.unit.soundness.pieces import Found, found

CASE = """
[[cases]]
code = "A"
board = "mdf18"
width = 836
height = 900
depth = 400
[cases.feet]
height = 100
"""


def on_feet(more: str = "") -> Found:
    return found(CASE + more)


def test_half_of_the_feet_carry_it_all() -> None:
    of = on_feet("apart = 1500\n")

    feet = of.case.feet
    assert feet is not None
    assert (feet.count, feet.may_kg, feet.kg) == (4, 100, of.case.weights.loaded_kg)
    assert feet.each_kg == pytest.approx(feet.kg / 2)
    assert feet.enough == -(-feet.kg // 50)
    assert not feet.overloaded


def test_a_foot_that_carries_too_much_is_told() -> None:
    of = on_feet("apart = 1500\n[cases.inside]\nload_kg = 260\n")

    assert of.case.feet is not None
    assert of.case.feet.overloaded
    assert "feet-overloaded" in of.codes


def test_the_base_spans_from_foot_to_foot() -> None:
    """Feet at 48 and 788, one more between them at 418: 370 apart at the most."""
    base = on_feet().sag("base")

    assert [r.x for r in base.rests if r.by is Rest.FEET] == pytest.approx([48, 418, 788])
    assert base.span <= 370


def test_it_tips_about_its_front_feet() -> None:
    """50 back, 18 of board, 30 to the foot: 98 behind the front."""
    assert on_feet().tipping.pivot == 98
    assert on_feet().tipping.rear == 355
