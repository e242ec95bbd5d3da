"""Source: structural analysis formula sheets: simple, fixed and cantilever beams.

Where: their tables of sags and moments under an even load, a load in the middle, two loads. Unless said: E 2200 N/mm2,
300 wide, 18 thick (I 145 800 mm4), 0.30 N/mm. Rows C1, C2, C7 to C9, C12, worked out from them.
"""

from __future__ import annotations

import pytest

from storyrod.carcass import build
from storyrod.measure.space import Box, Point
from storyrod.model.thresholds import GRAVITY
from storyrod.model.weight import panel_mass_kg
from storyrod.soundness._beam import Line, PointLoad, Support, bend
from storyrod.soundness._section import plank
from storyrod.soundness._span import Held, greatest_span, sag
from tests.builders import board, job, workshop
from tests.reference.planks import EI, even


def test_c1_simply_supported_and_c2_clamped() -> None:
    (simple,), (clamped,) = bend([even(800, 0, 800)]), bend([even(800, 0, 800, clamped=True)])

    assert simple.lowest(0, 800) == pytest.approx((400, 4.98815), abs=1e-3)
    assert simple.lowest(0, 800)[1] == pytest.approx(4.98815, rel=1e-5)
    assert clamped.lowest(0, 800)[1] == pytest.approx(0.99763, rel=1e-5)
    assert simple.greatest_moment() == pytest.approx(0.30 * 800**2 / 8)
    assert clamped.moment(0) == pytest.approx(-0.30 * 800**2 / 12)
    assert clamped.moment(400) == pytest.approx(0.30 * 800**2 / 24)


@pytest.mark.parametrize(
    ("thickness", "e", "sags", "longest"),
    [
        (18, 2200, (1.548, 4.892, 11.943), 748.1),
        (18, 1600, (2.128, 6.726, 16.421), 672.8),
        (18, 8000, (0.426, 1.345, 3.284), 1150.4),
        (22, 2100, (0.888, 2.807, 6.853), 900.3),
        (20, 12_300, (0.202, 0.638, 1.557), 1475.3),
    ],
)
def test_c7_one_kg_to_the_dm2_and_c8_the_longest_span_at_200(
    thickness: float, e: float, sags: tuple[float, ...], longest: float
) -> None:
    """1 kg/dm2 on a shelf 300 deep: 3 kg a dm of length, 0.29420 N/mm. Limit span / 200, shear left out."""
    section = plank(300, thickness, e)
    n_per_mm = 0.01 * 3 * GRAVITY
    assert n_per_mm == pytest.approx(0.29420, abs=1e-5)

    for span, expected in zip((600, 800, 1000), sags, strict=True):
        (shelf,) = bend([even(span, 0, span, n_per_mm=n_per_mm, ei=section.rigidity_n_mm2)])
        assert shelf.lowest(0, span)[1] == pytest.approx(expected, abs=1e-3)
    assert greatest_span(n_per_mm, section.rigidity_n_mm2, 200) == pytest.approx(longest, abs=0.1)


def test_c9_shear_may_be_left_out_of_a_shelf_but_not_of_a_short_rail() -> None:
    shelf, w = 2200 * 145_800, 0.29420
    with_shear = sag(w * 600, 600, shelf, 440 * 5 / 6 * 300 * 18)
    assert with_shear - sag(w * 600, 600, shelf) == pytest.approx(0.0067, abs=5e-5)

    ei, ga = 12_000 * 50 * 38**3 / 12, 800 * 5 / 6 * 50 * 38
    assert sag(500, 150, ei, held=Held.MIDDLE_SIMPLE) == pytest.approx(0.01281, abs=1e-5)
    assert sag(500, 150, ei, ga, Held.MIDDLE_SIMPLE) == pytest.approx(0.01281 + 0.01480, abs=2e-5)
    rail = Line(
        start=0,
        end=150,
        rigidity_n_mm2=ei,
        shear_n=ga,
        supports=(Support(x=0), Support(x=150)),
        points=(PointLoad(x=75, n=500),),
    )
    assert bend([rail])[0].down(75) == pytest.approx(0.02761, abs=2e-5)


def test_c12_a_shelf_carries_itself() -> None:
    """MDF 18 x 300 at 730 kg/m3: 0.03866 N/mm."""
    base = next(p for p in build(job(), workshop()).cases[0].panels if p.name == "base")
    shelf = base.with_box(Box(Point(0, 0, 0), Point(1000, 300, 18)))

    assert panel_mass_kg(shelf, board(density_kg_m3=730)) * GRAVITY / 1000 == pytest.approx(0.03866, abs=5e-6)


def test_two_loads_at_equal_distances() -> None:
    """Table: P a (3 L^2 - 4 a^2) / 24 EI, moment P a."""
    line = Line(
        start=0,
        end=900,
        rigidity_n_mm2=EI,
        supports=(Support(x=0), Support(x=900)),
        points=(PointLoad(x=250, n=80), PointLoad(x=650, n=80)),
    )
    (shelf,) = bend([line])

    assert shelf.down(450) == pytest.approx(80 * 250 * (3 * 900**2 - 4 * 250**2) / (24 * EI))
    assert shelf.greatest_moment() == pytest.approx(80 * 250)
