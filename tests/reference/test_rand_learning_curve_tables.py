"""Source: Learning-Curve Tables, RM-6191, 3 volumes, RAND, 1970.

Where: the unit model, which these volumes tabulate; values worked out from the model and rounded to four places.
"""

from __future__ import annotations

import pytest

from storyrod.ledger import unit_factor

UNITS = (2, 3, 4, 5, 8, 10, 16, 20, 50, 100)


TABLE = {
    0.70: (0.7000, 0.5682, 0.4900, 0.4368, 0.3430, 0.3058, 0.2401, 0.2141, 0.1336, 0.0935),
    0.75: (0.7500, 0.6338, 0.5625, 0.5127, 0.4219, 0.3846, 0.3164, 0.2884, 0.1972, 0.1479),
    0.80: (0.8000, 0.7021, 0.6400, 0.5956, 0.5120, 0.4765, 0.4096, 0.3812, 0.2838, 0.2271),
    0.85: (0.8500, 0.7729, 0.7225, 0.6857, 0.6141, 0.5828, 0.5220, 0.4954, 0.3996, 0.3397),
    0.90: (0.9000, 0.8462, 0.8100, 0.7830, 0.7290, 0.7047, 0.6561, 0.6342, 0.5518, 0.4966),
    0.95: (0.9500, 0.9219, 0.9025, 0.8877, 0.8574, 0.8433, 0.8145, 0.8012, 0.7486, 0.7112),
}


@pytest.mark.parametrize("rate", TABLE)
def test_unit_table(rate: float) -> None:
    assert [unit_factor(n, rate) for n in UNITS] == pytest.approx(TABLE[rate], abs=0.00005)


def test_totals_of_the_unit_model() -> None:
    """The first n at 80 %: 1.8, 3.1421, 6.3154, 10.4849 and 32.6508 of the first, for 2, 4, 10, 20 and 100."""
    units = [unit_factor(n, 0.8) for n in range(1, 101)]

    assert [sum(units[:n]) for n in (2, 4, 10, 20, 100)] == pytest.approx(
        [1.8, 3.1421, 6.3154, 10.4849, 32.6508], abs=5e-5
    )
