"""A clothes rail in the pictures: tube and sockets in the elevation, hangers in the section, the tube as it goes in."""

from __future__ import annotations

from functools import cache

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.drawing import assembly_step, case_elevation
from storyrod.drawing._depth_section import depth_section
from storyrod.drawing._drawing import Drawing
from storyrod.drawing._types import Circle, Group, Path, Running, Text
from storyrod.model.assembly import StepKind
from storyrod.model.job import ClothesRail
from storyrod.planning import Plan
from tests import builders


@cache
def plan() -> Plan:
    """A rail in an open case of 564 x 684 clear: the tube's middle is 642 up and 300 back."""
    inside = builders.opening(clothes_rail=ClothesRail())
    return Plan(builders.job(builders.case(depth=600.0, inside=inside)), packaged_workshop())


def group(drawing: Drawing, name: str) -> Group:
    return next(i for i in drawing.items if isinstance(i, Group) and i.name == name)


@pytest.mark.parametrize("fronts", [True, False])
def test_the_elevation_shows_the_tube_between_its_sockets(fronts: bool) -> None:
    shapes = group(case_elevation(plan().details.cases[0], fronts=fronts), "clothes rail 1").items

    corners = [(p.points[0], p.points[2]) for p in shapes if isinstance(p, Path)]
    assert corners == [
        ((20, 629.5), (580, 654.5)),
        ((18, 623.5), (20, 660.5)),
        ((580, 623.5), (582, 660.5)),
    ]


def test_the_openings_say_what_hangs_and_how_high() -> None:
    drawing = case_elevation(plan().details.cases[0], fronts=False)
    said = [i.text for g in drawing.items if isinstance(g, Group) for i in g.items if isinstance(i, Text)]

    assert "clothes rail" in said
    assert "642" in [s.text for i in drawing.items if isinstance(i, Running) for s in i.stops]


def test_the_section_shows_how_deep_hangers_are() -> None:
    shapes = group(depth_section(plan().details.cases[0]), "clothes rail 1, and the depth of clothes on hangers").items

    (hanger,) = [s for s in shapes if isinstance(s, Path)]
    (tube,) = [s for s in shapes if isinstance(s, Circle)]
    assert (tube.centre, tube.radius) == ((300, 642), 12.5)
    assert (min(p[0] for p in hanger.points), max(p[0] for p in hanger.points)) == (20, 580)


def test_the_last_step_shows_the_sockets_and_the_tube_that_moves() -> None:
    case, steps = plan().details.cases[0], plan().assembly.cases[0].steps
    last = assembly_step(case, steps[-1], steps[:-1])

    assert steps[-1].kind is StepKind.RAIL
    kinds = {g.name: g.kind for g in last.items if isinstance(g, Group)}
    assert kinds["tube of clothes rail 1"] == "moving"
    assert {"left socket of clothes rail 1", "right socket of clothes rail 1"} <= kinds.keys()
    assert "down 15" in [i.text for i in last.items if isinstance(i, Text)]
