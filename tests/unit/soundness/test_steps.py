"""The step at every joint: the errors that are taken, those that are given, and what would halve it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storyrod.measure.writing import METRIC
from storyrod.model.joint import JointId
from storyrod.model.simulation import THICKNESS, ErrorShape, ErrorTerm
from storyrod.model.soundness import ExpectedStep, JointErrors
from storyrod.model.thresholds import Thresholds
from storyrod.soundness import errors_of_ways, examine
from storyrod.soundness._steps import halved_by, may_show
from storyrod.trade.stack import worst_case
from tests.unit.soundness.pieces import BOOKCASE, Found, found, plan_of

SHELVES = (
    '[methods]\ncorner = "dowels"\nmid_panel = "carcass screws"\n' + BOOKCASE + "[cases.inside]\nrows = [{}, {}]\n"
)


def step(it: Found, about: str) -> ExpectedStep:
    return next(s for s in it.case.steps if s.about == about)


def test_the_usual_errors_by_hand() -> None:
    """Dowels +-0.15; MDF +-0.2 over the sheet, half of it from centre lines: 0.25 at worst, 0.180 by squares."""
    corner = step(found(SHELVES), "top to left side")

    assert corner.worst == pytest.approx(0.25)
    assert corner.rss == pytest.approx((0.15**2 + 0.1**2) ** 0.5)
    assert corner.middle < corner.most < corner.worst
    assert [t.coefficient for t in corner.terms] == [1.0, 0.5]
    assert corner.along == pytest.approx(0.15)


def test_errors_given_for_a_joint_take_their_place() -> None:
    plan = plan_of(SHELVES)
    (joint,) = [j.id for j in plan.details.cases[0].joints if (j.entering, j.receiving) == ("A.shelf-1", "A.side-left")]
    same_face = JointErrors(
        across=(
            ErrorTerm(name="jig", tolerance=0.1),
            ErrorTerm(name="thickness of the board", tolerance=0.2, coefficient=0.0, shape=ErrorShape.EVEN),
        ),
        along=(ErrorTerm(name="jig", tolerance=0.3),),
        why="both halves from the same face",
    )
    told = examine(plan.carcass, plan.details, plan.workshop, errors={JointId(joint): same_face})
    mended = next(s for s in told.cases[0].steps if s.joint == joint)
    other = next(s for s in told.cases[0].steps if s.about == "shelf 1 to right side")

    assert (mended.worst, mended.rss, mended.along) == pytest.approx((0.1, 0.1, 0.3))
    assert mended.why == "both halves from the same face"
    assert other.rss > 0.3


def test_the_joint_most_likely_to_show_is_named_where_it_is_likely() -> None:
    it = found(SHELVES, thresholds=Thresholds(step_shows=0.15, step_chance=0.1))

    likeliest = it.case.likeliest_step
    assert likeliest is not None
    assert likeliest.about.startswith("shelf 1")
    assert "carcass screws" in likeliest.halved_by
    assert "step-shows" in it.codes
    assert "step-shows" not in found(SHELVES, thresholds=Thresholds(step_shows=0.5)).codes


TERMS = st.builds(
    ErrorTerm,
    name=st.sampled_from("abcd"),
    tolerance=st.floats(0.01, 0.6),
    coefficient=st.sampled_from((-1.0, 0.0, 0.5, 1.0)),
    shape=st.sampled_from(ErrorShape),
)


@given(terms=st.lists(TERMS, min_size=1, max_size=4), chance=st.sampled_from((0.05, 0.1, 0.2, 0.3)))
def test_what_is_not_simulated_would_not_have_been_told(terms: list[ErrorTerm], chance: float) -> None:
    """Where the bound says that a step cannot show often enough, throwing the errors finds the same."""
    limits = Thresholds(step_chance=chance)
    (some,) = found(SHELVES).case.steps[:1]
    thrown = replace(
        some, terms=tuple(terms), worst=worst_case(terms), throws=replace(some.throws, shows=limits.step_shows)
    )

    assert may_show(thrown, limits) or thrown.chance < chance


def test_the_bound_spares_usual_joints_the_simulation_and_no_doubtful_one() -> None:
    """By hand: +-0.25 in two errors, deviation 0.0764: 4/9 (0.0764 / 0.15)^2 = 0.115."""
    corner = step(found(SHELVES), "top to left side")

    assert not may_show(corner, Thresholds())
    assert may_show(corner, Thresholds(step_shows=0.15, step_chance=0.11))
    assert not may_show(corner, Thresholds(step_shows=0.15, step_chance=0.12))
    assert may_show(corner, Thresholds(step_shows=0.08, step_chance=0.9))


def test_the_same_seed_gives_the_same_figures_and_another_gives_others() -> None:
    first, again, other = (found(SHELVES, seed=s).case.steps for s in (5, 5, 6))

    assert first == again
    assert [s.most for s in first] != [s.most for s in other]
    assert [s.rss for s in first] == [s.rss for s in other]


@pytest.mark.parametrize(
    ("terms", "says"),
    [
        ((("jig", 0.4, 1.0), ("drill", 0.1, 1.0)), "jig: to ±0.18 mm from ±0.4"),
        ((("drill", 0.1, 1.0), (THICKNESS, 1.0, 0.5)), "placing both halves from the same face"),
        ((("a", 0.2, 1.0), ("b", 0.2, 1.0)), "no single error: a is the greatest, at ±0.2 mm"),
        ((("a", 0.0, 1.0),), "nothing is left to improve"),
    ],
)
def test_what_would_halve_it(terms: tuple[tuple[str, float, float], ...], says: str) -> None:
    """0.4 and 0.1: 0.412; half is 0.206, which 0.18 and 0.1 give."""
    found_terms = tuple(ErrorTerm(name=n, tolerance=t, coefficient=c, cause=n) for n, t, c in terms)

    assert halved_by(found_terms, METRIC).startswith(says)


def test_a_back_has_no_step_that_shows() -> None:
    it = found(BOOKCASE + '[cases.back]\nkind = "applied"\nboard = "mdf6"\n')

    assert not any("back" in s.about for s in it.case.steps)


def test_the_ways_of_the_work_plan_take_the_place_of_the_usual_errors() -> None:
    plan = plan_of(SHELVES)
    planned = plan.machining.steps_expected
    told = examine(plan.carcass, plan.details, plan.workshop, errors=errors_of_ways(planned))
    by_joint = {s.joint: s for s in told.cases[0].steps}

    known = [(step, j) for step in planned for j in step.joints if j in by_joint]
    assert known
    for step, joint in known:
        assert by_joint[joint].rss == pytest.approx(step.across.rss)
        assert by_joint[joint].worst == pytest.approx(step.across.worst)
        assert by_joint[joint].along == pytest.approx(step.along.rss)
        assert ("same face" in by_joint[joint].why) == step.same_face
