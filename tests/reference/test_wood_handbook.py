"""Source: Wood Handbook: Wood as an Engineering Material, FPL-GTR-190, USDA Forest Service, 2010.

Where: tables 4-2, 5-3a and 13-5 as printed; the change formula of chapter 13 (as a US cooperative extension service
restates it); chapter 8, form of the screw's formula, and chapter 9, k_b and k_s (constants from memory; metric and inch
agree); the formula of table 4-2 from memory, within 0.06 of it. Rows A1, A5 to A8, A10 to A13, E2, E5.
"""

from __future__ import annotations

import math

import pytest

from storyrod.faults import JobError
from storyrod.model.job import Use
from storyrod.soundness._beam import Line, PointLoad, Spread, Support, bend
from storyrod.soundness._span import Held, sag
from storyrod.trade.growth import room_for_growth, wood_growth
from storyrod.trade.moisture import in_range, moisture_content, movement
from storyrod.trade.strength import (
    END_GRAIN,
    OVEN_DRY,
    screw_withdrawal_n,
)
from storyrod.trade.woods import CHANGE, SPECIES, UNNAMED_CHANGE, UNNAMED_WOOD_N_MM2, change_of, is_softwood

TABLE_5_3A = {
    # Specific gravity, bending strength in MPa, bending modulus in GPa.
    "pine, ponderosa": (0.40, 65, 8.9),
    "pine, red": (0.46, 76, 11.2),
    "pine, shortleaf": (0.51, 90, 12.1),
    "pine, slash": (0.59, 112, 13.7),
    "pine, sugar": (0.36, 57, 8.2),
    "pine, Virginia": (0.48, 90, 10.5),
    "pine, western white": (0.35, 67, 10.1),
    "redwood, old-growth": (0.40, 69, 9.2),
    "redwood, young-growth": (0.35, 54, 7.6),
}


TABLE_13_5 = {
    # Change for each percent of moisture content, radial and tangential, 6 to 14 %.
    "alder, red": (0.00151, 0.00256),
    "ash, white": (0.00169, 0.00274),
    "aspen, quaking": (0.00119, 0.00234),
    "basswood": (0.00230, 0.00330),
    "beech, American": (0.00190, 0.00431),
    "birch, paper": (0.00219, 0.00304),
    "birch, yellow": (0.00256, 0.00338),
    "butternut": (0.00116, 0.00223),
    "cherry, black": (0.00126, 0.00248),
    "chestnut, American": (0.00116, 0.00234),
    "elm, American": (0.00144, 0.00338),
    "maple, red": (0.00137, 0.00289),
    "maple, sugar": (0.00165, 0.00353),
    "maple, silver": (0.00102, 0.00252),
    "oak, red": (0.00158, 0.00369),
    "oak, white": (0.00180, 0.00365),
    "oak, live": (0.00230, 0.00338),
    "sweetgum": (0.00183, 0.00365),
    "sycamore": (0.00172, 0.00296),
    "walnut, black": (0.00190, 0.00274),
    "hickory, pecan": (0.00169, 0.00315),
    "locust, black": (0.00158, 0.00252),
}


def test_a1_pines_and_redwood_are_those_of_table_5_3a() -> None:
    species = {s.name: s for s in SPECIES}
    for name, (gravity, strength, stiffness) in TABLE_5_3A.items():
        assert species[name].gravity == pytest.approx(gravity, abs=0.01)
        assert species[name].strength_n_mm2 == pytest.approx(strength, rel=0.02)
        assert species[name].stiffness_n_mm2 == pytest.approx(stiffness * 1000, rel=0.02)
    assert {n for n in species if is_softwood(n)} == set(TABLE_5_3A)


def test_a5_white_fir_of_the_handbooks_own_example() -> None:
    """232 mm, flat-grained, 8 to 11 %: 1.705 mm (9.15 in: 0.0673 in); from memory."""
    coefficient = change_of("white fir")[1]

    assert movement(232, coefficient, 8, 11) == pytest.approx(1.705, abs=0.001)
    assert movement(9.15, coefficient, 8, 11) == pytest.approx(0.0673, abs=1e-4)


def test_a6_red_oak_flat_and_quartered() -> None:
    radial, tangential = CHANGE["oak, red"]
    assert radial is not None

    assert movement(300, tangential, 6, 12) == pytest.approx(6.642)
    assert movement(300, radial, 6, 12) == pytest.approx(2.844)


def test_a7_beech_shrinks() -> None:
    assert movement(400, change_of("beech")[1], 12, 8) == pytest.approx(-6.896)


@pytest.mark.parametrize(("start", "end"), [(5.9, 10), (8, 14.1), (20, 8)])
def test_a8_moisture_beyond_6_to_14_percent_is_refused(start: float, end: float) -> None:
    assert not in_range(start, end)
    with pytest.raises(JobError, match="6 to 14 %"):
        movement(300, 0.003, start, end)


def test_a10_a_total_shrinkage_in_percent_is_no_coefficient() -> None:
    """A whole shrinkage is refused as a coefficient."""
    with pytest.raises(JobError, match="not its whole shrinkage"):
        movement(12, 0.0202, 6, 14)


def test_every_table_value_of_change() -> None:
    """Table 13-5; white fir from memory of an example. The rest is a flooring association's."""
    others = {"Douglas-fir", "southern pine", "teak", "mesquite", "purpleheart"}

    assert {k: v for k, v in CHANGE.items() if k not in others} == TABLE_13_5 | {"fir, white": (0.00112, 0.00245)}


@pytest.mark.parametrize(
    ("words", "species"),
    [
        ("red oak lipping", "oak, red"),
        ("white oak", "oak, white"),
        ("oak", "oak, red"),
        ("birch, paper", "birch, paper"),
        ("washed mahogany", ""),
        ("firm maple", "maple, sugar"),
        ("Douglas fir", "Douglas-fir"),
    ],
)
def test_a_name_is_read_by_whole_words_and_the_wood_that_moves_most_is_taken(words: str, species: str) -> None:
    assert change_of(words)[0] == species


def test_tangential_is_always_the_more() -> None:
    assert all(radial is None or radial < tangential for radial, tangential in CHANGE.values())


def test_wood_of_no_name_is_taken_at_its_worst() -> None:
    assert change_of("lipping")[1] == UNNAMED_CHANGE == max(t for _, t in CHANGE.values())
    assert min(s.stiffness_n_mm2 for s in SPECIES) == UNNAMED_WOOD_N_MM2


HUMIDITY = (30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85)


TABLE = {
    -1.1: (6.3, 7.1, 7.9, 8.7, 9.5, 10.4, 11.3, 12.4, 13.5, 14.9, 16.5, 18.5),
    15.6: (6.2, 7.0, 7.8, 8.6, 9.4, 10.2, 11.1, 12.1, 13.3, 14.6, 16.2, 18.2),
    21.1: (6.2, 6.9, 7.7, 8.5, 9.2, 10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 17.9),
    26.7: (6.1, 6.8, 7.6, 8.3, 9.1, 9.9, 10.8, 11.7, 12.9, 14.2, 15.7, 17.7),
}


@pytest.mark.parametrize("temperature_c", TABLE)
def test_a11_table_4_2(temperature_c: float) -> None:
    found = [moisture_content(h, temperature_c) for h in HUMIDITY]

    assert found == pytest.approx(TABLE[temperature_c], abs=0.06)


@pytest.mark.parametrize(("humidity", "percent"), [(30, 6.17), (50, 9.24), (65, 11.96), (80, 15.99)])
def test_a12_in_a_room(humidity: float, percent: float) -> None:
    assert moisture_content(humidity, 21.1) == pytest.approx(percent, abs=0.005)


@pytest.mark.parametrize(
    ("temperature_c", "humidity", "percent"), [(0, 50, 9.519403), (40, 30, 5.714558), (40, 80, 14.953026)]
)
def test_the_formula_by_hand_in_cold_and_heat(temperature_c: float, humidity: float, percent: float) -> None:
    """Far from a room, where each of its constants weighs: worked out apart, with decimals of 30 digits."""
    assert moisture_content(humidity, temperature_c) == pytest.approx(percent, abs=1e-6)


def test_a13_a_wide_oak_lipping_over_the_year() -> None:
    """300 mm, flat red oak, 35 to 65 %: 6.94 to 11.96 %, 5.56 mm."""
    low, high = moisture_content(35), moisture_content(65)
    assert (low, high) == pytest.approx((6.94, 11.96), abs=0.005)

    grown, source = wood_growth(300, "red oak", Use().humidity_low, Use().humidity_high)

    assert grown == pytest.approx(5.56, abs=0.05)
    assert movement(300, 0.00369, low, high) == pytest.approx(5.56, abs=0.05)
    assert "oak, red" in source


def test_air_that_takes_wood_beyond_the_formula_gives_no_figure() -> None:
    assert wood_growth(300, "red oak", 20, 80) == (None, "")


def test_wood_is_left_room_for_all_that_the_formula_is_meant_for() -> None:
    """In air beyond it, 6 to 14 %: 300 x 0.00369 x 8 = 8.856; in a room, as it grows: 5.56."""
    assert room_for_growth(300, "red oak", 5, 95) == pytest.approx(8.856)
    assert room_for_growth(300, "red oak", 35, 65) == pytest.approx(5.56, abs=0.05)


def test_no_such_humidity() -> None:
    with pytest.raises(JobError, match="relative humidity"):
        moisture_content(120)


def test_the_coefficients_are_meant_for_6_to_14_percent() -> None:
    """Wood Handbook, chapter 13: change coefficients hold from 6 to 14 % moisture; no species is near either end."""
    assert movement(1000, 0.002, 6, 14) == pytest.approx(16)
    assert in_range(6, 14)
    assert not in_range(5.9)
    assert not in_range(14.1)
    assert movement(1000, 0.0005, 6, 14) == pytest.approx(4)
    assert movement(1000, 0.006, 6, 14) == pytest.approx(48)
    for coefficient, low, high in ((0.002, 5.9, 14), (0.002, 6, 14.1), (0.00049, 6, 14), (0.0061, 6, 14)):
        with pytest.raises(JobError):
            movement(1000, coefficient, low, high)


def test_air_may_be_as_wet_as_99_percent() -> None:
    assert moisture_content(99) > 25
    with pytest.raises(JobError, match="0 to 99 %"):
        moisture_content(99.5)


LBF = 4.448222


def test_e2_a_screw_of_4_in_oak() -> None:
    """The inch form: 15,700 G2 D L pounds."""
    inch_form = 15_700 * 0.63**2 * (4 / 25.4) * (20 / 25.4) * LBF

    assert screw_withdrawal_n(0.63, 4, 20) == pytest.approx(3437.2, abs=0.5)
    assert screw_withdrawal_n(0.63, 4, 20) == pytest.approx(inch_form, abs=0.5)


def test_e5_end_grain() -> None:
    assert END_GRAIN == pytest.approx(0.75)


def test_gravity_is_that_of_the_dry_wood() -> None:
    """Red oak of gravity 0.63 weighs 705.6 kg/m3 at 12 % moisture (Wood Handbook, tables 4-3 and 4-6, from memory)."""
    assert 705.6 / 1000 * OVEN_DRY == pytest.approx(0.63, abs=1e-4)


EI = 2200 * 145_800.0


FREE = (Support(x=0), Support(x=700))


FIXED = (Support(x=0, clamped=True), Support(x=700, clamped=True))


ONE_END = (Support(x=0, clamped=True),)


CONSTANTS = [
    # Where a load of 210 N sits (None: spread evenly), where the sag is read, bending, shear.
    (Held.EVEN_SIMPLE, FREE, None, 350, 5 / 384, 1 / 8),
    (Held.MIDDLE_SIMPLE, FREE, 350, 350, 1 / 48, 1 / 4),
    (Held.EVEN_FIXED, FIXED, None, 350, 1 / 384, 1 / 8),
    (Held.MIDDLE_FIXED, FIXED, 350, 350, 1 / 192, 1 / 4),
    (Held.EVEN_CANTILEVER, ONE_END, None, 700, 1 / 8, 1 / 2),
    (Held.END_CANTILEVER, ONE_END, 700, 700, 1 / 3, 1),
]


@pytest.mark.parametrize("shear_n", [math.inf, 1.5e6])
def test_the_handbooks_constants_for_bending_and_shear(shear_n: float) -> None:
    """Both the formula and the beam of any supports; the constants are from memory."""
    for held, supports, middle, at, bending, shear in CONSTANTS:
        line = Line(
            start=0,
            end=700,
            rigidity_n_mm2=EI,
            shear_n=shear_n,
            supports=supports,
            spreads=(Spread(start=0, end=700, n_per_mm=0.3),) if middle is None else (),
            points=(PointLoad(x=middle, n=210),) if middle is not None else (),
        )
        told = bending * 210 * 700**3 / (2200 * 145_800) + shear * 210 * 700 / shear_n

        assert bend([line])[0].down(at) == pytest.approx(told, rel=1e-9), held
        assert sag(210, 700, EI, shear_n, held) == pytest.approx(told, rel=1e-12), held
