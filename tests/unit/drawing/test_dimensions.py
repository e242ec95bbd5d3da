"""A single dimension: no line of it strikes its figure through, however short it is."""

from __future__ import annotations

import pytest

from storyrod.drawing import Path, Text
from storyrod.drawing._dimensions import parts_of
from storyrod.drawing._types import Bounds, Dimension, Place, text_box

SIDES = ("below", "above", "left", "right")


def dimension(side: str, length: float) -> Dimension:
    """Return a dimension of 17.7, as written, drawn so long, beside a board that starts at (0, 0)."""
    ends: dict[str, tuple[Place, Place, float]] = {
        "below": ((0.0, 0.0), (length, 0.0), -5.0),
        "above": ((0.0, 0.0), (length, 0.0), 5.0),
        "right": ((0.0, 0.0), (0.0, length), -5.0),
        "left": ((0.0, 0.0), (0.0, length), 5.0),
    }
    a, b, away = ends[side]
    return Dimension(a=a, b=b, away=away, text="17.7", height=3.5)


def crossed(box: Bounds, ends: tuple[Place, Place]) -> bool:
    """Return whether a level or upright line runs through a box."""
    (ax, ay), (bx, by) = ends
    return min(ax, bx) < box.right and max(ax, bx) > box.left and min(ay, by) < box.top and max(ay, by) > box.bottom


@pytest.mark.parametrize("length", [2.0, 6.0, 9.0, 12.0, 40.0])
@pytest.mark.parametrize("side", SIDES)
def test_no_line_of_a_dimension_runs_through_its_figure(side: str, length: float) -> None:
    parts = list(parts_of(dimension(side, length), 1.0))
    (figure,) = (p for p in parts if isinstance(p, Text))
    box = text_box(figure, 1.0).grown(-0.2)

    for line in (p for p in parts if isinstance(p, Path)):
        assert not crossed(box, (line.points[0], line.points[-1])), (side, length)


@pytest.mark.parametrize("side", SIDES)
def test_a_figure_with_room_stands_along_its_line_and_one_without_is_read_upright(side: str) -> None:
    upright = side in ("left", "right")
    angles = []
    for length in (40.0, 6.0):
        (figure,) = (p for p in parts_of(dimension(side, length), 1.0) if isinstance(p, Text))
        angles.append(figure.angle_deg)

    assert angles == [90.0 if upright else 0.0, 0.0]
