"""Weights and centres of mass."""

from __future__ import annotations

import pytest

from storyrod.carcass import build
from storyrod.measure.space import PanelAxis, PanelPoint, Point
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import AngledPocket, Feature, FeatureId, Hole, Shape
from storyrod.model.panel import Surface
from storyrod.model.weight import Weight, case_weight, panel_mass_kg, panel_weight, together
from tests.builders import board, case, job, rows, shelves, workshop


def plain() -> BuiltCase:
    return build(job(), workshop()).cases[0]


def feature(shape: Shape) -> Feature:
    side = plain().panels[0]
    return Feature(id=FeatureId("f"), panel=side.id, surface=Surface.FACE, at=PanelPoint(100, 100, 0), shape=shape)


def test_a_panel_weighs_its_volume_times_its_boards_density() -> None:
    """720 x 400 x 18 mm at 650 kg/m3."""
    assert panel_mass_kg(plain().panels[0], board()) == pytest.approx(0.72 * 0.4 * 0.018 * 650)


def test_what_is_cut_away_weighs_nothing() -> None:
    side, hole = plain().panels[0], feature(Hole(diameter=20.0, depth=18.0, through=True))
    gone = 3.141592653589793 * 0.01**2 * 0.018 * 650

    assert panel_mass_kg(side, board()) - panel_mass_kg(side, board(), [hole]) == pytest.approx(gone)
    assert panel_mass_kg(plain().panels[1], board(), [hole]) == pytest.approx(panel_mass_kg(side, board()))


def test_angled_pockets_are_left_out() -> None:
    side = plain().panels[0]
    pocket = AngledPocket(diameter=9.5, pilot=4.0, angle_deg=15.0, length=40.0, run=PanelAxis.U, sign=1)

    assert panel_mass_kg(side, board(), [feature(pocket)]) == panel_mass_kg(side, board())


def test_a_panels_centre_is_the_middle_of_its_box() -> None:
    assert panel_weight(plain().panels[0], board()).centre == Point(9, 200, 360)


def test_two_weights_hang_at_their_common_centre() -> None:
    both = together([Weight(1.0, Point(0, 0, 0)), Weight(3.0, Point(4, 8, 12))])

    assert both == Weight(4.0, Point(3, 6, 9))


def test_nothing_weighs_nothing() -> None:
    assert together([]) == Weight(0.0, Point(0, 0, 0))


def test_a_symmetric_case_hangs_at_its_middle_and_weighs_the_sum_of_its_panels() -> None:
    of = build(job(case(inside=rows(shelves(1), shelves(1)))), workshop()).cases[0]
    whole = case_weight(of.panels, job(), of.fittings)

    assert whole.centre.x == pytest.approx(300)
    parts = [panel_mass_kg(p, board(), [f for f in of.fittings if f.panel == p.id]) for p in of.panels]
    assert whole.mass_kg == pytest.approx(sum(parts))
    assert whole.mass_kg < case_weight(of.panels, job()).mass_kg
