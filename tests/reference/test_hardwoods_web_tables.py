"""Source: web tables that restate the Wood Handbook: Tree Species Strength Properties, and Modulus of Rupture of Common
Wood.

Where: their rows of hardwoods; walnut, yellow-poplar, and in part sugar maple and both oaks, from memory. Rows A1 and
A2.
"""

from __future__ import annotations

import pytest

from storyrod.trade.woods import SPECIES, is_softwood

HARDWOODS = {
    # Specific gravity, bending strength in MPa, bending modulus in GPa.
    "ash, white": (0.60, 103, 12.0),
    "beech, American": (0.64, 103, 11.9),
    "birch, yellow": (0.62, 114, 13.9),
    "birch, paper": (0.55, 85, 11.0),
    "cherry, black": (0.50, 85, 10.3),
    "maple, red": (0.54, 92, 11.3),
    "maple, sugar": (0.63, 109, 12.6),
    "oak, northern red": (0.63, 99, 12.5),
    "oak, white": (0.68, 105, 12.3),
    "walnut, black": (0.55, 101, 11.6),
    "yellow-poplar": (0.42, 70, 10.9),
}


def test_a1_hardwoods_are_those_of_the_tables() -> None:
    species = {s.name: s for s in SPECIES}
    for name, (gravity, strength, stiffness) in HARDWOODS.items():
        assert species[name].gravity == pytest.approx(gravity, abs=0.01)
        assert species[name].strength_n_mm2 == pytest.approx(strength, rel=0.02)
        assert species[name].stiffness_n_mm2 == pytest.approx(stiffness * 1000, rel=0.02)
    assert {n for n in species if not is_softwood(n)} == set(HARDWOODS)


def test_a2_pounds_to_the_square_inch() -> None:
    beech = next(s for s in SPECIES if s.name == "beech, American")

    assert beech.stiffness_n_mm2 == pytest.approx(11_859, rel=0.005)  # 1.72e6 psi
