"""Two fastenings at least at each corner of a drawer, or a caution: one alone lets the corner twist."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from storyrod.adapters.files import job_from_text, packaged_workshop, read_job
from storyrod.assembly import check_plan
from storyrod.faults import JobError
from storyrod.joinery._stations import corner_rules, rules_kept, two_at_a_corner
from storyrod.model.job import Holds, MethodChoice
from storyrod.model.joint import JointKind
from storyrod.model.method import StationRules
from storyrod.planning import Plan
from storyrod.proof import prove
from tests import builders
from tests.places import EXAMPLES
from tests.unit.machining.shops import job

DOWELS = StationRules(end=50, end_min=25, pitch=160, gap_min=32, least=2, single=True)


@pytest.mark.parametrize(
    ("length", "stations"),
    [
        (76.0, (19.0, 57.0)),  # at the quarters
        (54.0, (13.5, 40.5)),
        (46.0, (12.0, 34.0)),  # no nearer to an end than 12
        (42.0, (12.0, 30.0)),  # and 18 apart
        (41.0, None),
    ],
)
def test_two_stand_at_the_quarters_of_a_short_corner(length: float, stations: tuple[float, ...] | None) -> None:
    assert two_at_a_corner(length, DOWELS, 5.0) == stations


def test_cuts_that_reach_further_need_more_room() -> None:
    """A biscuit reaches 28 along the joint: with 2 of board 30 from each end and 60 apart, 120 in all."""
    assert two_at_a_corner(119.0, DOWELS, 30.0) is None
    assert two_at_a_corner(120.0, DOWELS, 30.0) == (30.0, 90.0)
    assert (corner_rules(DOWELS).end_min, corner_rules(DOWELS).gap_min) == (12, 18)


def test_only_a_drawer_s_corner_may_stand_so_near() -> None:
    near = (13.5, 40.5)

    assert rules_kept(DOWELS, near, 54.0, JointKind.DRAWER_BOX).end_min == 12
    assert rules_kept(DOWELS, near, 54.0, JointKind.CORNER) is DOWELS
    assert rules_kept(DOWELS, (50.0, 100.0), 150.0, JointKind.DRAWER_BOX) is DOWELS


@pytest.fixture(scope="module")
def room() -> Plan:
    read = read_job(EXAMPLES / "rehearsal-room.toml")
    return Plan(read.job, read.workshop)


def test_a_shallow_drawer_has_two_dowels_at_each_corner(room: Plan) -> None:
    """The pencil drawer's back is 54.2 high; its front's dowels stand clear of the groove for the bottom."""
    corners = [j for c in room.details.cases for j in c.joints if j.kind is JointKind.DRAWER_BOX and j.stations]

    assert min(j.length for j in corners) < 60
    assert {len(j.stations) for j in corners} == {2}
    assert all(dict(j.connectors) and max(n for _, n in j.connectors) == 2 for j in corners)
    assert not any(c.code == "one-fastening" for case in room.details.cases for c in case.cautions)


def test_a_corner_without_room_beside_a_groove_keeps_one_dowel_and_is_told() -> None:
    """45 high, the groove for the bottom up to 16.5: beside it no second dowel has room, so one stays and is told."""
    text = (EXAMPLES / "rehearsal-room.toml").read_text(encoding="utf-8")
    low = text.replace("{ height = 110, holds", "{ height = 70, holds").replace("hand_hold = {", "# {")
    plan = Plan(job_from_text(low, name="low.toml").job, packaged_workshop())
    case = plan.details.cases[0]
    corners = [j for j in case.joints if j.kind is JointKind.DRAWER_BOX and j.stations]
    alone = [j for j in corners if len(j.stations) == 1]
    (told,) = [c for c in case.cautions if c.code == "one-fastening"]

    assert {round(j.length, 1) for j in alone} == {45.0}
    assert told.ids == tuple(j.id for j in alone)
    assert "drawer 1 back" in told.text
    assert all(dict(j.connectors)["dowel 6 x 25"] == len(j.stations) for j in corners)
    steps = plan.assembly.cases[0].steps
    fitted = {c.joint: c.count for s in steps for c in s.fit_first if c.item == "dowel 6 x 25"}
    assert {j.id: len(j.stations) for j in corners} == fitted
    assert not plan.replays[0].faults


def test_a_step_that_fits_more_dowels_than_there_are_holes_is_found(room: Plan) -> None:
    (case,) = room.assembly.cases
    at, one = next((s, c) for s in case.steps for c in s.fit_first)
    more = tuple(replace(c, count=c.count + 1) if c is one else c for c in at.fit_first)
    steps = tuple(replace(s, fit_first=more) if s is at else s for s in case.steps)
    (replay,) = check_plan(
        room.joined, replace(room.assembly, cases=(replace(case, steps=steps),)), details=room.details
    )

    assert any(f"cut for {one.count}" in f.found for f in replay.faults)


LOW = (Path(__file__).parents[1] / "kept_jobs" / "biscuits-at-a-low-corner.toml").read_text(encoding="utf-8")


def low_corners(*heights: int) -> Plan:
    """Return the kept job with drawers in openings of these heights; their boxes are 25 lower."""
    rows = ", ".join(f'{{ height = {h}, holds = "drawer" }}' for h in heights)
    text = LOW.replace('{ height = 148, holds = "drawer" }', rows).replace("height = 548", "height = 900")
    return Plan(job_from_text(text, name="low.toml").job, packaged_workshop())


@pytest.mark.parametrize(
    ("heights", "stations"),
    [
        ((100, 148), {75.0: (45.4,), 123.0: (61.5,)}),
        ((160,), {135.0: (45.4, 103.7)}),
    ],
)
def test_biscuits_that_move_clear_of_the_groove_do_not_run_into_each_other(
    heights: tuple[int, ...], stations: dict[float, tuple[float, ...]]
) -> None:
    """A pocket reaches 27.13 along the joint: 45.4 clears the groove up to 16 by 2, and 2 x 29.13 further is the next.

    123 has no room for that, so one stays, in the middle; 75 has none but at 45.4, nearer to its end than usual.
    """
    plan = low_corners(*heights)
    corners = [j for c in plan.details.cases for j in c.joints if j.kind is JointKind.DRAWER_BOX and j.stations]

    assert {round(j.length, 1): j.stations for j in corners if j.length < 200} == stations
    assert plan.proof.passed, plan.proof.faults


@pytest.mark.parametrize(
    ("heights", "stations"),
    [
        ((112,), {87.0: (34.5, 59.5)}),  # 34.5 and 32 more is nearer than 25 to the end
        ((74, 150), {49.0: (34.5,), 125.0: (46.5, 78.5)}),  # the low one has one, the other keeps its two
    ],
)
def test_only_a_corner_that_needs_it_is_eased(
    heights: tuple[int, ...], stations: dict[float, tuple[float, ...]]
) -> None:
    """Dowels clear the groove at 34.5; drawers a little above a low corner were refused."""
    rows = [replace(builders.opening(float(h)), holds=Holds.DRAWER) for h in heights]
    case = builders.case("A", width=600, height=700, depth=450, inside=builders.rows(*rows, builders.opening()))
    plan = Plan(job(case, methods=MethodChoice(drawer_box="dowels")), packaged_workshop())
    corners = [j for c in plan.details.cases for j in c.joints if j.kind is JointKind.DRAWER_BOX and j.stations]
    (told,) = [c.ids for case in plan.details.cases for c in case.cautions if c.code == "one-fastening"] or [()]

    for length, wanted in stations.items():
        assert {j.stations for j in corners if abs(j.length - length) < 0.01} == {wanted}
    assert set(told) == {j.id for j in corners if len(j.stations) == 1}
    assert all(abs(j.length - 49) < 10 for j in corners if j.id in told)
    assert plan.proof.passed, plan.proof.faults


def test_a_corner_where_no_biscuit_clears_the_groove_is_a_fault_with_ways_out() -> None:
    with pytest.raises(JobError) as caught:
        _ = low_corners(92).details

    told = caught.value.faults[0]
    assert told.code == "clash"
    assert told.allowed == "at least 2 mm of board between them"
    assert told.do == (
        "Choose another method for drawer 1 box front and drawer 1 left side, "
        "or another place for the groove (takes the bottom of drawer 1)."
    )


def test_the_proof_has_its_own_figures_for_a_low_corner(room: Plan) -> None:
    """Two dowels of the lowest corner moved to 11 from its end, then to 17 from each other: both are found."""
    assert room.proof.passed
    low = next(j for c in room.details.cases for j in c.joints if j.kind is JointKind.DRAWER_BOX and 0 < j.length < 60)
    for stations in ((11.0, 40.0), (22.0, 39.0)):
        cases = tuple(
            replace(c, joints=tuple(replace(j, stations=stations) if j.id == low.id else j for j in c.joints))
            for c in room.details.cases
        )
        found = prove(replace(room.details, cases=cases), room.set_out)
        assert any("12 mm from the ends, 18 mm from each other" in str(f) for p in found.findings for f in p.faults)
