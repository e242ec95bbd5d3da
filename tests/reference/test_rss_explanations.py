"""Source: two explanations of RSS tolerance analysis on the web.

Where: their printed example: ten parts of 0.1, which give 1.0 and 0.316. Rows F7 to F14; F8 worked by hand: worst 0.5 +
2 x 0.3 + 0.5 + 2 x 0.2 = 2.0; squares 0.25 + 0.18 + 0.25 + 0.08 = 0.76, root 0.87178. Distributions by a statistics
library.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from storyrod.model.simulation import ErrorShape, ErrorTerm, merged, simulated
from storyrod.trade.stack import deviation, root_sum_square, worst_case


def terms(shape: ErrorShape = ErrorShape.NORMAL, *, alike: bool = False) -> tuple[ErrorTerm, ...]:
    """The drawer gap: 600 less two boards of 18, a box of 538 and two runners of 12.7."""
    told = [
        ("opening", 1.0, 0.5, ""),
        ("left side", -1.0, 0.3, "sheet"),
        ("right side", -1.0, 0.3, "sheet"),
        ("box", -1.0, 0.5, ""),
        ("left runner", -1.0, 0.2, "runners"),
        ("right runner", -1.0, 0.2, "runners"),
    ]
    return tuple(
        ErrorTerm(name=n, coefficient=c, tolerance=t, shape=shape, cause=cause if alike else "")
        for n, c, t, cause in told
    )


NOMINAL = 0.6  # 600 - 2 x 18 - 538 - 2 x 12.7


def test_f7_ten_parts() -> None:
    ten = tuple(ErrorTerm(name=str(i), tolerance=0.1) for i in range(10))

    assert worst_case(ten) == pytest.approx(1.0)
    assert root_sum_square(ten) == pytest.approx(0.31623, abs=1e-5)


def test_f8_the_gap_beside_a_drawer() -> None:
    assert worst_case(terms()) == pytest.approx(2.0)
    assert root_sum_square(terms()) == pytest.approx(0.87178, abs=1e-5)


def test_f9_simulated_as_normal_errors() -> None:
    gaps = simulated(terms(), 400_000, seed=9, nominal=NOMINAL)

    assert deviation(terms()) == pytest.approx(0.87178 / 3, abs=1e-5)
    assert gaps.std() == pytest.approx(0.2906, abs=0.001)
    theory = stats.norm.cdf(0, loc=NOMINAL, scale=deviation(terms()))
    assert theory == pytest.approx(0.01947, abs=1e-4)
    assert (gaps < 0).mean() == pytest.approx(theory, abs=4 * math.sqrt(theory / 400_000))


def test_f10_simulated_as_even_errors() -> None:
    gaps = simulated(terms(ErrorShape.EVEN), 400_000, seed=10, nominal=NOMINAL)

    assert deviation(terms(ErrorShape.EVEN)) == pytest.approx(0.50332, abs=1e-5)
    assert gaps.std() == pytest.approx(0.50332, abs=0.002)
    assert (gaps < 0).mean() == pytest.approx(0.122, abs=0.002)


def test_f11_boards_of_one_sheet_and_runners_alike_vary_together() -> None:
    assert root_sum_square(terms(alike=True)) == pytest.approx(1.00995, abs=1e-5)
    assert worst_case(terms(alike=True)) == pytest.approx(2.0)
    assert len(merged(terms(alike=True))) == 4


def test_f12_thickness_cancels_from_one_face_and_halves_from_centre_lines() -> None:
    def thickness(coefficient: float) -> tuple[ErrorTerm, ...]:
        return (ErrorTerm(name="thickness", tolerance=0.3, coefficient=coefficient, shape=ErrorShape.EVEN),)

    assert deviation(thickness(0.0)) == 0.0
    assert deviation(thickness(0.5)) == pytest.approx(0.0866, abs=1e-4)
    assert simulated(thickness(0.5), 100_000, seed=1).std() == pytest.approx(0.0866, abs=5e-4)


some = st.lists(
    st.builds(
        ErrorTerm,
        name=st.sampled_from("abcd"),
        tolerance=st.floats(0.01, 1.0),
        coefficient=st.floats(-2, 2).filter(lambda c: abs(c) > 0.01),
    ),
    min_size=1,
    max_size=5,
).map(tuple)


@settings(max_examples=25)
@given(errors=some, seed=st.integers(0, 2**31))
def test_f13_simulation_agrees_with_the_sum_of_squares_and_keeps_the_worst_case(
    errors: tuple[ErrorTerm, ...], seed: int
) -> None:
    """The deviation of N normal sums is itself uncertain by sigma / sqrt(2 N): five of these are allowed."""
    n = 20_000
    sigma = root_sum_square(errors) / 3
    found = simulated(errors, n, seed)
    kept = simulated(errors, n, seed, cut=True)

    assert float(found.std()) == pytest.approx(sigma, abs=5 * sigma / math.sqrt(2 * n))
    assert float(np.abs(kept).max()) <= worst_case(errors) + 1e-12


def test_f14_the_same_seed_gives_the_same_figures() -> None:
    first, again, other = (simulated(terms(), 1000, seed) for seed in (3, 3, 4))

    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)
