"""How many people a step takes: by mass, by length, by what hands are free."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import read_job
from storyrod.assembly._lifts import Lift
from storyrod.carcass import build
from storyrod.measure.space import Axis
from storyrod.measure.writing import METRIC
from storyrod.model.assembly import CasePlan, StepKind
from storyrod.planning import Plan
from storyrod.trade.lifting import alone_kg, persons_to_lift
from tests.places import EXAMPLES

ALONE = [
    # Held close to the body, a part is as heavy as the workshop lets one person lift.
    (1200.0, False, 20.0),
    # Longer: 7 kg, the lower figure of the guideline filter at arm's length, from elbow to shoulder.
    (1200.1, False, 7.0),
    (1800.0, False, 7.0),
    # Longer yet, one end goes over the shoulder: 3 kg.
    (1800.1, False, 3.0),
    # One hand drives: half of each.
    (1200.0, True, 10.0),
    (1200.1, True, 3.5),
    (1800.1, True, 1.5),
]


@pytest.mark.parametrize(("longest", "driving", "kg"), ALONE)
def test_what_one_person_handles_hangs_on_length_and_hands(longest: float, driving: bool, kg: float) -> None:
    assert alone_kg(longest, 20.0, driving=driving) == pytest.approx(kg)
    assert persons_to_lift(kg, longest, 20.0, driving=driving) == 1
    assert persons_to_lift(kg + 0.1, longest, 20.0, driving=driving) == 2


def test_a_workshop_that_lets_one_person_lift_less_is_heard() -> None:
    assert alone_kg(1500.0, 5.0) == 5.0
    assert alone_kg(2000.0, 2.0) == 2.0


def test_mass_asks_for_more_than_two() -> None:
    assert [persons_to_lift(kg, 2000.0, 20.0) for kg in (2.9, 3.1, 40.0, 40.1, 60.1)] == [1, 2, 2, 3, 4]


@pytest.fixture(scope="module")
def robe() -> CasePlan:
    read = read_job(EXAMPLES / "robe-cupboard.toml")
    return Plan(read.job, read.workshop).assembly.cases[0]


def test_no_long_part_of_the_robe_cupboard_is_left_to_one_person(robe: CasePlan) -> None:
    """Its doors are 1866 mm tall and 10.3 kg, its sides 1960 mm and 13.6 kg: laid, brought, fitted and hung by two."""
    tall = {"left side", "right side", "back", "door 1", "door 2"}
    alone = {
        s.number: s.text
        for s in robe.steps
        if s.persons == 1
        and any(
            f"{verb} {the}{name} " in f"{s.text.lower()} "
            for name in tall
            for verb in ("lay", "stand", "lower", "bring", "hang")
            for the in ("the ", "")
        )
    }
    assert alone == {}
    hung = [s for s in robe.steps if s.kind is StepKind.DOOR]
    assert [(s.persons, [c.code for c in s.cautions]) for s in hung] == [(2, ["lift"]), (2, ["lift"])]
    assert "10.3 kg and 1866 mm long" in hung[0].cautions[0].text


def test_short_light_parts_stay_with_one_person(robe: CasePlan) -> None:
    plinth = next(s for s in robe.steps if "plinth straight" in s.text)
    assert (plinth.persons, plinth.cautions) == (1, ())


def test_what_is_screwed_while_it_is_held_up_weighs_twice() -> None:
    read = read_job(EXAMPLES / "robe-cupboard.toml")
    shelf = next(p for p in build(read.job, read.workshop).cases[0].panels if p.name == "shelf 1")
    assert shelf.box.size(Axis.X) < 1200

    def lift(*, driving: bool) -> Lift:
        return Lift(panels=(shelf,), mass_kg=12.0, one_person_kg=20.0, lengths=METRIC, driving=driving)

    assert (lift(driving=False).persons, lift(driving=True).persons) == (1, 2)
    assert "held up with one hand" in lift(driving=True).cautions()[0].text
