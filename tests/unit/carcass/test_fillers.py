"""Sides and fillers that are scribed to walls: sizes, screws, what cannot be; worked by hand. No source."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Axis
from storyrod.model.assembly import StepKind
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Channel, Feature, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.hung import Hung, WallKind
from storyrod.model.job import Back, BackKind, Feet, Fillers, Fits, Scribe, Skirting
from storyrod.model.panel import Panel, PanelId, Scribed, Surface
from storyrod.planning import Plan
from storyrod.telling.panels import scribe_words
from storyrod.telling.shown import Shown
from tests.builders import case, job, rows, workshop
from tests.builders import opening as whole


def built(**more: Any) -> BuiltCase:
    return build(job(case(**more)), workshop()).cases[0]


def panel(of: BuiltCase, own: str) -> Panel:
    return of.panel(PanelId(f"A.{own}"))


def holes(of: BuiltCase, side: str) -> list[Feature]:
    return [f for f in of.fittings if f.panel == f"A.side-{side}" and f.item == "filler screw"]


def faults(**more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as told:
        built(**more)
    assert all(f.do and f.allowed for f in told.value.faults)
    return [(f.code, f.field) for f in told.value.faults]


def test_a_side_to_be_scribed_is_deeper_by_that_at_its_rear_edge_and_has_no_twin() -> None:
    of = built(scribe=Scribe(left=15))
    left, right = panel(of, "side-left"), panel(of, "side-right")

    assert (left.box.span(Axis.Y), right.box.span(Axis.Y)) == ((0, 415), (0, 400))
    assert left.scribed_box.span(Axis.Y) == (0, 400)
    assert (left.scribed, right.scribed) == (Scribed(edge=Surface.FAR_EDGE, allowance=15), None)
    assert (left.twin, right.twin) == (None, None)
    assert left.sums[1] == "400 + 15"
    assert panel(of, "base").box.high.y == 400


def test_sides_scribed_alike_stay_twins() -> None:
    of = built(scribe=Scribe(left=15, right=15))

    assert panel(of, "side-left").twin == "A.side-right"


def test_the_rebate_of_a_back_runs_out_at_the_rear_edge_before_it_is_scribed() -> None:
    """6 of back and 15 to scribe: 21 wide in the left side, 6 in the right; the back stays where it is."""
    of = built(scribe=Scribe(left=15), back=Back(kind=BackKind.REBATED, board="b6"))
    wide = {str(f.panel): f.shape.width for f in of.fittings if isinstance(f.shape, Channel)}

    assert (wide["A.side-left"], wide["A.side-right"]) == (21, 6)
    assert panel(of, "back").box.span(Axis.Y) == (394, 400)


def test_the_notch_for_a_skirting_board_is_deeper_by_what_comes_off_behind_it() -> None:
    of = built(scribe=Scribe(left=15), skirting=Skirting(height=95, depth=18))
    deep = {str(f.panel): getattr(f.shape, "height", 0) for f in of.fittings if f.item == "skirting"}

    assert deep == {"A.side-left": 36, "A.side-right": 21}


def test_a_filler_is_as_high_as_the_case_and_wider_than_its_gap() -> None:
    """A gap of 40 and 10 to scribe; its face 5 behind the front edges; 720 high, 620 on feet of 100."""
    of = built(fillers=Fillers(left=40, back=5))
    left = panel(of, "filler-left")

    assert (left.length, left.width, left.thickness) == (720, 50, 18)
    assert (left.box.span(Axis.X), left.box.span(Axis.Y)) == ((-50, 0), (5, 23))
    assert left.scribed_box.span(Axis.X) == (-40, 0)
    assert left.scribed == Scribed(edge=Surface.FACE_EDGE, allowance=10)
    assert left.sums == ("720", "40 + 10")
    assert panel(built(fillers=Fillers(left=40), feet=Feet(height=100)), "filler-left").length == 620


def test_a_filler_on_the_right_meets_its_side_with_its_left_edge() -> None:
    right = panel(built(fillers=Fillers(right=30, scribe=0)), "filler-right")

    assert (right.box.span(Axis.X), right.scribed) == ((600, 630), None)


def test_its_screws_pass_the_side_from_inside_in_the_middle_of_its_edge() -> None:
    """Three over 570: 75, 360 and 645 up, 5 + 9 behind the front edge; 4 x 45 through 18 goes 27 into 40."""
    of = built(fillers=Fillers(left=40, back=5))
    fixing = next(f for f in of.fixings if f.kind is FixingKind.FILLER)

    assert [(f.at.u, f.at.v, f.surface) for f in holes(of, "left")] == [
        (75, 14, Surface.FACE),
        (360, 14, Surface.FACE),
        (645, 14, Surface.FACE),
    ]
    assert {f.shape for f in holes(of, "left")} == {Hole(diameter=4.5, depth=18, through=True, countersink=9.0)}
    assert holes(of, "right") == []
    assert fixing.screws is not None
    assert (fixing.screws.item, fixing.screws.bite, fixing.screws.skin) == ("countersunk screw 4 x 45", 27, 13)
    assert (fixing.panel, fixing.about) == ("A.filler-left", "A.side-left")


def test_its_screws_keep_clear_of_a_shelf() -> None:
    """A shelf in the middle, 351 to 369, and 25 above it: the screw at 360 moves to 325."""
    of = built(inside=rows(whole(), whole()), fillers=Fillers(left=40))

    assert [f.at.u for f in holes(of, "left")] == [75, 325, 645]


def test_what_cannot_be_is_told() -> None:
    at = "cases[0].fillers"
    assert faults(fillers=Fillers()) == [("fillers-none", at)]
    assert faults(fillers=Fillers(left=25, fixed_with="brass pin")) == [("missing-screw", f"{at}.fixed_with")]
    assert faults(fillers=Fillers(right=20), board="b12") == [("fitting-screws", f"{at}.fixed_with")]
    assert faults(height=140, fillers=Fillers(left=40)) == [("filler-screws", f"{at}.left")]
    assert faults(scribe=Scribe(left=9), back=Back(kind=BackKind.APPLIED)) == [("scribe-back", "cases[0].back.kind")]
    assert faults(scribe=Scribe(left=9), hung=Hung(top_at=2000, wall=WallKind.MASONRY)) == [
        ("scribe-hung", "cases[0].scribe")
    ]


def test_a_place_counts_fillers_in_and_not_what_is_scribed_off() -> None:
    """600, 40 and 30: 670, in a depth of 400."""
    own = {"fillers": Fillers(left=40, right=30), "scribe": Scribe(left=15)}

    of = built(**own, fits=Fits(width=670, depth=400))
    assert {c.side: c.left for c in of.clearances if c.about == "case A"} == {"width": 0, "depth": 0}
    assert faults(**own, fits=Fits(width=669)) == [("place", "cases[0].fits.width")]


def test_the_paper_s_words() -> None:
    plan = Plan(job(case(scribe=Scribe(left=15), fillers=Fillers(right=30, back=5))), packaged_workshop())
    (one,) = plan.assembly.cases
    texts = {s.kind: s.text for s in one.steps}
    shown = Shown.of(plan.job)
    left = next(p for p in plan.details.cases[0].panels if p.name == "left side")

    assert not plan.proof.faults
    assert scribe_words(left, shown) == "Its far edge goes to the wall: 15 of its width is there to scribe."
    assert "Scribe the rear edge of A1 left side to the wall: 15 mm of it" in texts[StepKind.PLACE]
    assert "its gap of 30 mm: 10 mm is there to come off" in texts[StepKind.FILLER]
    assert "Set its face 5 mm behind the front edge of the right side." in texts[StepKind.FILLER]


def test_a_bracket_to_the_wall_is_reckoned_from_the_case_as_scribed() -> None:
    """Top and sides end at one wall once 15 has come off the sides: no gap behind the top."""
    plan = Plan(job(case(scribe=Scribe(left=15, right=15))), packaged_workshop())
    tipping = plan.soundness.cases[0].tipping
    assert tipping is not None
    fixing = tipping.fixing

    assert fixing is not None
    assert fixing.gap == 0
