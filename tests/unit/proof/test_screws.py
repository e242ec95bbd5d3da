"""Screws that would come out on the other side, or meet from both, are found by the proof itself."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.measure.space import PanelPoint
from storyrod.model.detail import Details
from storyrod.model.feature import Feature, FeatureId, Hole
from storyrod.model.fixing import Fixing, FixingKind, Screws
from storyrod.model.panel import PanelId, Surface
from storyrod.model.proof import Claim
from storyrod.planning import Plan
from storyrod.proof import prove
from tests.places import EXAMPLES
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


def test_a_pocket_screw_that_comes_out_behind_its_face_is_a_fault() -> None:
    """By hand, 18 thick at 15 degrees: the axis is 34.78 long, its shoulder at 15; 32 leaves 18 less 11.8."""
    read = read_job(EXAMPLES / "music-stand-shelf-inches.toml")
    plan = Plan(read.job, read.workshop)
    (case,) = plan.details.cases
    assert plan.proof.of(Claim.SCREWS).passed
    longer = tuple(
        replace(j, connectors=tuple(("pocket screw 4 x 45", n) if "pocket" in i else (i, n) for i, n in j.connectors))
        for j in case.joints
    )
    assert longer != case.joints

    told = prove(replace(plan.details, cases=(replace(case, joints=longer),)), plan.set_out).of(Claim.SCREWS)

    assert not told.passed
    assert "pocket screw 4 x 45" in told.faults[0].found


@pytest.mark.parametrize("thick", [11.0, 12.4, 13.9, 14.0, 15.5, 16.9, 17.0, 18.0, 18.7, 19.2, 20.4, 22.9, 23.0, 26.9])
def test_packaged_pocket_screws_leave_their_skin_and_hold(thick: float) -> None:
    """Worked out again from the data: the axis leaves the edge in the middle of the board."""
    method = packaged_workshop().method("pocket screws")
    size = method.size_for(thick) if method is not None else None
    assert size is not None
    ((pocket,), (item,)) = (size.entering, size.consumes)
    assert pocket.length is not None
    slope = math.radians(15)
    bite = float(item.item.rsplit(" x ", 1)[1]) - (thick / 2 / math.sin(slope) - pocket.length)

    assert bite >= 5
    assert thick - bite * math.cos(slope) >= 3
