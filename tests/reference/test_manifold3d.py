"""Source: manifold3d 3.5.4, a general solid modeller.

Where: volume of a panel with holes as a mesh of 64-sided circles: 4 293 613.79 mm3, 9.9e-6 above the exact one. Row B8.
An n-sided polygon in a circle has n/(2 pi) sin(2 pi/n) of its area: 0.998394 for 64.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.solid import panel_solid, witness
from storyrod.adapters.solid._build import pieces_of
from storyrod.adapters.solid._profile import POLYGON_SHARE
from tests.reference.drilled_panel import B8_EXACT_MM3, machined
from tests.unit.proof import small

B8_MESH_MM3 = 4_293_613.79


def test_b8_as_a_solid_of_64_sides() -> None:
    """Above the exact figure by 9.9 millionths, as the flat sides leave board standing; always above."""
    panel, features = machined()

    meshed = panel_solid(panel, features).volume()

    assert meshed == pytest.approx(B8_MESH_MM3, abs=0.005)
    assert 0 < meshed / B8_EXACT_MM3 - 1 < 1e-5
    left_out = sum(p.left_out for f in features for p in pieces_of(panel, f))
    assert meshed - B8_EXACT_MM3 == pytest.approx(left_out, abs=0.01)


def test_b8_passes_the_witness() -> None:
    panel, features = machined()
    told = small.details()
    alone = replace(told.cases[0], panels=(panel,), joints=(), features=features, _by_panel={})

    seen = witness(replace(told, cases=(alone,)))

    assert seen.passed
    assert seen.volumes[0].exact == pytest.approx(B8_EXACT_MM3, abs=0.005)


def test_a_64_sided_circle_has_0_998394_of_its_area() -> None:
    assert pytest.approx(0.998394, abs=5e-7) == POLYGON_SHARE
