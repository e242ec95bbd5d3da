"""Source: masses and volumes of panels, worked by hand.

Where: no book: length x width x thickness x density, and a box less its cylinders. Densities are common for chipboard
(650), birch plywood (680), MDF of 18 (730) and thin MDF (780). Rows B4 to B8.
"""

from __future__ import annotations

import pytest

from storyrod.adapters.solid import panel_solid
from storyrod.carcass import build
from storyrod.measure.space import Box, PanelPoint, Point
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.panel import Panel, Surface
from storyrod.model.removal import volume
from storyrod.model.sheet import CutRules, Part, StockSheet, Trim
from storyrod.model.weight import panel_mass_kg
from storyrod.sheets import lay_out, saw_list
from tests import builders
from tests.builders import board, job, workshop
from tests.reference.drilled_panel import B8_EXACT_MM3, flat, machined


def sheet(length: float, width: float, thickness: float) -> Panel:
    """Return a base of this size."""
    base = next(p for p in build(job(), workshop()).cases[0].panels if p.name == "base")
    return base.with_box(Box(Point(0, 0, 0), Point(length, width, thickness)))


@pytest.mark.parametrize(
    ("row", "size", "density_kg_m3", "mass_kg"),
    [
        ("B4", (2440, 1220, 18), 730, 39.12),
        ("B5", (2800, 2070, 18), 650, 67.81),
        ("B6", (2440, 1220, 18), 680, 36.44),
        ("B7", (2440, 1220, 6), 780, 13.93),
    ],
)
def test_a_whole_sheet(row: str, size: tuple[float, float, float], density_kg_m3: float, mass_kg: float) -> None:
    mass = panel_mass_kg(sheet(*size), board(density_kg_m3=density_kg_m3))

    assert mass == pytest.approx(mass_kg, abs=0.01), row


def test_b8_a_panel_with_four_through_holes_and_two_hinge_cups() -> None:
    """600 x 400 x 18 less four holes of 5 through and two of 35, 13 deep: 4 293 571.35 mm3, 3.1343 kg at 730."""
    panel = sheet(600, 400, 18)
    through, cup = Hole(diameter=5, depth=18, through=True), Hole(diameter=35, depth=13)
    features = [
        Feature(
            id=FeatureId(str(i)), panel=panel.id, surface=Surface.FACE, at=PanelPoint(100 + 60 * i, 100, 0), shape=shape
        )
        for i, shape in enumerate([through] * 4 + [cup] * 2)
    ]

    assert panel_mass_kg(panel, board(density_kg_m3=730), features) == pytest.approx(3.1343, abs=5e-5)
    assert panel_mass_kg(panel, board(density_kg_m3=1.0), features) * 1e9 == pytest.approx(4_293_571.35, abs=0.01)


@pytest.mark.parametrize(
    ("size", "thickness", "density", "kg"),
    [
        ((2440, 1220), 18, 730, 39.12),
        ((2800, 2070), 18, 650, 67.81),
        ((2440, 1220), 18, 680, 36.44),
        ((2440, 1220), 6, 780, 13.93),
    ],
)
def test_a_full_sheet_in_hand_is_told_with_its_mass(
    size: tuple[float, float], thickness: float, density: float, kg: float
) -> None:
    sheet = StockSheet(
        id="s", board="b", length=size[0], width=size[1], price_cents=1, mass_kg_m2=thickness * density / 1000
    )
    rules = CutRules(kerf=3, trim=Trim.even(10), one_person_kg=20)
    board = lay_out([Part(id="p", board="b", length=700, width=500)], [sheet], rules, rounds=2).boards[0]
    first = saw_list(board, rules, [sheet]).steps[0]

    assert first.mass_kg == pytest.approx(kg, abs=0.06)
    assert first.two_people == (kg > 20)


@pytest.mark.parametrize(
    ("size", "density_kg_m3", "mass_kg"),
    [
        pytest.param((2440, 1220, 18), 730, 39.12, id="B4"),
        pytest.param((2800, 2070, 18), 650, 67.81, id="B5"),
        pytest.param((2440, 1220, 18), 680, 36.44, id="B6"),
        pytest.param((2440, 1220, 6), 780, 13.93, id="B7"),
    ],
)
def test_mass_of_a_whole_board(size: tuple[float, float, float], density_kg_m3: float, mass_kg: float) -> None:
    """To 0.01 kg, by the sum that weighs the panels and by the solid's own volume."""
    panel = flat(*size)
    board = builders.board(density_kg_m3=density_kg_m3)

    assert panel_mass_kg(panel, board) == pytest.approx(mass_kg, abs=0.01)
    assert panel_solid(panel, []).volume() * 1e-9 * density_kg_m3 == pytest.approx(mass_kg, abs=0.01)


def test_b8_box_less_features() -> None:
    panel, features = machined()

    assert panel.box.volume - sum(volume(f) for f in features) == pytest.approx(B8_EXACT_MM3, abs=0.005)


def test_b8_weighs_3_1343_kg() -> None:
    panel, features = machined()

    assert panel_mass_kg(panel, builders.board(density_kg_m3=730), features) == pytest.approx(3.1343, abs=0.00005)
