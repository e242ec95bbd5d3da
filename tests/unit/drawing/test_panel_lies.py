"""The picture of how a panel lies: held against the panel's own frame, turned in the hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest

from storyrod.drawing import Drawing, Path, Pen, panel_set_out
from storyrod.drawing.panel_lies import Lie, panel_lies
from storyrod.measure.space import Direction
from storyrod.model.panel import Panel, Role, Surface
from tests.unit.drawing.samples import SetOutMaker, panel

FACES = (Surface.FACE, Surface.FAR_FACE)
EDGES = (Surface.FACE_EDGE, Surface.FAR_EDGE, Surface.DATUM_END, Surface.FAR_END)
LEFT, RIGHT, TOP = (panel(role) for role in (Role.SIDE_LEFT, Role.SIDE_RIGHT, Role.TOP))


def outward(of: Panel, surface: Surface) -> Direction:
    """Return to which side of the case a surface looks."""
    way = of.frame.direction(surface.axis)
    return way if surface.is_far else way.reverse


def cross(a: Direction, b: Direction) -> Direction:
    """Return a x b: of x to the right, y away and z up, right is away x up."""
    sign = a.sign * b.sign * (1 if (b.nth - a.nth) % 3 == 1 else -1)
    return Direction(("+" if sign > 0 else "-") + "xyz"[3 - a.nth - b.nth])


@pytest.mark.parametrize(("of", "up", "near"), list(product((LEFT, RIGHT, TOP), FACES, EDGES)))
def test_it_lies_as_a_board_turned_in_the_hand_does(of: Panel, up: Surface, near: Surface) -> None:
    """With one face up and one edge near, a board can lie in one way only; its frame says in which."""
    away = outward(of, near).reverse
    right = cross(away, outward(of, up))
    around = Lie.of(of, up, near).around
    assert [outward(of, s) for s in around] == [away.reverse, right, away, right.reverse]


def bars(drawing: Drawing) -> list[Path]:
    """Return the heavy bars of a picture."""
    return [i for i in drawing.flat() if isinstance(i, Path) and i.pen is Pen.DATUM]


@pytest.mark.parametrize("of", [LEFT, RIGHT, TOP])
def test_the_bars_are_where_the_set_out_has_them(of: Panel) -> None:
    """Drawing and picture are made by two ways of reckoning; both say at which hand the datum end is."""
    (sheet,) = panel_set_out(SetOutMaker(of).done())
    lie = Lie.of(of, Surface.FACE)
    picture = panel_lies(lie, of)
    middle = [sum(x for x, _ in bar.points) / 2 for bar in bars(picture)]
    assert len(middle) == 2
    assert lie.words == sheet.notes[0]
    assert min(middle) < -5 if "left" in lie.words else max(middle) > 5


def test_the_loop_is_in_dashes_where_the_face_side_lies_down() -> None:
    pens = {face: {i.pen for i in panel_lies(Lie.of(LEFT, face), LEFT).flat() if isinstance(i, Path)} for face in FACES}
    assert Pen.HIDDEN_SMALL not in pens[Surface.FACE]
    assert Pen.HIDDEN_SMALL in pens[Surface.FAR_FACE]


@pytest.mark.parametrize("surface", [*EDGES, *FACES])
def test_an_arrow_goes_into_each_worked_surface(surface: Surface) -> None:
    """It ends at the surface and points into the board: from outside an edge, or from above."""
    up = surface if surface in FACES else Surface.FACE
    lie = Lie.of(LEFT, up)
    plain, worked = panel_lies(lie, LEFT), panel_lies(lie, LEFT, frozenset({surface}))
    (shaft, head) = [i for i in worked.flat() if isinstance(i, Path) and i.pen is Pen.MOVE]
    assert [i for i in worked.flat() if i not in (shaft, head)] == list(plain.flat())
    (x0, y0), (x1, y1) = shaft.points
    place = "up" if surface in FACES else lie.place_of(surface)
    way = {
        "toward you": (0, 1),
        "at the right": (-1, 0),
        "away from you": (0, -1),
        "at the left": (1, 0),
        "up": (0, -1),
    }
    assert (round((x1 - x0) / 3.8), round((y1 - y0) / 3.8)) == way[place]
    assert surface.value in worked.alt


@pytest.mark.parametrize(("long", "wide"), [(2400.0, 60.0), (100.0, 800.0), (400.0, 400.0)])
def test_it_is_small_and_never_flat(long: float, wide: float) -> None:
    of = panel(length=long, width=wide)
    for near in EDGES:
        across, high = panel_lies(Lie.of(of, Surface.FACE, near), of, frozenset(EDGES)).paper_size
        assert 20 < across < 43
        assert 14 < high < 28


def test_the_same_lie_is_the_same_drawing() -> None:
    """So that it is written once for a whole packet."""
    other = replace(LEFT, mark="B7")
    lie = Lie.of(LEFT, Surface.FACE)
    assert panel_lies(lie, LEFT) is panel_lies(lie, other)
