"""Clothes rails: where the tube lies, its sockets on both uprights, what is bought, and what cannot be."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Point
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Feature, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.job import ClothesRail, FrontKind, Fronts, Opening
from storyrod.model.panel import Panel, Surface
from tests.builders import case, columns, door, doors, job, opening, rail, rows, workshop


def built(inside: Opening, *, shop: Any = None, **more: Any) -> BuiltCase:
    """Build a case of 18 mm board with no back: 564 x 684 clear, 600 deep."""
    return build(job(case(inside=inside, **({"depth": 600.0} | more))), shop or workshop()).cases[0]


def railed(size: float | None = None, **asked: Any) -> Opening:
    return opening(size, clothes_rail=ClothesRail(**asked))


def faults(inside: Opening, **more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as caught:
        built(inside, **more)
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)
    return [(f.code, f.field) for f in caught.value.faults]


def panel(of: BuiltCase, name: str) -> Panel:
    return next(p for p in of.panels if p.name == name)


def sockets(of: BuiltCase, name: str) -> list[Feature]:
    return [f for f in of.fittings if f.panel == panel(of, name).id and "socket" in f.id]


def test_the_tube_lies_60_under_the_top_in_the_middle_of_the_depth() -> None:
    """Inside 18 to 582 across, 18 to 702 up: a tube of 25 is at 642 up and 300 back, 2 short at each end."""
    of = built(railed())

    (tube,) = of.rails
    assert (tube.box.low, tube.box.high) == (Point(20, 287.5, 629.5), Point(580, 312.5, 654.5))
    assert tube.length == 560
    assert tube.uprights == (panel(of, "left side").id, panel(of, "right side").id)


def test_height_and_place_in_the_depth_are_as_written() -> None:
    of = built(rows(opening(200.0), railed(height=300.0, from_front=280.0)))

    (tube,) = of.rails
    assert (tube.box.centre.z, tube.box.centre.y) == (18 + 300, 280)


def test_both_uprights_have_the_same_two_screws_of_each_socket() -> None:
    """40 apart, level with the tube: 280 and 320 from the front edge, 642 from the bottom end."""
    of = built(railed())

    for side in ("left side", "right side"):
        holes = sockets(of, side)
        assert [(h.at.u, h.at.v, h.surface) for h in holes] == [
            (642, 280, Surface.FACE),
            (642, 320, Surface.FACE),
        ]
        assert {h.shape for h in holes} == {Hole(diameter=2.5, depth=12.0)}
        assert {h.why for h in holes} == {"socket of clothes rail 1"}
    fixed = [f for f in of.fixings if f.kind is FixingKind.RAIL_SOCKET]
    assert [(f.about, f.screws.item, f.screws.count) for f in fixed if f.screws] == [
        ("A.clothes-rail-1", "pan-head screw 3.5 x 16", 2)
    ] * 2


def test_the_tube_is_bought_cut_to_length_with_its_screws() -> None:
    of = built(railed())

    listed = {h.name: (h.item, h.count, h.unit) for h in of.hardware}
    assert listed == {
        "steel tube 25 with sockets, tube cut to 560 mm": ("tube", 1, "piece"),
        "pan-head screw 3.5 x 16": ("pan-head screw 3.5 x 16", 4, "piece"),
    }


def test_behind_an_inset_door_the_depth_begins_behind_it() -> None:
    """A door of 18 and 2 mm: the tube is in the middle of 20 to 600."""
    of = built(door(clothes_rail=ClothesRail()), fronts=Fronts(kind=FrontKind.INSET))

    (tube,) = of.rails
    assert (tube.front, tube.box.centre.y) == (20, 310)


def test_rails_on_both_faces_of_a_divider_get_screws_that_do_not_meet() -> None:
    """18 less 3 skin leaves 7.5 for each: a screw of 9.5 under a seat of 2."""
    of = built(columns(railed(), railed()), width=1200.0)

    holes = sockets(of, "divider 1")
    assert {h.surface for h in holes} == {Surface.FACE, Surface.FAR_FACE}
    assert {h.depth for h in holes} == {7.5}
    on_divider = [f for f in of.fixings if f.panel == panel(of, "divider 1").id]
    assert [f.screws.item for f in on_divider if f.screws] == ["pan-head screw 3.5 x 9.5"] * 2
    assert {c.code for c in of.cautions} >= {"short-socket-screws"}


def test_at_two_heights_they_keep_their_length() -> None:
    of = built(columns(railed(), railed(height=500.0)), width=1200.0)

    assert {h.depth for h in sockets(of, "divider 1")} == {12.0}
    assert "short-socket-screws" not in {c.code for c in of.cautions}


@pytest.mark.parametrize(
    ("inside", "more", "told"),
    [
        (railed(kind="gold"), {}, ("missing-clothes-rail", "cases[0].inside.clothes_rail.kind")),
        (railed(height=670.0), {}, ("clothes-rail-room", "cases[0].inside.clothes_rail.height")),
        (railed(height=11.0), {}, ("clothes-rail-room", "cases[0].inside.clothes_rail.height")),
        (railed(from_front=20.0), {}, ("clothes-rail-room", "cases[0].inside.clothes_rail.from_front")),
        (rows(railed(60.0), opening()), {}, ("clothes-rail-room", "cases[0].inside.rows[0].height")),
        (
            columns(railed(50.0), opening()),
            {"shop": workshop(clothes_rails=(rail(end_gap=15.0),))},
            ("clothes-rail-room", "cases[0].inside.columns[0].width"),
        ),
        (
            columns(opening(parted=False, clothes_rail=ClothesRail()), opening()),
            {},
            ("nothing-to-hang-on", "cases[0].inside.columns[0]"),
        ),
        (
            rows(opening(), opening(), clothes_rail=ClothesRail()),
            {},
            ("clothes-rail-held", "cases[0].inside.clothes_rail"),
        ),
        (
            opening(loose_shelves=1, clothes_rail=ClothesRail()),
            {},
            ("clothes-rail-held", "cases[0].inside.clothes_rail"),
        ),
    ],
)
def test_what_cannot_be_is_told(inside: Opening, more: dict[str, Any], told: tuple[str, str]) -> None:
    assert faults(inside, **more) == [told]


def test_the_highest_rail_leaves_room_to_let_the_tube_down() -> None:
    """684 high: 12.5 of the tube, 15 over its sockets and 1 to spare leave 655.5."""
    assert built(railed(height=655.5)).rails[0].box.centre.z == 18 + 655.5
    assert faults(railed(height=656.0)) == [("clothes-rail-room", "cases[0].inside.clothes_rail.height")]


def test_a_case_too_shallow_for_hangers_is_told() -> None:
    told = {d: [c.code for c in built(railed(), depth=d).cautions] for d in (559.0, 560.0)}

    assert "clothes-rail-shallow" in told[559.0]
    assert "clothes-rail-shallow" not in told[560.0]


def test_a_tube_that_spans_further_than_its_sheet_allows_is_told() -> None:
    wide = {w: [c.code for c in built(doors(clothes_rail=ClothesRail()), width=w).cautions] for w in (1036.0, 1037.0)}

    assert "clothes-rail-unsupported" not in wide[1036.0]
    assert "clothes-rail-unsupported" in wide[1037.0]
