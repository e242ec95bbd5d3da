"""A door over an opening with nothing under it: its step says how high it ends, for no panel shows it."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.assembly._free_edges import free_edges
from storyrod.carcass import build
from storyrod.measure.writing import METRIC
from storyrod.model.carcass import BuiltCase
from storyrod.model.job import Opening
from tests import builders


def built(*rows: Opening) -> BuiltCase:
    made = builders.job(builders.case(inside=builders.rows(*rows)))
    return build(made, packaged_workshop()).cases[0]


def told(case: BuiltCase) -> str:
    (door,) = (p for p in case.panels if p.name == "door 1")
    return free_edges(case, door, METRIC)


@pytest.mark.parametrize("size", [200.0, 300.0])
def test_a_door_that_ends_over_an_open_place_says_how_high(size: float) -> None:
    case = built(builders.door(parted=False), builders.opening(size, parted=False))
    (door,) = (p for p in case.panels if p.name == "door 1")
    (base,) = (p for p in case.panels if p.name == "base")

    over = METRIC.told(door.box.low.z - base.box.high.z)
    assert told(case) == f"Its lower edge ends in the open, {over} above the base."


def test_a_door_under_an_open_place_says_so_of_its_upper_edge() -> None:
    case = built(builders.opening(200.0, parted=False), builders.door(parted=False))
    assert told(case).startswith("Its upper edge ends in the open, ")


def test_a_door_between_panels_or_fronts_says_nothing() -> None:
    assert told(built(builders.door())) == ""
    assert told(built(builders.door(), builders.opening(200.0))) == ""
    drawers = built(builders.door(parted=False), builders.drawer(200.0, parted=False))
    assert told(drawers) == ""
