"""Masses of whole boards, and the volume of a panel with holes, against figures worked by hand.

Sources: rows B4 to B8 of the project's list of outside figures. B4 to B7 are length x width x thickness x density.
B8 is box less cylinders, by hand below; its mesh figure was read from manifold3d 3.5.4 with 64-sided circles.

An n-sided polygon in a circle has n/(2 pi) sin(2 pi/n) of its area (plane geometry): 0.998394 for 64.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.solid import panel_solid, witness
from storyrod.adapters.solid._build import pieces_of
from storyrod.adapters.solid._profile import POLYGON_SHARE
from storyrod.measure.space import PanelPoint
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.panel import Panel, Role, Surface
from storyrod.model.removal import volume
from storyrod.model.weight import panel_mass_kg
from tests import builders
from tests.unit.proof import small


def flat(length: float, width: float, thickness: float) -> Panel:
    """Return a panel that lies flat, of these sizes."""
    return small.panel(Role.SHELF, "shelf 1", small.box((0, length), (0, width), (0, thickness)), small.FLAT)


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


HOLES = (
    *(((u, v), Hole(diameter=5, depth=18, through=True)) for u in (50.0, 550.0) for v in (50.0, 350.0)),
    *(((u, 22.5), Hole(diameter=35, depth=13)) for u in (100.0, 500.0)),
)
B8_EXACT_MM3 = 4_293_571.35  # 600 x 400 x 18 - 4 (pi/4) 5**2 18 - 2 (pi/4) 35**2 13
B8_MESH_MM3 = 4_293_613.79


def machined() -> tuple[Panel, tuple[Feature, ...]]:
    """Return the panel of B8: 600 x 400 x 18 with four through holes of 5 mm and two cups 35 x 13."""
    panel = flat(600, 400, 18)
    features = tuple(
        Feature(id=FeatureId(f"f{n}"), panel=panel.id, surface=Surface.FACE, at=PanelPoint(u, v, 0), shape=shape)
        for n, ((u, v), shape) in enumerate(HOLES)
    )
    return panel, features


def test_b8_box_less_features() -> None:
    panel, features = machined()

    assert panel.box.volume - sum(volume(f) for f in features) == pytest.approx(B8_EXACT_MM3, abs=0.005)


def test_b8_as_a_solid_of_64_sides() -> None:
    """Above the exact figure by 9.9 millionths, as the flat sides leave board standing; always above."""
    panel, features = machined()

    meshed = panel_solid(panel, features).volume()

    assert meshed == pytest.approx(B8_MESH_MM3, abs=0.005)
    assert 0 < meshed / B8_EXACT_MM3 - 1 < 1e-5
    left_out = sum(p.left_out for f in features for p in pieces_of(panel, f))
    assert meshed - B8_EXACT_MM3 == pytest.approx(left_out, abs=0.01)


def test_b8_weighs_3_1343_kg() -> None:
    panel, features = machined()

    assert panel_mass_kg(panel, builders.board(density_kg_m3=730), features) == pytest.approx(3.1343, abs=0.00005)


def test_b8_passes_the_witness() -> None:
    panel, features = machined()
    told = small.details()
    alone = replace(told.cases[0], panels=(panel,), joints=(), features=features, _by_panel={})

    seen = witness(replace(told, cases=(alone,)))

    assert seen.passed
    assert seen.volumes[0].exact == pytest.approx(B8_EXACT_MM3, abs=0.005)


def test_a_64_sided_circle_has_0_998394_of_its_area() -> None:
    assert pytest.approx(0.998394, abs=5e-7) == POLYGON_SHARE
