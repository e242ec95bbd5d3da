"""What cannot be cut, guided, held or ordered is told: which field, what was found, what is allowed, what to do."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from storyrod.adapters.files import workshop_from_text
from storyrod.faults import Fault, JobError
from storyrod.machining import trial_fence, trial_gap, trial_step
from storyrod.machining._order import find_order
from storyrod.model.machining import Correction
from storyrod.model.workshop import Bush, Workshop
from storyrod.trade.bush import bush_offset
from tests.unit.machining.shops import SHOP, box, job, ladder_shop, owned_jig, shop, worked


def refused(workshop: Workshop) -> tuple[Fault, ...]:
    with pytest.raises(JobError) as caught:
        worked(job(box()), workshop)
    assert all((f.field, f.found, f.allowed, f.do) for f in caught.value.faults)
    return caught.value.faults


def test_a_depth_that_no_cutter_reaches() -> None:
    """Holes of 8, 24 deep in edges and 13 in faces; every cutter reaches 10 at the most."""
    short = tuple(replace(c, reach=10.0) for c in SHOP.cutters)
    face, edge = sorted(refused(shop(cutters=short)), key=lambda f: f.found)

    assert {face.code, edge.code} == {"no-way"}
    assert face.field == edge.field == "methods.corner"
    assert "hole Ø8, 24 deep in the datum end of the top of case A" in edge.found + face.found
    assert "an 8 mm drill with at least 24 mm reach" in edge.do + face.do
    assert "with at least 22 mm reach, or" in edge.do + face.do  # through a template of 9, 13 deep


def test_what_is_missing_is_told_as_a_choice() -> None:
    """A straight cutter that would reach, but no bush for it: the bush is named beside the drill."""
    straight = tuple(c for c in SHOP.cutters if c.kind.value == "straight")
    told = " ".join(f.do for f in refused(shop(cutters=straight, bushes=())))

    assert "an 8 mm drill with at least" in told
    assert ", or a guide bush with a bore of 9 mm or more, shorter than the 9 mm template" in told


def test_nothing_is_asked_for_that_includes_what_was_told_before() -> None:
    """A drill by itself will do in a drill press: no drill and a drill jig are asked for as well."""
    press = tuple(replace(t, base_to_centre=2.0) if t.kind.value == "drill jig" else t for t in SHOP.tools)
    told = [f.do for f in refused(shop(cutters=(), tools=press))]

    for words in told:
        wanted = words.removeprefix("Get ").split(";")[0].split(", or ")
        assert not any(a != b and b.startswith(f"{a} and ") for a in wanted for b in wanted)


@pytest.mark.parametrize("bush", [Bush(diameter=7, bore=5), Bush(diameter=8, bore=6), Bush(diameter=9, bore=8)])
def test_a_bush_too_small_for_its_cutter_is_not_taken(bush: Bush) -> None:
    straight = tuple(c for c in SHOP.cutters if c.kind.value == "straight")
    told = " ".join(f.do for f in refused(shop(cutters=straight, bushes=(bush,))))

    assert "a guide bush with a bore of 9 mm or more" in told


def test_a_bush_smaller_than_its_cutter_is_a_fault() -> None:
    with pytest.raises(JobError) as caught:
        bush_offset(10, 12)

    (told,) = caught.value.faults
    assert (told.code, told.found) == ("bush-small", "a bush of 10 mm for a cutter of 12 mm")


def test_a_jig_shorter_than_its_own_openings_is_a_fault_of_the_workshop_file() -> None:
    text = """
[jigs.ladder]
name = "old ladder"
stations = [50, 210, 370]
opening_width = 8
opening_length = 8
length = 370
thickness = 25
"""
    with pytest.raises(JobError) as caught:
        workshop_from_text(text, name="shop.toml")

    (told,) = [f for f in caught.value.faults if f.code == "jig-too-short"]
    assert told.field == "jigs.ladder.length"
    assert "374 mm or more" in told.allowed


def test_a_jig_shorter_than_the_joint_is_told_and_a_new_one_made() -> None:
    _, work = worked(job(box()), ladder_shop(jigs=(owned_jig(stations=(50.0, 210.0), length=280.0),)))
    (told,) = [c for c in work.cautions if c.code == "jig-does-not-reach"]

    assert "shorter than joint" in told.text
    assert told.do
    assert work.tally.owned == 0
    assert work.tally.to_make == 2


def test_no_packers_on_the_shelf_is_no_fault_but_told() -> None:
    thin = replace(job(box(depth=300)), boards=tuple(replace(b, measured=17.0) for b in job(box()).boards))
    _, work = worked(thin, shop(packers=()))

    told = [c for c in work.cautions if c.code == "packer-to-mill"]
    assert told
    for c in told:
        wanted = float(c.about.split()[2])
        way = "Stick" if wanted < 0.3 else "Build one up to" if wanted < 1 else "Mill one to"
        assert "No packers are in the workshop file" in c.text
        assert way in c.do


def test_contradictory_precedence_names_its_ring() -> None:
    costs = [[0, 1, 1, 1]] * 4
    names = ["the start", "grooves", "bores", "edging"]
    with pytest.raises(JobError) as caught:
        find_order(costs, [(1, 2), (2, 3), (3, 1)], names=names)

    (told,) = caught.value.faults
    assert told.code == "order-ring"
    assert told.found == "grooves before bores before edging before grooves"


@pytest.mark.parametrize("reading", [40.0, -40.0])
def test_a_trial_reading_of_40_is_refused(reading: float) -> None:
    calls: tuple[Callable[[], Correction], ...] = (
        lambda: trial_step(reading, packer=1.0, shelf=(0.5,)),
        lambda: trial_gap(abs(reading), plunge=12.0, skin_left=6.0),
        lambda: trial_fence(reading, fence=20.0),
    )
    for call in calls:
        with pytest.raises(JobError) as caught:
            call()
        (told,) = caught.value.faults
        assert "40" in told.found
        assert told.do
