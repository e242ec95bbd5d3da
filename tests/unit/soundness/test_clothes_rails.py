"""Clothes rails: the tube's sag and stress, what its sockets' screws carry, and where its load goes; sums by hand."""

from __future__ import annotations

import math

import pytest

from storyrod.model.fitting import RailMaterial
from storyrod.model.soundness import CaseSoundness
from storyrod.trade.tube import MATERIALS, area_mm2, bending_n_mm2, inertia_mm4
from tests.unit.soundness.pieces import examined

BOARDS = """
[boards.chip19]
kind = "faced chipboard"
thickness = 19
measured = 19.1
density_kg_m3 = 650
"""


def wardrobe(rail: str, *, width: float = 938.2, more: str = "", kind: str = "faced chipboard") -> CaseSoundness:
    """Examine a wardrobe, 900 clear unless said, with a rail in it."""
    text = f"""
[[cases]]
code = "A"
board = "chip19"
width = {width}
height = 1800
depth = 620
plinth = {{ height = 80 }}
[cases.inside]
rows = [{{ height = 300 }}, {{ clothes_rail = {rail}{more} }}]
"""
    return examined(text, BOARDS.replace("faced chipboard", kind)).cases[0]


def codes(found: CaseSoundness) -> set[str]:
    return {c.code for c in found.cautions if c.code.startswith("clothes-rail")}


def test_a_tube_of_25_by_1_under_36_kg_by_hand() -> None:
    """I = pi (25^4 - 23^4) / 64 = 5438 mm4, A = 75.4 mm2; 896 mm long it weighs 0.530 kg.

    W = (36 + 0.530) 9.80665 = 358.2 N; 5 W 900^3 / (384 x 210000 x 5438) = 2.977 mm; allowed 900 / 240 = 3.75.
    M = W x 900 / 8 = 40301 N mm, over 5438 / 12.5: 92.6 N/mm2; 235 / 1.5 may be used.
    """
    (rail,) = wardrobe("{}").rails

    assert (rail.load_kg, rail.span) == pytest.approx((36.0, 900.0))
    assert rail.own_kg == pytest.approx(0.530, abs=0.001)
    assert rail.at_once == rail.lasting == pytest.approx(2.977, abs=0.005)
    assert rail.limit == pytest.approx(3.75)
    assert (rail.stress_n_mm2, rail.usable_n_mm2) == pytest.approx((92.6, 156.7), abs=0.2)
    assert not rail.bends_too_much


def test_each_of_two_screws_takes_a_quarter_and_may_carry_less_than_it_holds() -> None:
    """358.2 / 4 = 89.6 N; 18 less a seat of 2 is 16: 0.4 x 41.15 x 16 x 2.933 = 772 N, times 0.45 / 1.3 / 1.5."""
    (rail,) = wardrobe("{}").rails

    assert (rail.screw, rail.bite, rail.screws) == ("pan-head screw 4 x 18", 16.0, 2)
    assert rail.each_n == pytest.approx(89.6, abs=0.1)
    assert (rail.holds_n, rail.usable_n) == pytest.approx((772, 178.2), abs=1)
    assert rail.used == pytest.approx(0.503, abs=0.002)


def test_a_hardwood_rod_creeps_like_wood() -> None:
    """I = pi 35^4 / 64 = 73662 mm4, E 10000; 0.8 of the load and all of its own lie there: 1 + 0.6 x 0.80."""
    (rail,) = wardrobe('"rod 35"').rails

    whole = (36 + math.pi * 35**2 / 4 * 896 * 700e-9) * 9.80665
    at_once = 5 * whole * 900**3 / (384 * 10_000 * 73_662)
    assert rail.at_once == pytest.approx(at_once, rel=1e-3)
    assert rail.lasting is not None
    assert rail.lasting / rail.at_once == pytest.approx(1.482, abs=0.003)
    assert rail.bends_too_much


@pytest.mark.parametrize(("load", "told"), [(44.0, set()), (46.0, {"clothes-rail-bends"})])
def test_a_tube_that_sags_too_much_is_told(load: float, told: set[str]) -> None:
    """3.75 mm is reached at (W / 358.2) x 2.977: 45.5 kg."""
    assert codes(wardrobe(f"{{ load_kg = {load} }}")) == told


@pytest.mark.parametrize(("load", "told"), [(71.0, set()), (73.0, {"clothes-rail-screws-weak"})])
def test_screws_that_are_too_weak_are_told(load: float, told: set[str]) -> None:
    """Four screws of 178.2 N carry 72.7 kg, 0.3 of it a short, stiff tube's own."""
    found = wardrobe(f"{{ load_kg = {load} }}", width=438.2)

    assert codes(found) == told


def test_what_is_not_known_of_a_board_is_said_so() -> None:
    (rail,) = wardrobe("{}", kind="other").rails

    assert (rail.holds_n, rail.usable_n, rail.used) == (None, None, None)


def test_the_load_is_carried_by_the_sides_and_no_longer_by_the_floor() -> None:
    hung, laid = wardrobe("{ load_kg = 60 }"), wardrobe("{ load_kg = 0 }")

    floor = [next(s for s in f.sags if s.name == "base") for f in (hung, laid)]
    assert floor[0].load_kg == floor[1].load_kg == pytest.approx(0.3 * 9.0 * 6.2, abs=0.01)  # light things
    assert hung.weights.loaded_kg - laid.weights.loaded_kg == pytest.approx(60)


def test_what_you_write_for_the_floor_still_lies_on_it() -> None:
    found = wardrobe("{}", more=", load_kg = 12")

    assert next(s for s in found.sags if s.name == "base").load_kg == pytest.approx(12)


@pytest.mark.parametrize(
    ("material", "figures"),
    [
        (RailMaterial.STEEL, (210_000, 235, 7850, 0.6667)),
        (RailMaterial.ALUMINIUM, (70_000, 140, 2700, 0.6061)),
        (RailMaterial.HARDWOOD, (10_000, 30, 700, 0.3333)),
    ],
)
def test_what_tubes_are_made_of(material: RailMaterial, figures: tuple[float, ...]) -> None:
    made = MATERIALS[material]

    assert (made.stiffness_n_mm2, made.strength_n_mm2, made.density_kg_m3, made.usable) == pytest.approx(
        figures, rel=2e-4
    )


def test_sections_of_tubes_and_rods() -> None:
    assert inertia_mm4(25, 1) == pytest.approx(5438, abs=1)
    assert inertia_mm4(20, None) == pytest.approx(7854, abs=1)
    assert inertia_mm4(20, 15) == inertia_mm4(20, None)  # no wall is thicker than a rod
    assert area_mm2(25, 1) == pytest.approx(75.4, abs=0.05)
    assert bending_n_mm2(40_301, 25, 1) == pytest.approx(92.6, abs=0.1)
