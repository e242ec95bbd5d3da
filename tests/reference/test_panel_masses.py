"""Masses of panels, against figures worked out apart from this project (ids B4 to B8).

Sizes are those of common sheets; the densities are common for chipboard (650), birch plywood (680), MDF of 18 (730) and
thin MDF (780). B8 was also cut by a general solid modeller: its 64-sided mesh came to 9.9e-6 above the exact volume.
"""

from __future__ import annotations

import pytest

from storyrod.carcass import build
from storyrod.measure.space import Box, PanelPoint, Point
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.panel import Panel, Surface
from storyrod.model.weight import panel_mass_kg
from tests.builders import board, job, workshop


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
