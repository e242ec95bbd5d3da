"""Source: two explanations of root-sum-square tolerance analysis; ten parts of +-0.1 are the printed example.

F8 worked by hand: worst 0.5 + 2 * 0.3 + 0.5 + 2 * 0.2 = 2.0; squares 0.25 + 0.18 + 0.25 + 0.08 = 0.76, root 0.87178.
Simulated values by theory of the normal and the uniform spread (C). Ids F7 to F14 of the check values.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from storyrod.machining._stack import merged, root_sum_square, simulate, stack, worst_case
from storyrod.model.machining import Contribution
from storyrod.model.simulation import draws

DRAWER = (
    Contribution(name="outside", tolerance=0.5),
    Contribution(name="left side", tolerance=0.3, factor=-1),
    Contribution(name="right side", tolerance=0.3, factor=-1),
    Contribution(name="box", tolerance=0.5, factor=-1),
    Contribution(name="left runner", tolerance=0.2, factor=-1),
    Contribution(name="right runner", tolerance=0.2, factor=-1),
)


def test_f7_ten_parts() -> None:
    ten = [Contribution(name=str(n), tolerance=0.1) for n in range(10)]
    assert worst_case(ten) == pytest.approx(1.0)
    assert root_sum_square(ten) == pytest.approx(0.31623, abs=5e-6)


def test_f8_drawer_gap() -> None:
    assert 600 - 2 * 18 - 538 - 2 * 12.7 == pytest.approx(0.6)
    assert worst_case(DRAWER) == pytest.approx(2.0)
    assert root_sum_square(DRAWER) == pytest.approx(0.87178, abs=5e-6)


def test_f9_simulated_normal() -> None:
    gaps = 0.6 + draws(DRAWER, seed=3, runs=2_000_000)
    assert gaps.std() == pytest.approx(0.2906, abs=0.001)
    assert (gaps < 0).mean() == pytest.approx(0.01947, abs=0.0005)


def test_f10_simulated_uniform() -> None:
    gaps = 0.6 + draws(DRAWER, seed=4, runs=1_000_000, uniform=True)
    assert gaps.std() == pytest.approx(math.sqrt(sum(c.tolerance**2 for c in DRAWER) / 3), abs=0.001)
    assert gaps.std() == pytest.approx(0.50332, abs=0.001)
    assert (gaps < 0).mean() == pytest.approx(0.122, abs=0.002)


def test_f11_one_sheet_is_one_cause() -> None:
    """Both sides from one sheet, both runners of one pair: 0.25 + 0.36 + 0.25 + 0.16 = 1.02."""
    one_sheet = merged(Contribution(name=c.name.split()[-1], tolerance=c.tolerance, factor=c.factor) for c in DRAWER)
    assert len(one_sheet) == 4
    assert root_sum_square(one_sheet) == pytest.approx(1.00995, abs=5e-6)


def test_f12_same_face_against_centre_line() -> None:
    same = merged([Contribution(name="board", tolerance=0.3), Contribution(name="board", tolerance=0.3, factor=-1)])
    assert root_sum_square(same) == 0
    centred = [Contribution(name="board", tolerance=0.3, factor=0.5)]
    assert simulate(centred, seed=1, runs=200_000, uniform=True) == pytest.approx(0.0866, abs=0.0005)


@settings(max_examples=15)
@given(
    tolerances=st.lists(st.floats(0.01, 2), min_size=1, max_size=8),
    signs=st.lists(st.sampled_from([-1.0, -0.5, 0.5, 1.0]), min_size=8, max_size=8),
    seed=st.integers(0, 1000),
)
def test_f13_simulation_agrees_with_theory(tolerances: list[float], signs: list[float], seed: int) -> None:
    causes = [Contribution(name=str(n), tolerance=t, factor=signs[n]) for n, t in enumerate(tolerances)]
    sigma, runs = root_sum_square(causes) / 3, 20_000
    assert simulate(causes, seed=seed, runs=runs) == pytest.approx(sigma, abs=4 * sigma / math.sqrt(2 * runs))
    assert abs(draws(causes, seed=seed, runs=runs, uniform=True)).max() <= worst_case(causes) + 1e-9
    assert root_sum_square(causes) <= worst_case(causes) + 1e-9


def test_f14_same_seed_same_figure() -> None:
    assert stack(DRAWER, seed=7) == stack(DRAWER, seed=7)
    assert stack(DRAWER, seed=7).simulated != stack(DRAWER, seed=8).simulated
