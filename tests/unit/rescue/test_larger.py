"""Slips in cases of more than a box: a divider with contents on both sides, a deep case with three dowels a joint."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.measure.space import Axis
from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.model.panel import Role
from storyrod.model.rescue import MoveKind, Rescue, Way
from storyrod.planning import Plan, cautions_anew, rescue
from tests import builders
from tests.slips import box, plan_of


@pytest.fixture(scope="module")
def parted() -> Plan:
    """A case parted by a divider, a loose shelf on either side: each is 1 mm shorter at each end."""
    made = plan_of(box(width=600.0, inside=builders.columns(builders.shelves(1), builders.shelves(1))))
    assert not made.faults
    return made


@pytest.fixture(scope="module")
def off(parted: Plan) -> Rescue:
    divider = next(p.mark for p in parted.details.cases[0].panels if p.role is Role.DIVIDER)
    return rescue(parted, AsBuilt(slips=(Slip(panel=divider, kind=SlipKind.GLUED, off=1.5),)), "A")


def way(told: Rescue, code: str) -> Way:
    return next(w for w in told.ways if any(code in c for c in w.codes))


def test_a_divider_glued_off_its_lines_stays_and_the_shelf_beside_it_is_trimmed(parted: Plan, off: Rescue) -> None:
    """1.5 to the right leaves the right shelf 0.5 too little beside its 1 mm; the left one has 1.5 more."""
    packed = way(off, "packed")
    planned = {p.id: p for p in parted.details.cases[0].panels}
    shelves = [p for p in packed.case.panels if p.role is Role.LOOSE_SHELF]

    assert off.ways[0] == packed
    assert [round(planned[p.id].length - p.length, 6) for p in shelves] == [0.0, 1.5]
    assert "trim" in packed.moves[0].text
    assert not packed.again, "nothing is cut in what is glued in"


def test_or_all_beside_it_is_as_the_plan_would_have_it(parted: Plan, off: Rescue) -> None:
    fitted = next(w for w in off.ways if w.moves[0].kind is MoveKind.FIT and "packed" not in w.codes[0])
    planned = {p.id: p for p in parted.details.cases[0].panels}
    shelves = [p for p in fitted.case.panels if p.role is Role.LOOSE_SHELF]

    assert [round(p.length - planned[p.id].length, 6) for p in shelves] == [1.5, -1.5]
    assert "saw again" in fitted.moves[0].text


def test_one_connector_of_three_is_left_out(parted: Plan) -> None:
    deep = plan_of(box(depth=420.0))
    slip = Slip(panel="A1", kind=SlipKind.ELSEWHERE, cuts=("1",), along=3.0)
    told = rescue(deep, AsBuilt(cut=("A1", "A4"), slips=(slip,)), "A")
    fewer = way(told, "leave out J2 at 50 mm")

    joint = next(j for j in fewer.case.joints if j.number == "J2")
    assert len(joint.stations) == 2
    assert "held by 2 connectors, not by 3" in fewer.moves[0].weaker
    before = {c.item: c.count for c in deep.details.cases[0].connectors}
    assert {c.item: before[c.item] - c.count for c in fewer.case.connectors} == dict.fromkeys(before, 1)


def test_a_strip_under_three_millimetres_is_not_glued_on(parted: Plan) -> None:
    """A shelf 1 mm short is taken back by 2 first, so that the strip is 3."""
    box_ = plan_of(box())
    told = rescue(box_, AsBuilt(slips=(Slip(panel="A5", kind=SlipKind.SIZE, length=363.0),)), "A")

    assert "Take 2 mm off the" in way(told, "pack").moves[0].text
    assert "a strip 3 mm thick" in way(told, "pack").moves[0].text


def test_what_a_way_changes_of_strength_is_told() -> None:
    """A shelf 864 mm long bends with the cube of its thickness: of 9 mm board it is near breaking, of 18 it is not."""
    wide = plan_of(box(width=900.0))
    case = wide.details.cases[0]
    shelf = next(p for p in case.panels if p.role is Role.SHELF)
    low, high = shelf.box.span(Axis.Z)
    thin = replace(shelf, box=shelf.box.with_span(Axis.Z, (low + high) / 2, high))

    assert cautions_anew(wide, case) == ()
    told = cautions_anew(wide, replace(case, panels=tuple(thin if p.id == shelf.id else p for p in case.panels)))
    assert "load-near-breaking" in {c.code for c in told}
