"""Source: ASTM F2057-23, Safety Specification for Clothing Storage Units, and 16 CFR 1261, which takes it over.

Where: abstract and scope; 27.2 kg and the block of 10.9 mm in a test laboratory's explanation of it; pull and its
height from memory. Rows D2 to D10, worked out by hand on a chest: 450 deep, plinth set back 30; body 20 kg, its middle
225 from the front face and 430 up; four drawers of 4 kg (middle 225 from the face), 40 dm3 each, run out by 350. Levers
behind the plinth: body and shut drawers +195, an open drawer -155, a load on the front of an open drawer -380.
"""

from __future__ import annotations

import math

import pytest

from storyrod.model.thresholds import GRAVITY, Thresholds
from storyrod.soundness._balance import (
    Body,
    anchor_force,
    balance,
    greatest_force,
    is_clothing_storage_size,
    tilt,
    tilted,
)

BODY, SHUT, OPEN = Body(20, 195, 430), Body(4, 195), Body(4, -155)


CHILD = Body(27.2, -380)


def test_what_is_reckoned_with_is_what_the_tests_ask_for() -> None:
    """27.2 kg hung on a front, a block of 10.9 under the rear, 10 lbf of pull at 56 in at most (from memory)."""
    used = Thresholds()

    assert (used.child_kg, used.block) == (27.2, 10.9)
    assert used.pull_n == pytest.approx(10 * 4.448222, abs=0.05)
    assert used.pull_height == pytest.approx(56 * 25.4, abs=0.5)


def filled(body: Body) -> Body:
    return Body(body.kg + 5.448, body.lever, body.height)


def test_d2_all_four_open_and_filled_tip() -> None:
    found = balance([BODY, *([filled(OPEN)] * 4)])

    assert found.steadying / GRAVITY == pytest.approx(3900)
    assert found.tipping / GRAVITY == pytest.approx(5857.8, abs=0.1)
    assert found.ratio == pytest.approx(0.6658, abs=5e-5)


def test_d3_one_open_and_filled_stands() -> None:
    found = balance([BODY, *([filled(SHUT)] * 3), filled(OPEN)])

    assert found.steadying / GRAVITY == pytest.approx(9427.1, abs=0.1)
    assert found.tipping / GRAVITY == pytest.approx(1464.4, abs=0.1)
    assert found.ratio == pytest.approx(6.437, abs=1e-3)


def test_d4_a_child_on_one_open_drawer_and_the_wall_fixing() -> None:
    found = balance([BODY, *([SHUT] * 3), OPEN, CHILD])

    assert found.ratio == pytest.approx(0.5696, abs=1e-4)
    assert anchor_force(found.left, 850) == pytest.approx(54.41, abs=0.01)


def test_d5_an_outward_pull_on_the_empty_chest_all_open() -> None:
    left = balance([BODY, *([OPEN] * 4)]).left

    assert greatest_force(left, 800) == pytest.approx(17.41, abs=0.01)
    assert balance([BODY, *([OPEN] * 4)], pull_n=44.5, pull_height=800).ratio < 1


def test_d6_a_force_down_on_one_open_drawer() -> None:
    left = balance([BODY, *([SHUT] * 3), OPEN]).left

    assert greatest_force(left, 380) == pytest.approx(145.0, abs=0.1)
    assert balance([BODY, *([SHUT] * 3), OPEN, Body(75 / GRAVITY, -380)]).ratio > 1


def test_d7_a_block_under_the_rear() -> None:
    angle = tilt(10.9, 420)

    assert math.degrees(angle) == pytest.approx(1.4866, abs=1e-4)
    assert tilted(BODY, angle).lever == pytest.approx(183.78, abs=0.01)


def test_d8_tilt_by_depth() -> None:
    found = [math.degrees(tilt(10.9, depth)) for depth in (400, 450, 500)]

    assert found == pytest.approx([1.561, 1.388, 1.249], abs=0.001)


def test_d10_scope_by_size() -> None:
    assert not is_clothing_storage_size(26.9 * 25.4, 20, 200)
    assert is_clothing_storage_size(27.0 * 25.4, 30 * 0.45359237, 3.2 * 28.316846592)
    assert not is_clothing_storage_size(800, 13.5, 200)
    assert not is_clothing_storage_size(800, 20, 90.0)


def test_nothing_before_the_pivot_never_tips() -> None:
    assert balance([BODY]).ratio == math.inf
    assert greatest_force(-5.0, 100) == 0.0
    assert greatest_force(5.0, 0) == math.inf
