"""The figures that a way out is worked out by: each of these fails when its figure changes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.measure.space import Axis, PanelAxis, PanelPoint
from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.model.feature import AngledPocket, Channel, Feature, FeatureId, Keyhole, Shape
from storyrod.model.panel import Surface
from storyrod.model.rescue import BreakKind, MoveKind, Plug, Way
from storyrod.planning import Plan, rescue
from storyrod.planning._rescuing import _Work
from storyrod.rescue import check_way, cut_as_it_lies, pieces_of
from storyrod.rescue._pieces import blank
from tests.unit.rescue.conftest import Rescued

HOUSING = Channel(kind="housing", length=200.0, width=18.0, depth=6.0, run=PanelAxis.V, stopped=(True, False))


def facts(along: float) -> AsBuilt:
    slip = Slip(panel="A1", kind=SlipKind.ELSEWHERE, cuts=("J3",), along=along)
    return AsBuilt(cut=("A1", "A2", "A5"), slips=(slip,))


def plugged(plan: Plan, along: float) -> Way:
    return next(w for w in rescue(plan, facts(along), "A").ways if w.plugs and len(w.moves) == 1)


def test_a_new_hole_keeps_a_millimetre_from_a_plug_or_lies_within_it(plan: Plan) -> None:
    """8 mm holes 9.5 apart leave 1.5 from plug to hole; 8.5 apart leave 0.5, and 8.5 + 4 + 2 of wall asks for 29."""
    assert {p.size for p in plugged(plan, 9.5).plugs} == {8.0}
    assert {p.size for p in plugged(plan, 8.5).plugs} == {30.0}


def test_the_checker_keeps_the_same_millimetre(plan: Plan) -> None:
    """A plug of 10 in place of the 8 leaves 0.5 to the new hole."""
    way = plugged(plan, 9.5)
    larger = replace(way, plugs=tuple(Plug(piece=p.piece, cut=p.cut, size=10.0) for p in way.plugs))
    pieces = pieces_of(plan.details, plan.set_out, facts(9.5), "A", 1)

    assert check_way(plan.details.cases[0], pieces, way, wall=2.0, size=0.3) == ()
    assert "glue line" in check_way(plan.details.cases[0], pieces, larger, wall=2.0, size=0.3)[0].found


@pytest.mark.parametrize(
    ("shape", "after"),
    [
        (
            Channel(kind="housing", length=200.0, width=18.0, depth=6.0, run=PanelAxis.V, stopped=(True, False)),
            (False, True),
        ),
        (
            Keyhole(
                entry_diameter=15.0,
                slot_width=8.0,
                undercut_width=14.0,
                lip=4.0,
                depth=11.0,
                travel=12.0,
                run=PanelAxis.V,
                lock_sign=1,
            ),
            -1,
        ),
        (AngledPocket(diameter=9.5, pilot=4.0, angle_deg=15.0, length=40.0, run=PanelAxis.V, sign=1), -1),
    ],
)
def test_a_cut_that_looks_one_way_looks_the_other_once_its_board_is_turned(
    plan: Plan, shape: Shape, after: object
) -> None:
    panel = plan.details.cases[0].panels[0]
    cut = Feature(id=FeatureId("x"), panel=panel.id, surface=Surface.FACE, at=PanelPoint(60.0, 100.0, 0.0), shape=shape)
    lies = cut_as_it_lies(cut, blank(panel), (-1, -1, 1), panel)
    word = next(w for w in ("stopped", "lock_sign", "sign") if hasattr(shape, w))

    assert getattr(lies.shape, word) == after
    assert (lies.at.u, lies.at.v, lies.at.w) == (panel.length - 60.0, panel.width - 100.0, 0.0)


def test_a_panel_glued_off_its_lines_is_told_by_how_much(rescued: Rescued) -> None:
    told = rescued("A5", "glued", joints=("J3",), off=1.5)

    assert [b.off for b in told.breaks if b.kind is BreakKind.PLACE] == [1.5]


def test_a_hole_a_millimetre_and_a_half_too_deep_still_holds_its_dowel(rescued: Rescued) -> None:
    assert not any(b.key.startswith("loose") for b in rescued("A1", "depth", cuts=("1",), depth=14.4).breaks)
    assert any(b.key.startswith("loose") for b in rescued("A1", "depth", cuts=("1",), depth=14.6).breaks)


def test_a_score_is_minutes_and_what_the_rest_counts_for(plan: Plan) -> None:
    """Plugged: one risk of 10, an hour in the clamps of 6, nothing open, nothing seen."""
    way = plugged(plan, 9.5)
    assert (way.cost.risk, way.cost.seen, way.cost.wait_min) == (1, 0, 60.0)
    assert way.cost.score == pytest.approx(way.cost.minutes + 10.0 + 6.0)


def test_an_old_hole_left_open_counts_for_a_minute_and_a_half(rescued: Rescued) -> None:
    told = rescued("A1", "elsewhere", cuts=("J3",), along=5.0, cut=("A1", "A2", "A5"))
    way = next(w for w in told.ways if w.moves and w.moves[0].kind is MoveKind.CLEAR and len(w.moves) == 1)

    assert way.cost.score == pytest.approx(way.cost.minutes + 10.0 + 1.5 * len(way.old) + 15.0 * way.cost.seen)
    assert len(way.old) == 4, "two on the side, two on the shelf that was cut as well"


def test_a_case_that_cannot_be_put_together_is_turned_away(plan: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    """With nothing told by the proof, the replay of the order alone notices a shelf that runs into both sides."""
    work, case = _Work(plan, "A"), plan.details.cases[0]
    monkeypatch.setattr(work, "_faults", lambda *_, **__: [])
    shelf = next(p for p in case.panels if p.mark == "A5")
    low, high = shelf.box.span(Axis.X)
    long = replace(shelf, box=shelf.box.with_span(Axis.X, low - 5.0, high + 5.0))
    stuck = replace(case, panels=tuple(long if p.id == shelf.id else p for p in case.panels))

    assert work.holds(case, case, False)
    assert not work.holds(case, stuck, False)
