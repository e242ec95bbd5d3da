"""A skirting board behind a case: notches, what stands clear of it, what cannot be; by hand. No source."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.assembly import check_plan
from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.model.assembly import StepKind
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import CutOut
from storyrod.model.hung import Hung, WallKind
from storyrod.model.job import Back, BackKind, BetweenOrOver, Feet, MethodChoice, Plinth, Skirting, Worktop
from storyrod.model.panel import Panel, Role
from storyrod.model.proof import Claim
from storyrod.planning import Plan
from storyrod.proof import prove
from tests.builders import case, job, workshop

BOARD = Skirting(height=95, depth=18)
"""98 high and 21 deep are cut away: 3 more each way."""

GROOVED = Back(kind=BackKind.GROOVED, board="b6")
BETWEEN = Back(kind=BackKind.BETWEEN, board="b6")


def built(skirting: Skirting = BOARD, **more: Any) -> BuiltCase:
    return build(job(case(skirting=skirting, **more)), workshop()).cases[0]


def panel(of: BuiltCase, role: Role, name: str = "") -> Panel:
    return next(p for p in of.panels if p.role is role and name in p.name)


def notches(of: BuiltCase) -> dict[str, tuple[float, float, float, float]]:
    """Return the notch of each side: its middle up the side, where it opens, how high and how deep it is."""
    return {
        str(f.panel): (f.at.u, f.at.v, f.shape.length, f.shape.height)
        for f in of.fittings
        if isinstance(f.shape, CutOut) and f.item == "skirting"
    }


def faults(**more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as told:
        built(**more)
    assert all(f.do and f.allowed for f in told.value.faults)
    return [(f.code, f.field) for f in told.value.faults]


def test_both_sides_lose_their_lower_rear_corner() -> None:
    of = built(plinth=Plinth(height=100))

    assert notches(of) == {"A.side-left": (49, 400, 98, 21), "A.side-right": (49, 400, 98, 21)}
    assert panel(of, Role.BASE).box.high.y == 400


def test_an_applied_back_takes_its_thickness_off_the_notch() -> None:
    """The sides end 6 before the wall."""
    of = built(plinth=Plinth(height=100), back=Back(kind=BackKind.APPLIED, board="b6"))

    assert set(notches(of).values()) == {(49, 394, 98, 15)}


def test_a_case_off_the_wall_by_its_worktop_s_overhang_is_notched_by_less() -> None:
    of = built(plinth=Plinth(height=100), worktop=Worktop(front=20, back=15))

    assert set(notches(of).values()) == {(49, 400, 98, 6)}
    assert notches(built(plinth=Plinth(height=100), worktop=Worktop(front=20, back=25))) == {}


def test_sides_on_feet_are_notched_above_them_only() -> None:
    """On feet of 100 nothing is in the way; on feet of 90 the notch is 8 high, and the rear feet stand before it."""
    assert notches(built(feet=Feet(height=100))) == {}
    of = built(feet=Feet(height=90))
    assert set(notches(of).values()) == {(4, 400, 8, 21)}
    assert max(f.y for f in built(Skirting(height=80, depth=18), feet=Feet(height=90)).feet) == 400 - 21 - 35


@pytest.mark.parametrize(
    ("back", "inset", "inside"),
    [(Back(kind=BackKind.NONE), 21, 379), (BETWEEN, 21, 373), (GROOVED, 24.2, 369.8)],
    ids=["none", "between", "grooved"],
)
def test_back_and_base_stand_before_a_skirting_board_that_is_higher_than_the_plinth(
    back: Back, inset: float, inside: float
) -> None:
    """The base ends 21 before the wall; 3 of its board and 0.2 stay behind the groove of a back."""
    of = built(plinth=Plinth(height=60, back_rail=True), back=back)

    assert panel(of, Role.BASE).box.high.y == 379
    assert of.inside.high.y == pytest.approx(inside)
    assert panel(of, Role.PLINTH, "back rail").box.high.y <= 379
    if back.kind is not BackKind.NONE:
        assert panel(of, Role.BACK).box.high.y == pytest.approx(400 - inset)


def test_a_base_under_the_sides_ends_before_it_too() -> None:
    of = built(base=BetweenOrOver.UNDER_SIDES)

    assert panel(of, Role.BASE).box.high.y == 379
    assert set(notches(of).values()) == {(40, 400, 80, 21)}
    assert panel(of, Role.BASE).sums[1] == "400 - 21"


def test_what_cannot_be_is_told() -> None:
    low, at = Plinth(height=60), "cases[0].skirting"
    assert faults(plinth=low, back=Back(kind=BackKind.APPLIED)) == [("skirting-back", "cases[0].back.kind")]
    assert faults(plinth=low, back=Back(kind=BackKind.REBATED, board="b6")) == [("skirting-back", "cases[0].back.kind")]
    assert faults(plinth=low, back=replace(BETWEEN, inset=20)) == [("skirting-back", "cases[0].back.inset")]
    assert faults(hung=Hung(top_at=2000, wall=WallKind.MASONRY)) == [("skirting-hung", at)]
    assert faults(skirting=Skirting(height=358, depth=18)) == [("skirting-size", f"{at}.height")]
    assert faults(skirting=Skirting(height=95, depth=98), depth=200) == [("skirting-size", f"{at}.depth")]
    assert faults(plinth=Plinth(height=100, setback=370)) == [("plinth-setback", "cases[0].plinth.setback")]
    assert notches(built(Skirting(height=357, depth=18))) != {}
    assert notches(built(Skirting(height=95, depth=97), depth=200)) != {}


@pytest.fixture(scope="module")
def plan() -> Plan:
    return Plan(job(case(skirting=BOARD, plinth=Plinth(height=60), back=BETWEEN)), packaged_workshop())


def test_the_proof_measures_what_is_left_over_the_skirting_board(plan: Plan) -> None:
    """A notch that is 4 lower, or 4 less deep, leaves less than is asked for."""
    assert not plan.proof.faults
    for length, height in ((94.0, 21.0), (98.0, 17.0)):
        (whole,) = plan.details.cases
        cut = tuple(
            replace(f, shape=replace(f.shape, length=length, height=height))
            if isinstance(f.shape, CutOut) and f.item == "skirting"
            else f
            for f in whole.features
        )
        wrong = replace(plan.details, cases=(replace(whole, features=cut),))
        told = prove(wrong, plan.set_out)
        found = next(f for f in told.findings if f.claim is Claim.MEASURED)
        assert found.faults


def test_the_case_goes_to_its_place_once_it_is_whole(plan: Plan) -> None:
    (one,) = plan.assembly.cases
    step = next(s for s in one.steps if s.kind is StepKind.PLACE)

    assert "a skirting board 95 mm high and 18 mm thick, with 3 mm to spare" in step.text
    assert {p.id for p in plan.details.cases[0].panels} == set(step.moving)


def test_the_replay_misses_a_case_that_never_goes_to_its_place(plan: Plan) -> None:
    (one,) = plan.assembly.cases
    left = replace(one, steps=tuple(s for s in one.steps if s.kind is not StepKind.PLACE))

    assert not check_plan(plan.joined, plan.assembly)[0].faults
    told = check_plan(plan.joined, replace(plan.assembly, cases=(left,)))[0].faults
    assert any("skirting board" in f.found for f in told)


def test_the_tongue_of_a_side_that_stands_in_its_base_is_notched_with_it() -> None:
    """The base ends before the skirting board, and so must what is let into it."""
    made = job(
        case(skirting=BOARD, base=BetweenOrOver.UNDER_SIDES),
        methods=MethodChoice(corner="rebate"),
    )
    plan = Plan(made, packaged_workshop())
    of = plan.details.cases[0]
    side = next(p for p in of.panels if p.role is Role.SIDE_LEFT)
    notch = next(f for f in of.features if f.panel == side.id and f.item == "skirting")

    assert side.box.low.z < of.built.case.skirting.top  # type: ignore[union-attr]
    assert isinstance(notch.shape, CutOut)
    base = next(p for p in of.panels if p.role is Role.BASE)
    assert side.box.low.z < base.box.high.z - 1, "the side is let into the base"
    assert notch.at.u - notch.shape.length / 2 == pytest.approx(0)
    assert notch.at.u + notch.shape.length / 2 + side.box.low.z == pytest.approx(98)
    assert plan.proof.passed, plan.proof.faults
