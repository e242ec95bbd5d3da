"""Loose shelves and their rows of pin holes."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Feature, Hole
from storyrod.model.job import Back, BackKind, Drawers, FrontKind, Fronts, LooseShelves, Opening
from storyrod.model.panel import Panel, Surface
from tests.builders import case, columns, door, drawer, job, opening, rows, shelves, workshop


def built(inside: Opening, **more: Any) -> BuiltCase:
    """Build a case with 564 x 684 clear inside and a grooved back whose front face is 384 from the front."""
    back = Back(kind=BackKind.GROOVED, board="b6", inset=10)
    drawers = Drawers(board="b12", bottom_board="b6")
    return build(job(case(inside=inside, back=back, drawers=drawers, **more)), workshop()).cases[0]


def faults(inside: Opening, **more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as caught:
        built(inside, **more)
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)
    return [(f.code, f.field) for f in caught.value.faults]


def panel(of: BuiltCase, name: str) -> Panel:
    return next(p for p in of.panels if p.name == name)


def pins(of: BuiltCase, name: str) -> list[Feature]:
    return [f for f in of.fittings if f.panel == panel(of, name).id and f.item == "shelf pin"]


def test_a_loose_shelf_has_its_slack_at_both_ends_and_clears_the_back() -> None:
    of = built(shelves(1))

    shelf = panel(of, "loose shelf 1")
    assert (shelf.length, shelf.width) == (562, 384 - 10 - 5)
    assert shelf.sums == ("564 - 2 x 1", "400 - 10 - 6 - 10 - 5")
    assert shelf.body == shelf.id


def test_rows_are_32_apart_symmetric_and_clear_of_both_ends() -> None:
    """684 - 2 x 64 = 556: 18 rows, 17 x 32 = 544, so 70 is left at either end."""
    of = built(shelves(1))

    levels = sorted({f.at.u - 18 for f in pins(of, "left side")})
    assert len(levels) == 18
    assert (levels[0], 684 - levels[-1]) == (70, 70)
    assert {round(b - a, 6) for a, b in pairwise(levels)} == {32}


def test_columns_stand_37_from_the_front_edge_and_37_from_the_back() -> None:
    of = built(shelves(1))

    assert sorted({f.at.v for f in pins(of, "left side")}) == [37, 384 - 37]


def test_left_and_right_rows_are_level_and_bored_from_the_inside() -> None:
    of = built(shelves(1))

    left, right = pins(of, "left side"), pins(of, "right side")
    assert [(f.at.u, f.at.v) for f in left] == [(f.at.u, f.at.v) for f in right]
    assert {f.surface for f in (*left, *right)} == {Surface.FACE}
    assert {(f.shape.diameter, f.depth) for f in left if isinstance(f.shape, Hole)} == {(5, 12)}


def test_shelves_rest_on_their_pins_at_nearly_equal_spaces() -> None:
    of = built(shelves(2))

    upper, lower = panel(of, "loose shelf 1"), panel(of, "loose shelf 2")
    rows_of = {f.at.u for f in pins(of, "left side")}
    assert upper.box.low.z > lower.box.low.z
    assert {upper.box.low.z - 2.5, lower.box.low.z - 2.5} <= rows_of
    spaces = [702 - upper.box.high.z, upper.box.low.z - lower.box.high.z, lower.box.low.z - 18]
    assert max(spaces) - min(spaces) < 64


def test_behind_an_inset_door_shelf_and_front_column_stand_further_back() -> None:
    """The door is 18: shelf at 18 + 2 + 10, front column at 18 + 37."""
    of = built(door(loose_shelves=1), fronts=Fronts(kind=FrontKind.INSET, gap=2.0))

    assert panel(of, "loose shelf 1").box.low.y == 30
    assert min(f.at.v for f in pins(of, "right side")) == 55


def test_rows_of_two_openings_on_one_divider_stand_half_a_step_apart() -> None:
    """12 + 12 deep would meet in 18: the second opening gets one row fewer, still symmetric."""
    of = built(columns(shelves(1), shelves(1)))

    first = {f.at.u for f in pins(of, "left side")}
    second = {f.at.u for f in pins(of, "right side")}
    assert (len(first), len(second)) == (18, 17)
    assert {round(abs(a - b) % 32, 6) for a in first for b in second} == {16}
    assert sum(sorted(second)[i] + sorted(second)[-1 - i] for i in range(17)) == pytest.approx(17 * 720)


def test_rows_do_not_meet_runner_screws_from_the_other_face() -> None:
    of = built(columns(rows(drawer(140), drawer(160), drawer(180), opening()), shelves(2)))

    screws = [f for f in of.fittings if f.panel == "A.divider-1" and f.surface is Surface.FACE]
    for pin in pins(of, "divider 1"):
        for screw in screws:
            apart = ((pin.at.u - screw.at.u) ** 2 + (pin.at.v - screw.at.v) ** 2) ** 0.5
            assert apart >= 3 + (5 + 2.5) / 2


def test_rows_do_not_meet_the_plates_of_the_door_before_them() -> None:
    of = built(door(loose_shelves=2))

    plates = [f for f in of.fittings if "plate" in f.id]
    for pin in pins(of, "left side"):
        assert all(abs(pin.at.u - p.at.u) >= 7 or abs(pin.at.v - p.at.v) >= 7 for p in plates)


def test_every_row_has_all_four_holes() -> None:
    of = built(columns(rows(drawer(140), drawer(160), opening()), door(loose_shelves=2)))

    for name in ("divider 1", "right side"):
        levels = [f.at.u + panel(of, name).box.low.z for f in pins(of, name)]
        assert len(levels) == 2 * len({round(z, 6) for z in levels})


def test_pins_are_counted_four_to_a_shelf() -> None:
    of = built(shelves(3))

    assert [(h.item, h.count) for h in of.hardware] == [("shelf pin", 12)]


def test_slack_is_told() -> None:
    of = built(shelves(1))

    assert {c.side: (c.wanted, c.left) for c in of.clearances} == {
        "left": (1, 1),
        "right": (1, 1),
        "behind": (5, 5),
        "in front": (10, 10),
    }


def test_a_thin_board_is_bored_as_deep_as_leaves_its_skin() -> None:
    of = build(job(case(inside=shelves(1), board="b12")), workshop()).cases[0]

    assert {f.depth for f in of.fittings} == {9}


@pytest.mark.parametrize(
    ("inside", "more", "expected"),
    [
        (rows(shelves(1, 120), opening()), {}, ("pin-rows", "cases[0].inside.rows[0].loose_shelves")),
        (rows(shelves(6, 220), opening()), {}, ("pin-rows", "cases[0].inside.rows[0].loose_shelves")),
        (shelves(1), {"depth": 110}, ("pin-columns", "cases[0].depth")),
        (shelves(18), {}, ("pin-rows", "cases[0].inside.loose_shelves")),
        (
            shelves(1),
            {"loose_shelves": LooseShelves(set_back=300, behind=80)},
            ("loose-shelf-size", "cases[0].loose_shelves"),
        ),
    ],
)
def test_loose_shelves_without_room_are_told(inside: Opening, more: dict[str, Any], expected: tuple[str, str]) -> None:
    assert faults(inside, **more) == [expected]


def test_a_board_too_thin_for_pins_is_told() -> None:
    with pytest.raises(JobError) as caught:
        build(job(case(inside=shelves(1), board="b6")), workshop())

    assert [f.field for f in caught.value.faults] == ["cases[0].loose_shelves.hole_depth"]


def test_shelves_stand_within_their_opening() -> None:
    of = built(rows(shelves(2, 300), opening()))

    for shelf in (p for p in of.panels if p.role == "loose shelf"):
        low, high = shelf.box.span(Axis.Z)
        assert low > 402
        assert high < 702


@pytest.mark.parametrize(("reach", "bored"), [(None, 18), (0, 2), (2, 10), (20, 18)])
def test_rows_are_bored_in_zones_where_the_job_says_so(reach: int | None, bored: int) -> None:
    """Two shelves, 18 rows: with two rows each way five under each shelf, which lies in the middle of its own."""
    of = built(shelves(2), loose_shelves=LooseShelves(rows_each_way=reach))

    levels, others = (sorted({f.at.u for f in pins(of, name)}) for name in ("left side", "right side"))
    assert len(levels) == len(others) == bored
    under = {round(panel(of, f"loose shelf {n}").box.low.z - 2.5, 6) for n in (1, 2)}
    if reach == 2:
        assert {round(levels[2], 6), round(levels[7], 6)} == under
    whole = {f.at.u for f in pins(built(shelves(2)), "left side")}
    assert set(levels) <= whole  # a zone moves no row


def test_pins_are_told_by_the_rows_that_are_bored() -> None:
    of = built(shelves(1), loose_shelves=LooseShelves(rows_each_way=1))

    assert {f.name for f in of.fixings} == {"pins of loose shelf 1, row 2 from below"}
