"""The screws of fittings: as long as the fitting's sheet asks for, and never so long that they pierce a board."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.model.carcass import BuiltCase
from storyrod.model.fixing import Fixing, FixingKind, Screws
from storyrod.model.job import Back, BackKind, Drawers, Fronts, Opening
from storyrod.model.workshop import ScrewKind
from tests.builders import (
    board,
    boards,
    case,
    columns,
    door,
    drawer,
    hinge,
    job,
    opening,
    rows,
    screws,
    side_runner,
    workshop,
)


def built(
    inside: Opening, *, side: float = 18.0, drawer_side: float = 12.0, front: float = 18.0, **more: Any
) -> BuiltCase:
    """Build a case with boards of these thicknesses."""
    shop = more.pop("shop", workshop())
    mine = (*boards(), board("case", side), board("drawers", drawer_side), board("fronts", front))
    one = case(
        inside=inside,
        board="case",
        drawers=Drawers(board="drawers", bottom_board="b6", **more.pop("of_drawers", {})),
        fronts=Fronts(board="fronts"),
        back=Back(kind=BackKind.APPLIED, board="b6"),
        **more,
    )
    return build(job(one, boards=mine), shop).cases[0]


def fixed(of: BuiltCase, kind: FixingKind) -> list[Fixing]:
    return [f for f in of.fixings if f.kind is kind]


def driven(of: BuiltCase, kind: FixingKind) -> list[Screws]:
    return [f.screws for f in fixed(of, kind) if f.screws is not None]


def test_a_screw_of_16_is_too_long_for_a_drawer_side_of_11_8() -> None:
    """Under 1.5 of steel it would go 14.5 deep; 11.8 less 3 of skin takes 8.8, so 9.5, which goes 8 deep."""
    of = built(rows(drawer(140), opening()), drawer_side=11.8)

    assert {s.item for s in driven(of, FixingKind.RUNNER_CASE)} == {"pan-head screw 3.5 x 16"}
    thin = driven(of, FixingKind.RUNNER_DRAWER)
    assert {(s.item, round(s.bite, 6), round(s.skin, 6), s.count) for s in thin} == {
        ("pan-head screw 3.5 x 9.5", 8.0, 3.8, 3)
    }
    assert {(s.pilot, round(s.pilot_depth, 6), s.marked) for s in thin} == {(2.5, 8.8, True)}


def test_a_fitting_for_which_no_screw_is_short_enough_is_refused() -> None:
    only = (ScrewKind(code="pan-head screw 3.5", diameter=3.5, lengths=(13.0, 16.0), pilot=2.5), *screws()[1:])

    with pytest.raises(JobError) as caught:
        built(rows(drawer(140), opening()), drawer_side=11.8, shop=workshop(screws=only))

    assert [(f.code, f.field) for f in caught.value.faults] == [("fitting-screws", "cases[0].drawers.runner")] * 2
    assert "4 mm to 8.8 mm" in caught.value.faults[0].allowed


def test_a_kind_of_screw_that_the_workshop_lacks_is_told() -> None:
    with pytest.raises(JobError) as caught:
        built(rows(drawer(140), opening()), shop=workshop(runners=(side_runner(fixed_with="brass"),)))

    assert {(f.code, f.field) for f in caught.value.faults} == {("missing-screw", "cases[0].drawers.runner")}


@pytest.mark.parametrize(
    ("divider", "item"),
    [
        (18.0, "pan-head screw 3.5 x 8"),  # 18 less 3 of skin, shared by two: 7.5 each, and 1.5 of steel
        (25.0, "pan-head screw 3.5 x 11"),  # the pilots of 10 leave their skin here, but screws of 16 would not
        (35.0, "pan-head screw 3.5 x 16"),  # 14.5 from either face leaves 6
    ],
)
def test_runners_on_both_faces_of_a_divider_get_screws_that_do_not_meet(divider: float, item: str) -> None:
    both = columns(rows(drawer(140), opening()), rows(drawer(140), opening()))
    of = built(both, side=divider)

    own = next(p.id for p in of.panels if p.name == "divider 1")
    assert {f.screws.item for f in fixed(of, FixingKind.RUNNER_CASE) if f.panel == own and f.screws} == {item}
    told = [c for c in of.cautions if c.code == "short-runner-screws"]
    assert len(told) == (2 if divider < 30 else 0)
    assert all(item in c.do for c in told)


def test_front_screws_go_through_the_box_front_and_hold_in_the_front() -> None:
    """12 and 18 less 3 of skin: 27, so 25, which goes 13 into the front."""
    of = built(rows(drawer(140), opening()))

    (one,) = driven(of, FixingKind.FRONT)
    assert (one.item, one.count, one.seat, one.bite, one.marked) == ("pan-head screw 4 x 25", 4, 12, 13, False)


@pytest.mark.parametrize(("thick", "cup"), [(18.0, "16"), (16.5, "13"), (15.0, "13"), (14.1, "11")])
def test_the_screws_of_a_hinge_cup_follow_the_door(thick: float, cup: str) -> None:
    of = built(door(), front=thick, shop=workshop(hinges=(hinge(cup_depth=10.0),)))

    assert [s.item for s in driven(of, FixingKind.HINGE_CUP)] == [f"countersunk screw 3.5 x {cup}"]
    (plate,) = driven(of, FixingKind.HINGE_PLATE)
    assert (plate.item, plate.count, plate.pilot, plate.pilot_depth) == ("system screw 6.3 x 13", 4, 5, 12)


def test_a_plates_screws_go_no_deeper_than_its_holes() -> None:
    """In a side of 12 the holes are 9 deep; under 2 of plate a screw of 11 fills them."""
    of = built(door(), side=12.0)

    assert [s.item for s in driven(of, FixingKind.HINGE_PLATE)] == ["system screw 6.3 x 11"]


def test_under_mounted_runners_get_catches_at_the_box_front_and_no_screws_in_the_sides() -> None:
    of = built(rows(drawer(140), opening()), of_drawers={"runner": "under"})

    assert not fixed(of, FixingKind.RUNNER_DRAWER)
    (one,) = fixed(of, FixingKind.RUNNER_CATCH)
    assert next(p.name for p in of.panels if p.id == one.panel) == "drawer 1 box front"
    assert one.screws is not None
    assert (one.count, one.screws.count, one.screws.item, one.screws.marked) == (
        2,
        4,
        "pan-head screw 3.5 x 9.5",
        False,
    )


def test_each_shelf_names_the_holes_that_its_pins_go_into() -> None:
    of = built(replace(opening(), loose_shelves=2))

    pins = fixed(of, FixingKind.SHELF_PIN)
    assert [(f.about, f.count, f.screws) for f in pins] == [
        ("A.loose-shelf-1", 2, None),
        ("A.loose-shelf-1", 2, None),
        ("A.loose-shelf-2", 2, None),
        ("A.loose-shelf-2", 2, None),
    ]
    cuts = {f.id: f for f in of.fittings}
    shelves = {p.id: p for p in of.panels}
    for one in pins:
        upright = next(p for p in of.panels if p.id == one.panel)
        for feature in one.features:
            hole = cuts[feature]
            top = upright.frame.to_case(hole.at).z + 2.5  # a pin of 5
            assert top == pytest.approx(next(p for i, p in shelves.items() if i == one.about).box.low.z)


def test_everything_that_is_fixed_is_bought() -> None:
    """Screws by size, and four pins a shelf: what is fixed comes to what is on the list."""
    of = built(columns(rows(drawer(140), drawer(140), opening()), door(replace(opening(), loose_shelves=1).size)))

    bought = {h.item: h.count for h in of.hardware}
    used: dict[str, int] = {}
    for one in of.fixings:
        if one.screws is not None:
            used[one.screws.item] = used.get(one.screws.item, 0) + one.screws.count
    assert used == {item: n for item, n in bought.items() if " screw " in item}
    assert bought["side"] * 2 == len(fixed(of, FixingKind.RUNNER_CASE)) == len(fixed(of, FixingKind.RUNNER_DRAWER))
    assert bought["cup"] == sum(f.count for f in fixed(of, FixingKind.HINGE_CUP))
