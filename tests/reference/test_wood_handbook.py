"""Wood properties and changes of size.

Sources: Wood Handbook, FPL-GTR-190, USDA Forest Service, 2010: table 5-3a, table 13-5 and the change formula (as a US
cooperative extension service restates it); web tables restating the handbook for hardwoods (some from memory);
Dimensional change chart of a flooring trade association, 1987; Calculating wood movement, magazine table, 2021;
Moisture Content and the Shrinkage of Lumber, FPL-RP-489, 1989. Rows A1-A10, B1, B2.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.files._boards import usual_stiffness_n_mm2
from storyrod.faults import JobError
from storyrod.model.job import BoardKind
from storyrod.soundness._moisture import in_range, lumber_shrinkage_percent, movement
from storyrod.soundness._woods import CHANGE, SPECIES, UNNAMED_CHANGE, UNNAMED_WOOD_N_MM2, change_of

INCH = 25.4

HANDBOOK = {
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


def test_a1_species_are_those_of_the_handbook() -> None:
    assert {s.name for s in SPECIES} == set(HANDBOOK)
    for species in SPECIES:
        gravity, strength, stiffness = HANDBOOK[species.name]
        assert species.gravity == pytest.approx(gravity, abs=0.01)
        assert species.strength_n_mm2 == pytest.approx(strength, rel=0.02)
        assert species.stiffness_n_mm2 == pytest.approx(stiffness * 1000, rel=0.02)


def test_a2_pounds_to_the_square_inch() -> None:
    beech = next(s for s in SPECIES if s.name == "beech, American")

    assert 1.72e6 * 0.006894757 / 1000 == pytest.approx(11.859, abs=0.001)
    assert beech.stiffness_n_mm2 == pytest.approx(1.72e6 * 0.006894757, rel=0.005)


def test_a3_mesquite_floor() -> None:
    """5 in, 6 to 9 %: 0.01935 in; the chart prints 0.019."""
    grown = movement(5 * INCH, change_of("mesquite")[1], 6, 9) / INCH

    assert grown == pytest.approx(0.01935, abs=5e-5)
    assert round(grown, 3) == 0.019


def test_a4_red_alder() -> None:
    assert movement(8, 0.0026, 6, 12) == pytest.approx(0.1248)
    assert movement(8, change_of("red alder")[1], 6, 12) == pytest.approx(0.12288)


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


def test_a9_softwood_lumber_from_green() -> None:
    assert lumber_shrinkage_percent(12) == pytest.approx((3.451, 2.890), abs=1e-9)


def test_a10_a_total_shrinkage_in_percent_is_no_coefficient() -> None:
    """12 in of red oak, 12 points at 0.00369: 0.531 in. A whole shrinkage is refused as a coefficient."""
    assert 12 * 0.00369 * 12 == pytest.approx(0.531, abs=5e-4)
    with pytest.raises(JobError, match="not its whole shrinkage"):
        movement(12, 0.0202, 6, 14)


def test_every_table_value_of_change() -> None:
    """Radial before tangential, and tangential always the more."""
    assert len(CHANGE) >= 25
    for name, (radial, tangential) in CHANGE.items():
        assert radial is None or 0.0009 < radial < tangential < 0.0045, name


def test_wood_of_no_name_is_taken_at_its_worst() -> None:
    assert change_of("lipping")[1] == UNNAMED_CHANGE == max(t for _, t in CHANGE.values())
    assert min(s.stiffness_n_mm2 for s in SPECIES) == UNNAMED_WOOD_N_MM2


def test_b1_order_of_stiffness_and_b2_plywood_across() -> None:
    chipboard = usual_stiffness_n_mm2(BoardKind.CHIPBOARD, 18)[0]
    mdf = usual_stiffness_n_mm2(BoardKind.MDF, 18)[0]
    along, across = usual_stiffness_n_mm2(BoardKind.PLYWOOD, 18)
    oak = next(s for s in SPECIES if s.name == "oak, white").stiffness_n_mm2
    assert chipboard
    assert mdf
    assert along
    assert across
    assert chipboard < mdf < along < oak
    assert 0.5 <= across / along <= 0.8
