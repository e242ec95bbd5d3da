"""The frame of every role, as the conventions draw it: where the face side looks, and from where u and v count."""

from __future__ import annotations

import pytest

from storyrod.carcass import build
from storyrod.measure.space import Direction
from storyrod.model.job import Back, BackKind, BetweenOrOver, Drawers, Plinth
from storyrod.model.panel import Panel
from tests.builders import case, columns, door, drawer, job, rows, shelves, workshop

_D = Direction


@pytest.fixture(scope="module")
def panels() -> dict[str, Panel]:
    """Return the panels of a case that has every role but `top`, and of one that has a top, by name."""
    inside = columns(rows(drawer(140), shelves(1)), door())
    back = Back(kind=BackKind.REBATED, board="b6")
    full = case(
        width=1000,
        top=BetweenOrOver.RAILS,
        plinth=Plinth(height=80, setback=20),
        back=back,
        inside=inside,
        drawers=Drawers(board="b12", bottom_board="b6"),
    )
    built = build(job(full, case("B")), workshop())
    return {p.name: p for c in reversed(built.cases) for p in c.panels}


@pytest.mark.parametrize(
    ("name", "u", "v", "into"),
    [
        ("left side", _D.UP, _D.BACKWARD, _D.LEFT),
        ("right side", _D.UP, _D.BACKWARD, _D.RIGHT),
        ("divider 1", _D.UP, _D.BACKWARD, _D.RIGHT),
        ("top", _D.RIGHT, _D.BACKWARD, _D.DOWN),
        ("base", _D.RIGHT, _D.BACKWARD, _D.DOWN),
        ("shelf 1", _D.RIGHT, _D.BACKWARD, _D.DOWN),
        ("loose shelf 1", _D.RIGHT, _D.BACKWARD, _D.DOWN),
        ("top front rail", _D.RIGHT, _D.BACKWARD, _D.DOWN),
        ("drawer 1 bottom", _D.RIGHT, _D.BACKWARD, _D.DOWN),
        ("plinth", _D.RIGHT, _D.UP, _D.BACKWARD),
        ("back", _D.RIGHT, _D.UP, _D.BACKWARD),
        ("door 1", _D.RIGHT, _D.UP, _D.BACKWARD),
        ("drawer 1 front", _D.RIGHT, _D.UP, _D.BACKWARD),
        ("drawer 1 box front", _D.RIGHT, _D.UP, _D.BACKWARD),
        ("drawer 1 back", _D.RIGHT, _D.UP, _D.BACKWARD),
        ("drawer 1 left side", _D.BACKWARD, _D.UP, _D.LEFT),
        ("drawer 1 right side", _D.BACKWARD, _D.UP, _D.RIGHT),
    ],
)
def test_a_panels_frame(panels: dict[str, Panel], name: str, u: Direction, v: Direction, into: Direction) -> None:
    frame = panels[name].frame

    assert (frame.u, frame.v, frame.into) == (u, v, into)


def test_the_frames_origin_is_the_corner_of_datum_end_face_edge_and_face_side(panels: dict[str, Panel]) -> None:
    left, right, back = panels["left side"].frame.origin, panels["right side"].frame.origin, panels["back"].frame.origin

    assert (left.x, left.y, left.z) == (18, 0, 0)
    assert (right.x, right.y, right.z) == (982, 0, 0)
    assert (back.x, back.y, back.z) == (9.5, 394, 89.5)
