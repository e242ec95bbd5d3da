"""Source: measuring guides of several drawer-box suppliers, which agree.

Where: their measuring sheets: under-mounted runners leave the inside of a drawer 42 narrower than the opening; room
above, below and behind; side-mounted ones 12.5 to 13 mm each side. Row K3 by hand.
"""

from __future__ import annotations

from itertools import pairwise

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.carcass import build
from storyrod.measure.space import Axis
from storyrod.model.job import Drawers
from storyrod.model.workshop import Runner, RunnerMount
from tests.builders import board, boards, case, drawer, job, side_runner, under_runner, workshop


@pytest.mark.parametrize(("each_side", "box"), [(12.7, 538.6), (13.0, 538.0)])
def test_k3_box_between_side_mounted_runners(each_side: float, box: float) -> None:
    """600 outside less two sides of 18 is 564; less twice the runner's room."""
    shop = workshop(runners=(side_runner(room_each_side=each_side),))
    of = build(job(case(width=600, inside=drawer(), drawers=Drawers(board="b12", bottom_board="b6"))), shop).cases[0]

    assert of.inside.size(Axis.X) == 564
    assert of.drawers[0].box.size(Axis.X) == pytest.approx(box)


def test_side_mounted_default_lies_in_the_suppliers_range() -> None:
    assert 12.5 <= Runner(code="r", name="", mount=RunnerMount.SIDE, lengths=()).room_each_side <= 13


@pytest.mark.parametrize("side", [12.0, 15.0, 16.0])
def test_inside_of_a_drawer_on_under_mounted_runners_is_42_less_whatever_its_sides_are(side: float) -> None:
    """Suppliers say the same as `opening - 10` for sides of 16 and `opening - 12` for 15, outside."""
    of = build(
        job(
            case(inside=drawer(), drawers=Drawers(runner="under", board="sides", bottom_board="b6")),
            boards=(*boards(), board("sides", side)),
        ),
        workshop(runners=(under_runner(),)),
    ).cases[0]

    assert of.drawers[0].inside.size(Axis.X) == pytest.approx(564 - 42)
    outside = {16.0: 10, 15.0: 12}.get(side)
    if outside is not None:
        assert of.drawers[0].box.size(Axis.X) == pytest.approx(564 - outside)


def test_under_mounted_runners_make_the_inside_42_less() -> None:
    assert {r.inside_less for r in packaged_workshop().runners if r.mount is RunnerMount.UNDER} == {42.0}


def test_rooms_of_runners_are_those_of_the_guides() -> None:
    for runner in packaged_workshop().runners:
        assert runner.room_above == 10.0
        assert 12.0 <= runner.room_below <= 15.0
        assert runner.clear_behind >= 5.0
        assert runner.screws[0] == 37.0
        assert all((b - a) % 32 == 0 for a, b in pairwise(runner.screws))
        assert all(b - a == 50 for a, b in pairwise(runner.lengths))
