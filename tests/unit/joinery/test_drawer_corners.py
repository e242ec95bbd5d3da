"""Two fastenings at least at each corner of a drawer, or a caution: one alone lets the corner twist."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.files import job_from_text, packaged_workshop, read_job
from storyrod.joinery._stations import corner_rules, rules_kept, two_at_a_corner
from storyrod.model.joint import JointKind
from storyrod.model.method import StationRules
from storyrod.plan import Plan
from storyrod.proof import prove
from tests.places import EXAMPLES

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
    case = Plan(job_from_text(low, name="low.toml").job, packaged_workshop()).details.cases[0]
    corners = [j for j in case.joints if j.kind is JointKind.DRAWER_BOX and j.stations]
    alone = [j for j in corners if len(j.stations) == 1]
    (told,) = [c for c in case.cautions if c.code == "one-fastening"]

    assert {round(j.length, 1) for j in alone} == {45.0}
    assert told.ids == tuple(j.id for j in alone)
    assert "drawer 1 back" in told.text
    assert all(dict(j.connectors)["dowel 6 x 25"] == len(j.stations) for j in corners)


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
