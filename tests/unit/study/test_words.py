"""What a study found, in sentences."""

from __future__ import annotations

import pytest

from storyrod.model.study import Asked
from storyrod.telling.study_words import best_words, count_words, lack_words, variant_words


@pytest.mark.parametrize(
    ("least", "best", "own", "told"),
    [
        (Asked.PRICE, 70_000, 73_820, "The lowest price is 700.00 EUR: 38.20 EUR less than the job as it is."),
        (Asked.COST, 73_820, 70_000, "The lowest cost is 738.20 EUR: 38.20 EUR more than the job as it is."),
        (Asked.PRICE, 70_000, 70_000, "The lowest price is 700.00 EUR, the same as the job as it is."),
        (Asked.PRICE, 70_000, None, "The lowest price is 700.00 EUR."),
        (Asked.MINUTES, 61, 122, "The lowest time is 1 hour 1 minute: 1 hour 1 minute less than the job as it is."),
        (Asked.WEIGHT, 20.0, 20.06, "The lowest weight is 20.0 kg: 0.1 kg less than the job as it is."),
        (Asked.SHEETS, 1, 3, "The lowest count is 1 sheet: 2 sheets less than the job as it is."),
    ],
)
def test_the_best_stands_beside_the_job_as_it_is(least: Asked, best: float, own: float | None, told: str) -> None:
    assert best_words(least, best, own, "EUR") == told


def test_counts_are_said_in_a_line() -> None:
    assert count_words(1, 0, 0) == "1 variant worked out."
    assert count_words(9, 2, 1) == "9 variants worked out, 2 cannot be made, 1 does not keep what you ask."


def test_a_variant_is_what_varies_of_it() -> None:
    assert variant_words(["width", "corner joints"], [905, "dowels"]) == "width 905, corner joints dowels"


def test_what_has_no_price_is_said_only_where_something_has_none() -> None:
    assert lack_words("") == ""
    assert "2 hinges" in lack_words("2 hinges")
