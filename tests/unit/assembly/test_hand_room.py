"""No screw is driven where the driver cannot come, and nothing tall stands with nothing at its top."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.files import read_job
from storyrod.assembly import check_plan, plan_assembly, try_assembly
from storyrod.faults import JobError
from storyrod.measure.space import Direction
from storyrod.model.assembly import AssemblyPlan, CasePlan, StepKind
from storyrod.model.detail import Joined
from storyrod.model.hand_room import TALL
from storyrod.model.method import Cut, CutKind, CutPlace
from storyrod.planning import Plan
from tests.places import EXAMPLES
from tests.unit.assembly.pieces import DOWELS, LEFT, RIGHT, SCREWS, D, H, T, across, both_sides, box, joined, shop

BOX = {"left": LEFT, "right": RIGHT, "base": across(0), "top": across(H - T)}


def screwed() -> Joined:
    return joined(BOX, [j for name in ("base", "top") for j in both_sides(name, SCREWS)])


def with_case(plan: AssemblyPlan, case: CasePlan) -> AssemblyPlan:
    return replace(plan, cases=(case,))


def test_no_screw_is_driven_from_the_face_that_lies_on_the_bench() -> None:
    """The screws go in from outside the sides: neither side lies on the bench while they are driven."""
    plan = plan_assembly(screwed(), shop())
    lying = {("A.left",): Direction.LEFT, ("A.right",): Direction.RIGHT}
    assert plan.cases[0].steps

    for step in plan.cases[0].steps:
        for joint in step.screws:
            side = "A.left" if joint in {"A.J1", "A.J3"} else "A.right"
            assert step.down is not lying[side,]
    assert check_plan(screwed(), plan)[0].passed


def test_the_checker_finds_a_driver_that_would_come_through_the_bench() -> None:
    """Screws in both sides, laid down afterwards: the same steps with the work on its left side."""
    made, plan = screwed(), plan_assembly(screwed(), shop())
    case = plan.cases[0]
    steps = tuple(replace(s, down=Direction.LEFT) if s.kind is StepKind.JOIN else s for s in case.steps)

    (replay,) = check_plan(made, with_case(plan, replace(case, steps=steps)))

    assert any("through the bench" in line for line in replay.lines())


def close_shelves(gap: float) -> Joined:
    """A divider with a shelf screwed on through it from each side, one `gap` above the other."""
    panels = {
        **BOX,
        "middle": box((291, 309), (0, D), (T, H - T)),
        "one": box((T, 291), (0, D), (200, 200 + T)),
        "two": box((309, 600 - T), (0, D), (200 + gap, 200 + gap + T)),
    }
    joints = [j for name in ("base", "top") for j in both_sides(name, DOWELS)]
    joints += [("middle", "base", DOWELS), ("middle", "top", DOWELS)]
    joints += [("one", "left", DOWELS), ("one", "middle", SCREWS)]
    joints += [("two", "right", DOWELS), ("two", "middle", SCREWS)]
    return joined(panels, joints)


def test_shelves_too_close_on_both_sides_of_a_divider_are_a_fault_with_ways_out() -> None:
    """A right-angle driver takes 20 to each side of the screw: 25 from middle to middle leaves 16."""
    with pytest.raises(JobError) as caught:
        plan_assembly(close_shelves(25), shop())

    (fault,) = caught.value.faults
    assert fault.code == "no-driver"
    assert "one" in fault.found
    assert "two" in fault.found
    assert "110 mm" in fault.allowed
    assert "Join one to middle" in fault.do


@pytest.mark.parametrize(("gap", "short"), [(32, True), (45, False)])
def test_little_room_asks_for_a_short_driver(gap: float, short: bool) -> None:
    """From 29 on a right-angle driver passes (20 + 9); a drill's body, 30 to each side, asks for 39."""
    made = close_shelves(gap)
    plan = plan_assembly(made, shop())
    told = [s for s in plan.cases[0].steps if s.short_driver]

    assert bool(told) is short
    assert all("right-angle driver" in s.text for s in told)
    assert check_plan(made, plan)[0].passed
    if told:
        steps = tuple(replace(s, short_driver=()) for s in plan.cases[0].steps)
        (replay,) = check_plan(made, with_case(plan, replace(plan.cases[0], steps=steps)))
        assert "is in the way of the drill-driver" in " ".join(replay.lines())


def test_a_driver_named_for_a_joint_without_screws_is_found() -> None:
    made = close_shelves(45)
    plan = plan_assembly(made, shop())
    first = next(s for s in plan.cases[0].steps if s.kind is StepKind.JOIN)
    steps = tuple(replace(s, short_driver=("A.J99",)) if s is first else s for s in plan.cases[0].steps)  # type: ignore[arg-type]

    (replay,) = check_plan(made, with_case(plan, replace(plan.cases[0], steps=steps)))

    assert "takes no screws" in " ".join(replay.lines())


def test_pockets_are_driven_over_the_face_they_are_cut_in() -> None:
    """Pockets in the underside of a base 60 over the floor: it cannot be screwed while it stands there."""
    pocket = Cut(kind=CutKind.ANGLED_POCKET, diameter=9.5, angle_deg=15.0, length=20.0, place=CutPlace.FAR_FACE)
    size = replace(SCREWS.sizes[0], receiving=(), entering=(pocket,))
    pockets = replace(SCREWS, code="pockets", name="pockets", sizes=(size,))
    made = joined({**BOX, "base": across(60)}, [*both_sides("base", pockets), *both_sides("top", DOWELS)])
    made = replace(made, methods=(*made.methods, pockets))
    plan = plan_assembly(made, shop())

    driven = [s for s in plan.cases[0].steps if s.screws]
    assert driven
    for step in driven:
        low = step.down is Direction.DOWN and {"A.left", "A.right"} & {*step.moving, *step.onto}
        assert not low or step.short_driver
    assert check_plan(made, plan)[0].passed


def tall_case() -> Plan:
    read = read_job(EXAMPLES / "robe-cupboard.toml")
    return Plan(read.job, read.workshop)


def test_nothing_tall_is_stood_up_before_its_top_is_on() -> None:
    """The robe cupboard is 1960 high: its top is on each side before that side stands on its end."""
    plan = tall_case()
    case = plan.details.cases[0]
    together: set[str] = set()
    stood = False
    for step in plan.assembly.cases[0].steps:
        if step.body != "carcass" or step.kind not in {StepKind.JOIN, StepKind.TURN}:
            continue
        together |= {*step.moving, *step.onto}
        if step.down is Direction.DOWN and {"R.side-left", "R.side-right"} & together:
            assert "R.top" in together
            stood = True
    assert stood
    assert case.panel(case.panels[0].id).box.high.z > TALL


def test_the_checker_finds_what_is_stood_up_too_early() -> None:
    """The panel that follows the top is joined before it, and the side stands on its end already."""
    plan = tall_case()
    case = plan.assembly.cases[0]
    joins = [s for s in case.steps if s.kind is StepKind.JOIN and s.body == "carcass"]
    n = next(n for n, s in enumerate(joins) if "R.top" in s.moving)
    top, after = joins[n], joins[n + 1]
    early = replace(after, onto=top.onto, down=Direction.DOWN)
    late = replace(top, onto=(*top.onto, *after.moving))
    steps = tuple(early if s is top else late if s is after else s for s in case.steps)

    (replay,) = check_plan(plan.joined, with_case(plan.assembly, replace(case, steps=steps)))

    assert any("stands tall" in line for line in replay.lines())


def test_where_nothing_else_will_do_a_tall_panel_is_cautioned() -> None:
    """Without work to search, the order found may stand something up: it then says so, and the checker agrees."""
    read = read_job(EXAMPLES / "robe-cupboard.toml")
    plan = Plan(read.job, read.workshop)

    found = try_assembly(plan.joined, plan.workshop, work=0)

    assert check_plan(plan.joined, found)[0].passed


def test_each_step_counts_people_and_clamps() -> None:
    made = joined(BOX, [j for name in ("base", "top") for j in both_sides(name, DOWELS)])
    steps = plan_assembly(made, shop()).cases[0].steps
    last = next(s for s in reversed(steps) if s.clamps)

    assert len(last.clamps) == 4
    assert last.clamp_count == 4
    assert last.hands == "1 person, 4 clamps"
    assert steps[0].hands == "1 person, no clamps"
