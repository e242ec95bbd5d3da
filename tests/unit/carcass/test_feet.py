"""Levelling feet: where they stand, their screws, the plinth board on them, and what cannot be; by hand."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import Axis
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import Feature, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.hung import Hung, WallKind
from storyrod.model.job import Back, BackKind, BetweenOrOver, Feet, Plinth
from storyrod.model.panel import Panel, Role, Surface
from tests.builders import case, columns, job, opening, workshop


def built(feet: Feet | None = None, **more: Any) -> BuiltCase:
    return build(job(case(feet=feet or Feet(height=100), **more)), workshop()).cases[0]


def panel(of: BuiltCase, role: Role) -> Panel:
    return next(p for p in of.panels if p.role is role)


def cuts(of: BuiltCase, word: str) -> list[Feature]:
    return [f for f in of.fittings if f"{word}-" in f.id]


def faults(**more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as told:
        built(**more)
    assert all(f.do and f.allowed for f in told.value.faults)
    return [(f.code, f.field) for f in told.value.faults]


def test_the_sides_end_at_the_underside_of_the_base() -> None:
    """720 from the floor to the top: 620 of side over feet of 100."""
    of = built()

    assert panel(of, Role.SIDE_LEFT).box.span(Axis.Z) == (100, 720)
    assert panel(of, Role.BASE).box.span(Axis.Z) == (100, 118)
    assert panel(of, Role.SIDE_LEFT).length == 620
    assert of.inside.low.z == 118


def test_sides_over_a_base_stand_on_it() -> None:
    of = built(base=BetweenOrOver.UNDER_SIDES)

    assert panel(of, Role.SIDE_LEFT).box.span(Axis.Z) == (118, 720)
    assert panel(of, Role.BASE).box.span(Axis.Z) == (100, 118)


def test_a_foot_stands_under_every_corner_and_its_plate_reaches_under_the_side() -> None:
    """x: 18 + 35 - 5 = 48, and 600 - 48. y: 50 back, 18 of board, 30 to the foot: 98; 400 - 10 - 35 = 355."""
    of = built()

    assert [(f.x, f.y) for f in of.feet] == [(48, 98), (552, 98), (48, 355), (552, 355)]
    assert {f.plate for f in of.feet} == {70}


def test_feet_stand_no_farther_apart_than_is_said() -> None:
    """504 between the outer ones: two more make it 168; 257 from row to row: one more row."""
    of = built(Feet(height=100, apart=200))

    assert sorted({f.x for f in of.feet}) == [48, 216, 384, 552]
    assert sorted({f.y for f in of.feet}) == [98, 226.5, 355]
    assert len(of.feet) == 12


def test_a_divider_has_feet_beside_it() -> None:
    """Its middle is at 300: 325. A sheet of its own has the screws of both."""
    of = built(inside=columns(opening(), opening()))

    assert sorted({f.x for f in of.feet}) == [48, 325, 552]


def test_each_foot_has_two_pilots_in_the_underside_one_behind_the_other() -> None:
    of = built()

    base = panel(of, Role.BASE)
    holes = cuts(of, "foot")
    places = [base.frame.to_case(f.at) for f in holes]
    assert [(p.x, p.y, p.z) for p in places[:4]] == [(48, 78, 100), (48, 118, 100), (552, 78, 100), (552, 118, 100)]
    assert {f.shape for f in holes} == {Hole(diameter=2.5, depth=10.0)}
    assert {f.surface for f in holes} == {Surface.FAR_FACE}
    (fixing,) = [f for f in of.fixings if f.kind is FixingKind.FOOT]
    assert fixing.screws is not None
    # 18 less 3 of skin is 15, and 2 of plate: 16 of the lengths kept.
    assert (fixing.count, fixing.screws.item, fixing.screws.count) == (4, "pan-head screw 3.5 x 16", 8)


def test_a_plinth_board_is_clipped_on_the_front_feet() -> None:
    """As long as the case, 100 less 3 to the floor wide, 50 behind the front; two screws a clip, 30 apart."""
    of = built(Feet(height=100, setback=50, floor_gap=3))

    board = panel(of, Role.PLINTH_BOARD)
    assert (board.length, board.width) == (600, 97)
    assert board.box.span(Axis.Y) == (50, 68)
    assert board.sums == ("600", "100 - 3")
    places = [board.frame.to_case(f.at) for f in cuts(of, "clip")]
    assert [(p.x, p.y, p.z) for p in places] == [(33, 68, 51.5), (63, 68, 51.5), (537, 68, 51.5), (567, 68, 51.5)]
    assert {h.item: h.count for h in of.hardware} == {
        "foot": 4,
        "plinth clip": 2,
        "pan-head screw 3.5 x 16": 12,
    }


def test_without_a_board_the_front_feet_stand_at_the_setback() -> None:
    """50 + half a plate."""
    of = built(Feet(height=100, plinth=False))

    assert min(f.y for f in of.feet) == 85
    assert all(p.role is not Role.PLINTH_BOARD for p in of.panels)


def test_a_back_in_the_base_leaves_less_of_it() -> None:
    """Grooved at 10, 6 thick and run past the base: 400 - 16 = 384; the rear row stands at 384 - 45."""
    of = built(back=Back(kind=BackKind.GROOVED, board="b6", inset=10, in_base=False))

    assert max(f.y for f in of.feet) == 339


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"plinth": Plinth(height=80)}, ("feet-and-other", "cases[0].feet")),
        ({"base": BetweenOrOver.NONE}, ("feet-base", "cases[0].base")),
        ({"feet": Feet(height=140)}, ("feet-height", "cases[0].feet.height")),
        ({"feet": Feet(height=80)}, ("feet-height", "cases[0].feet.height")),
        ({"feet": Feet(height=100, setback=240)}, ("feet-depth", "cases[0].feet.setback")),
    ],
)
def test_what_cannot_stand_so_is_told(more: dict[str, Any], told: tuple[str, str]) -> None:
    assert told in faults(**more)


def test_what_hangs_has_no_feet() -> None:
    hung = Hung(top_at=1900, wall=WallKind.MASONRY)
    assert ("feet-and-other", "cases[0].feet") in faults(hung=hung)


def test_pilots_of_a_clip_are_ten_deep() -> None:
    of = built(Feet(height=100, setback=50, floor_gap=3))

    assert {f.shape for f in cuts(of, "clip")} == {Hole(diameter=2.5, depth=10.0)}


def test_under_a_base_that_reaches_out_under_the_sides_a_plate_ends_at_its_end() -> None:
    """A plate of 70: 35 from either end."""
    assert sorted({f.x for f in built(base=BetweenOrOver.UNDER_SIDES).feet}) == [35, 565]


def test_the_rear_screw_of_a_foot_stays_before_the_groove_of_the_back() -> None:
    """Inset 60, a back of 6: its groove begins at 400 - 60 - 6 - 0.2 = 333.8; 3 of board before it, half of 2.5 of the
    screw's hole and half of the 40 between the screws leave the foot at 309.55.
    """
    of = built(back=Back(kind=BackKind.GROOVED, board="b6", inset=60))
    rear = max(f.y for f in of.feet)
    screws = max(panel(of, Role.BASE).frame.to_case(f.at).y for f in cuts(of, "foot"))

    assert screws == rear + 20
    assert screws + 2.5 / 2 + 3 <= of.inside.high.y
    assert rear == pytest.approx(309.55, abs=0.3)
