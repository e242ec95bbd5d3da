"""The proof's own reading of every shape agrees with the volumes that the drawings and the solids read.

The two are written apart; where they agree on every shape, in every surface and both hands, neither has slipped.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.measure.space import PANEL_AXES, PanelAxis, PanelPoint
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Feature,
    FeatureId,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.panel import PanelId, Surface
from storyrod.model.removal import removed
from storyrod.proof._pieces import cut_pieces


def feature(shape: Shape, surface: Surface, at: PanelPoint) -> Feature:
    return Feature(id=FeatureId("f"), panel=PanelId("p"), surface=surface, at=at, shape=shape)


def shapes(run: PanelAxis) -> st.SearchStrategy[Shape]:
    depth = st.floats(2, 15)
    return st.one_of(
        st.builds(Hole, diameter=st.floats(2, 35), depth=depth),
        st.builds(Hole, diameter=st.floats(2, 6), depth=depth, countersink=st.floats(7, 10)),
        st.builds(Slot, length=st.floats(20, 60), width=st.floats(4, 12), depth=depth, run=st.just(run)),
        st.builds(
            Keyhole,
            entry_diameter=st.floats(10, 14),
            slot_width=st.floats(4, 6),
            undercut_width=st.floats(7, 10),
            lip=st.floats(3, 5),
            depth=st.floats(8, 12),
            travel=st.floats(10, 20),
            run=st.just(run),
            lock_sign=st.sampled_from([-1, 1]),
        ),
        st.builds(SegmentPocket, disc=st.floats(80, 120), depth=depth, width=st.floats(2, 5), run=st.just(run)),
        st.builds(
            UndercutSlot,
            length=st.floats(40, 70),
            width=st.floats(6, 8),
            undercut_width=st.floats(9, 12),
            lip=st.floats(3, 5),
            depth=st.floats(8, 12),
            run=st.just(run),
        ),
        st.builds(
            Channel,
            kind=st.just("groove"),
            length=st.floats(20, 500),
            width=st.floats(4, 20),
            depth=depth,
            run=st.just(run),
        ),
        st.builds(
            CutOut,
            outline=st.sampled_from(["round", "slot"]),
            length=st.floats(60, 100),
            height=st.floats(20, 30),
            corner=st.just(0.0),
            depth=depth,
            run=st.just(run),
        ),
    )


@st.composite
def features(draw: st.DrawFn) -> Feature:
    surface = draw(st.sampled_from(list(Surface)))
    run = draw(st.sampled_from([a for a in PANEL_AXES if a is not surface.axis]))
    at = PanelPoint(draw(st.floats(0, 600)), draw(st.floats(0, 400)), draw(st.floats(0, 20)))
    return feature(draw(shapes(run)), surface, at)


@given(cut=features())
def test_both_readings_take_the_same_room(cut: Feature) -> None:
    own = cut_pieces(cut).bounds
    boxes = [p.bounds for p in removed(cut)]

    for i, axis in enumerate(PANEL_AXES):
        assert own.low[i] == pytest.approx(min(b.low.along(axis) for b in boxes), abs=1e-9)
        assert own.high[i] == pytest.approx(max(b.high.along(axis) for b in boxes), abs=1e-9)


@pytest.mark.parametrize("edge", [0.0, 400.0])
def test_a_scoop_grows_away_from_its_edge(edge: float) -> None:
    shape = CutOut(outline="scoop", length=100, height=30, corner=12, depth=18, run=PanelAxis.U)

    own = cut_pieces(feature(shape, Surface.FACE, PanelPoint(300, edge, 0))).bounds

    inner = (0.0, 30.0) if edge == 0 else (370.0, 400.0)
    assert (own.low, own.high) == ((250, inner[0], 0), (350, inner[1], 18))


def test_a_drills_point_goes_deeper_than_the_hole() -> None:
    shape = Hole(diameter=35, depth=13, point=1.5)

    own = cut_pieces(feature(shape, Surface.FAR_FACE, PanelPoint(50, 50, 18))).bounds

    assert (own.low[2], own.high[2]) == (3.5, 18)


def test_an_angled_pocket_opens_its_whole_mouth_and_ends_where_its_axis_does() -> None:
    """25 mm along 15 degrees with 9.5 mm bore: axis ends 6.47 deep, its rim 4.59 deeper."""
    shape = AngledPocket(diameter=9.5, pilot=3.5, angle_deg=15, length=25, run=PanelAxis.U, sign=-1)

    own = cut_pieces(feature(shape, Surface.FACE, PanelPoint(60, 100, 0))).bounds

    assert own.high[2] == pytest.approx(11.058, abs=0.001)
    assert (own.low[1], own.high[1]) == pytest.approx((95.25, 104.75))
