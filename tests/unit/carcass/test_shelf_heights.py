"""Shelves at a height above the floor, and shelves that are set back."""

from __future__ import annotations

from typing import Any

import pytest

from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.model.carcass import BuiltCase
from storyrod.model.job import Opening, Plinth
from storyrod.model.panel import Panel
from tests.builders import case, columns, job, opening, rows, workshop


def built(inside: Opening, **more: Any) -> BuiltCase:
    """Build a case 720 high in boards of 18: 18 to 702 inside."""
    return build(job(case(inside=inside, **more)), workshop()).cases[0]


def panel(of: BuiltCase, name: str) -> Panel:
    return next(p for p in of.panels if p.name == name)


def clear(of: BuiltCase) -> list[float]:
    return [round(o.box.high.z - o.box.low.z, 6) for o in of.openings if not o.children]


def faults(inside: Opening, **more: Any) -> list[tuple[str, str]]:
    with pytest.raises(JobError) as caught:
        built(inside, **more)
    assert all(f.found and f.allowed and f.do for f in caught.value.faults)
    return [(f.code, f.field) for f in caught.value.faults]


def test_a_shelf_is_as_high_above_the_floor_as_written() -> None:
    of = built(rows(opening(shelf_at=450.0), opening()))

    assert panel(of, "shelf 1").box.high.z == 450
    assert clear(of) == [702 - 450, 450 - 18 - 18]


def test_a_plinth_does_not_move_it() -> None:
    of = built(rows(opening(shelf_at=450.0), opening()), plinth=Plinth(height=80.0))

    assert panel(of, "shelf 1").box.high.z == 450


def test_rows_over_it_share_what_there_is_down_to_it() -> None:
    """702 - 402 = 300, less a shelf of 18 and 100: 182 for the one without a height; 384 - 2 rows of 183 below."""
    of = built(rows(opening(100.0), opening(shelf_at=402.0), opening(), opening()))

    assert clear(of) == [100, 182, 174, 174]
    assert of.openings[2].box.low.z == 402


def test_two_shelves_may_have_their_heights() -> None:
    of = built(rows(opening(shelf_at=500.0), opening(shelf_at=300.0), opening()))

    assert [panel(of, f"shelf {n}").box.high.z for n in (1, 2)] == [500, 300]
    assert clear(of) == [202, 182, 264]


@pytest.mark.parametrize(
    ("inside", "told"),
    [
        (rows(opening(shelf_at=690.0), opening()), ("shelf-height", "cases[0].inside.rows[0].shelf_at")),
        (rows(opening(shelf_at=50.0), opening()), ("shelf-height", "cases[0].inside.rows[0].shelf_at")),
        (
            rows(opening(shelf_at=300.0), opening(shelf_at=400.0), opening()),
            ("shelf-height", "cases[0].inside.rows[1].shelf_at"),
        ),
        (rows(opening(), opening(shelf_at=300.0)), ("shelf-height", "cases[0].inside.rows[1].shelf_at")),
        (
            rows(opening(shelf_at=300.0, parted=False), opening()),
            ("shelf-height", "cases[0].inside.rows[0].shelf_at"),
        ),
        (rows(opening(200.0, shelf_at=300.0), opening()), ("rows-too-little", "cases[0].inside.rows")),
        (rows(opening(), opening(), set_back=381.0), ("set-back", "cases[0].inside.set_back")),
        (columns(opening(), opening(), set_back=10.0), ("set-back", "cases[0].inside.set_back")),
    ],
)
def test_what_cannot_be_is_told(inside: Opening, told: tuple[str, str]) -> None:
    assert faults(inside) == [told]


def test_a_shelf_that_is_set_back_is_so_much_less_deep() -> None:
    of = built(rows(opening(), opening(), set_back=120.0))

    shelf = panel(of, "shelf 1")
    assert (shelf.box.low.y, shelf.box.high.y, shelf.width) == (120, 400, 280)
    assert shelf.sums[1] == "400 - 120"
    assert {o.box.low.y for o in of.openings} == {0}  # what stands before it is as deep as the case
