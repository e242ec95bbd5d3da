"""Which method a joint gets, and what is said of a choice that cannot be."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit, parse_length
from storyrod.model.job import Back, BackKind, Case, JointOverride, Plinth, Spread
from storyrod.model.joint import JointKind
from tests import builders
from tests.unit.joinery.boxes import between, choice, detailed, joined, method, workshop


def shelved(**more: Any) -> Case:
    return builders.case(inside=builders.rows(builders.opening(), builders.opening()), **more)


def override(*between: str, case: str = "A", **more: Any) -> JointOverride:
    return JointOverride(case=case, between=(between[0], between[1]), field="joints[0]", **more)


def told(case: Case, **job: Any) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as caught:
        joined(case, **job)
    return caught.value.faults


def test_the_case_goes_before_the_job_and_the_job_before_the_workshop() -> None:
    case = joined(
        shelved(plinth=Plinth(height=100, setback=40), methods=choice(mid_panel="biscuits")),
        methods=choice(mid_panel="loose tenons", plinth="pocket screws"),
    )

    used = {j.kind: j.method for j in case.joints}
    assert used == {
        JointKind.CORNER: "dowels",
        JointKind.MID_PANEL: "biscuits",
        JointKind.PLINTH: "pocket screws",
    }


def test_an_override_names_its_two_panels_in_either_order() -> None:
    mine = override("shelf 1", "left side", method="biscuits", spread=Spread.EVEN)
    case = joined(shelved(depth=560), overrides=(mine,))

    assert between(case, "left side", "shelf 1").method == "biscuits"
    assert between(case, "left side", "shelf 1").stations == pytest.approx((50, 50 + 460 / 3, 50 + 920 / 3, 510))
    assert between(case, "right side", "shelf 1").method == "dowels"


def test_an_override_may_change_the_spread_alone() -> None:
    case = joined(shelved(depth=560), overrides=(override("left side", "shelf 1", spread=Spread.EVEN),))

    joint = between(case, "left side", "shelf 1")
    assert (joint.method, len(joint.stations), joint.stations[-1]) == ("dowels", 4, 510.0)


def test_an_unknown_panel_is_told_with_the_nearest_name() -> None:
    faults = told(shelved(), overrides=(override("left sid", "shelf 1", method="biscuits"),))

    assert [(f.code, f.field, f.found) for f in faults] == [("unknown-panel", "joints[0].between", '"left sid"')]
    assert faults[0].do == 'Did you mean "left side"?'
    assert "right side" in faults[0].allowed


def test_two_panels_that_do_not_meet_are_told() -> None:
    faults = told(shelved(), overrides=(override("top", "shelf 1", method="biscuits"),))

    assert [(f.code, f.field) for f in faults] == [("no-such-joint", "joints[0].between")]
    assert faults[0].allowed == "top has joints with left side, right side"


def test_an_override_of_another_case_is_left_to_that_case() -> None:
    case = joined(shelved(), overrides=(override("nothing", "here", case="B", method="biscuits"),))

    assert {j.method for j in case.joints} == {"dowels"}


def test_an_unknown_method_is_told_once_with_the_nearest_name() -> None:
    faults = told(shelved(), methods=choice(corner="dowles"))

    assert [(f.code, f.field, f.do) for f in faults] == [("unknown-method", "methods.corner", 'Did you mean "dowels"?')]


def test_a_class_without_a_method_is_told() -> None:
    shop = workshop(default_methods=(("corner", "dowels"),))
    with pytest.raises(JobError) as caught:
        joined(shelved(), shop)

    faults = caught.value.faults
    assert [(f.code, f.field) for f in faults] == [("no-method", "methods.mid_panel")]
    assert "biscuits" in faults[0].allowed
    assert "rebate" not in faults[0].allowed


def test_faults_of_choice_and_of_fit_come_together() -> None:
    faults = told(
        shelved(plinth=Plinth(height=100, setback=40)),
        methods=choice(corner="dowles", plinth="rebate"),
    )

    assert sorted({f.field for f in faults}) == ["methods.corner", "methods.plinth"]


def test_a_drawer_bottom_against_its_box_is_screwed_on() -> None:
    from storyrod.model.job import BottomKind, Drawers

    case = joined(
        builders.case(
            depth=560,
            inside=builders.drawer(),
            drawers=Drawers(bottom=BottomKind.APPLIED, board="b12", bottom_board="b6"),
        )
    )

    bottoms = [j for j in case.joints if j.receiving.endswith("bottom")]
    assert len(bottoms) == 4
    assert {j.method for j in bottoms} == {"screwed back"}


def test_the_methods_of_a_job_are_those_that_it_uses() -> None:
    from tests.unit.joinery.boxes import joined_job

    job = joined_job(shelved(back=Back(kind=BackKind.APPLIED, board="b6")))

    assert [m.code for m in job.methods] == ["dowels", "screwed back"]


def test_a_board_on_the_limit_of_two_sizes_takes_one_of_them_wherever_it_stands() -> None:
    """A base 15.5 thick that stands on 2 1/16" is 15.499999999999996 thick by the difference: a board of 15.5 still."""
    case = detailed(
        shelved(plinth=Plinth(height=parse_length("2 1/16", Unit.INCH), setback=40)),
        boards=(builders.board(thickness=16.0, measured=15.5), *builders.boards()[1:]),
    )

    (size,) = (s for s in method("dowels").sizes if s.low == 15.5)
    assert {c.item for c in case.connectors} == {c.item for c in size.consumes}
