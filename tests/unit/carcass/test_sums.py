"""Written sums."""

from __future__ import annotations

import pytest

from storyrod.carcass._sums import Term, figure, share_told, told
from storyrod.measure.length import Unit


@pytest.mark.parametrize(
    ("terms", "written"),
    [
        ((), "600"),
        ((Term(-2, 17.7),), "600 - 2 x 17.7"),
        ((Term(-1, 18), Term(-1, 18)), "600 - 2 x 18"),
        ((Term(1, 16.5), Term(1, -1.5)), "600 + 16.5 - 1.5"),
        ((Term(-1, 0.0), Term(0, 5.0)), "600"),
        ((Term(-1, 17.666666),), "600 - 17.67"),
    ],
)
def test_a_sum_is_written_as_a_maker_would(terms: tuple[Term, ...], written: str) -> None:
    assert told(Unit.MM, 600, *terms) == written


def test_inches_are_written_in_decimals_so_that_the_sum_can_be_checked() -> None:
    assert told(Unit.INCH, 609.6, Term(-2, 18.0)) == "24 - 2 x 0.7087"


@pytest.mark.parametrize(
    ("part", "parts", "written"),
    [(1.0, 1.0, "564 - 18"), (1.0, 2.0, "(564 - 18) / 2"), (2.0, 5.0, "(564 - 18) x 2 / 5")],
)
def test_a_share_is_written_with_what_it_is_a_share_of(part: float, parts: float, written: str) -> None:
    assert share_told(Unit.MM, 564, (Term(-1, 18),), part, parts) == written


def test_no_figure_is_written_as_minus_nothing() -> None:
    assert figure(-0.0001, Unit.MM) == "0"
