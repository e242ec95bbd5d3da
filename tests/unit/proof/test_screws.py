"""Screws that would come out on the other side, or meet from both, are found by the proof itself."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.measure.space import PanelPoint
from storyrod.model.detail import Details
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.fixing import Fixing, FixingKind, Screws
from storyrod.model.panel import PanelId, Surface
from storyrod.model.proof import Claim
from storyrod.proof import prove
from tests.unit.proof import small

LEFT = PanelId("A.left-side")  # 18 thick


def with_screws(*surfaces: Surface, size: str, seat: float) -> Details:
    """A runner screw into the left side from each of the surfaces, at one place, with a pilot of 5."""
    details = small.details()
    (case,) = details.cases
    holes = tuple(
        Feature(
            id=FeatureId(f"{LEFT}.runner-{n}"),
            panel=LEFT,
            surface=surface,
            at=PanelPoint(350.0, 200.0, 18.0 if surface.is_far else 0.0),
            shape=Hole(diameter=2.5, depth=5.0),
            why="test",
        )
        for n, surface in enumerate(surfaces)
    )
    fixings = tuple(
        Fixing(
            kind=FixingKind.RUNNER_CASE,
            panel=LEFT,
            about=f"A.drawer-{n}",
            item="side",
            name="runner",
            count=1,
            features=(hole.id,),
            screws=Screws(
                item=f"pan-head screw 3.5 x {size}",
                count=1,
                diameter=3.5,
                length=1.0,  # What the plan says of it is not what is believed.
                seat=seat,
                skin=9.0,
                pilot=2.5,
                pilot_depth=5.0,
                marked=True,
            ),
        )
        for n, hole in enumerate(holes)
    )
    made = replace(case, built=replace(case.built, fixings=fixings), features=(*case.features, *holes))
    return replace(details, cases=(made,))


def finding(details: Details) -> tuple[bool, float | None, int]:
    found = prove(details, small.set_out(details)).of(Claim.SCREWS)
    return found.passed, found.worst, found.checked


def test_the_figure_is_the_board_under_the_tip() -> None:
    assert finding(with_screws(Surface.FACE, size="16", seat=1.5)) == (True, 3.5, 1)


def test_a_screw_that_leaves_too_little_is_a_fault_whatever_the_plan_says_of_it() -> None:
    passed, worst, _ = finding(with_screws(Surface.FACE, size="20", seat=1.5))

    assert (passed, worst) == (False, -0.5)


def test_screws_that_meet_from_both_faces_are_a_fault() -> None:
    assert finding(with_screws(Surface.FACE, Surface.FAR_FACE, size="8", seat=1.5)) == (True, 5, 2)
    passed, worst, _ = finding(with_screws(Surface.FACE, Surface.FAR_FACE, size="9.5", seat=1.5))
    assert not passed
    assert worst == pytest.approx(2)
