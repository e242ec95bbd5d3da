"""Pilot holes of screws in solid wood, held against the lead hole of the wood."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.faults import Caution
from storyrod.planning import Plan
from storyrod.soundness import examine
from tests.unit.soundness.pieces import BOARDS, BOOKCASE, plan_of

CODE = "pilot-in-solid-wood"
DRAWER = '[cases.inside]\nrows = [{ holds = "drawer" }, {}]\n'


def of_wood(name: str) -> str:
    return BOARDS.replace(
        '[boards.mdf18]\nkind = "mdf"', f'[boards.mdf18]\nkind = "solid wood"\nname = "{name}"\ndensity_kg_m3 = 500'
    )


def told(
    text: str, boards: str, *, root: float | None = None, pilot: float = 2.5, first: float = 37.0
) -> list[Caution]:
    """Return the cautions about pilots, the runners having screws of a root, a pilot and a first place."""
    plan = plan_of(text, boards)
    own = plan.workshop
    screws = tuple(replace(s, root=root) if s.code == "pan-head screw 3.5" else s for s in own.screws)
    runners = tuple(replace(r, screw_diameter=pilot, screws=(first, *r.screws[1:])) for r in own.runners)
    plan = Plan(plan.job, replace(own, screws=screws, runners=runners))
    return [c for c in examine(plan.carcass, plan.details, plan.workshop).cautions if c.code == CODE]


@pytest.mark.parametrize(
    ("wood", "joint_screw"),
    [
        ("white oak", []),  # 4 x 50: root 2.67, wants 2.4, has 2.5
        ("ponderosa pine", ["softwood"]),  # wants 1.87
        ("joinery grade", []),  # neither named: 1.9 to 2.4 serves, and 2.5 is no drill away
    ],
)
def test_a_joints_pilot_is_held_against_the_wood_it_is_bored_in(wood: str, joint_screw: list[str]) -> None:
    cautions = told('[methods]\ncorner = "plain screws"\nplinth = "plain screws"\n' + BOOKCASE, of_wood(wood))

    assert len(cautions) == len(joint_screw)
    for caution, kind in zip(cautions, joint_screw, strict=True):
        assert "The pilot hole is 2.5 mm, so big that the thread holds less." in caution.text
        assert f"In {wood} ({kind}) this screw needs 1.9 mm." in caution.text
        assert "screw 4 x 50 in A" in caution.about


def test_no_rule_of_wood_is_held_against_a_sheet() -> None:
    assert told('[methods]\ncorner = "plain screws"\n' + BOOKCASE, BOARDS) == []


def test_a_runners_screws_are_held_against_the_wood_of_the_sides() -> None:
    """Root 3.5 x 2/3 = 2.33: 1.63 in pine; with a root of 3 measured, 2.1, and the pilot of 2.5 will do."""
    pine = of_wood("ponderosa pine")

    runner = next(c for c in told(BOOKCASE + DRAWER, pine) if "pan-head screw 3.5" in c.about)

    assert "this screw needs 1.6 mm" in runner.text
    assert not [c for c in told(BOOKCASE + DRAWER, pine, root=3.0) if "pan-head screw 3.5" in c.about]


def test_a_pilot_so_thin_that_the_wood_splits_is_told() -> None:
    caution = next(c for c in told(BOOKCASE + DRAWER, of_wood("white oak"), pilot=1.5) if "3.5" in c.about)

    assert "The pilot hole is 1.5 mm, so small that it splits the wood." in caution.text
    assert "(hardwood) this screw needs 2.1 mm" in caution.text


def test_a_screw_that_meets_a_thick_lipping_is_held_against_the_lippings_wood() -> None:
    """The sides are MDF with 25 mm of pine in front; the runner's first screw stands 2 + 20 mm behind the edge."""
    pine = BOARDS.replace("red oak lipping", "pine lipping").replace("thickness = 12", "thickness = 25")
    lipped = pine.replace("measured = 18\n", 'measured = 18\nedging = "oak"\n', 1)

    (caution,) = told(BOOKCASE + DRAWER, lipped, first=20.0)

    assert "In pine lipping (softwood) this screw needs 1.6 mm" in caution.text
    assert told(BOOKCASE + DRAWER, lipped) == []
