"""The blind builder on levelling feet: an honest paper shows nothing, and one that is changed does not fool it."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import Feet
from storyrod.planning import Plan
from storyrod_blind import FindingKind
from storyrod_blind._build import build_from
from storyrod_blind._page import Page, read_pages
from tests import builders
from tests.unit.blind.papers import printed
from tests.unit.blind.test_sabotage import Sabotage, swap, words

K = FindingKind


@pytest.fixture(scope="module")
def pages() -> tuple[Page, ...]:
    """Return the paper of a case on four feet of 100, its plinth board 3 over the floor."""
    made = builders.case(feet=Feet(height=100.0))
    return read_pages(printed(Plan(builders.job(made), packaged_workshop())))


def test_an_honest_paper_shows_nothing(pages: tuple[Page, ...]) -> None:
    assert build_from(pages).findings == ()


SABOTAGES: dict[str, tuple[Sabotage, FindingKind]] = {
    "feet turned to another height": (words(r"turn each to 100", swap("100", "110")), K.OUTSIDE_OFF),
    "a plinth board over a larger gap": (words(r"edge is 3|is 3 mm above", swap("3", "8")), K.PLINTH_OFF),
    "fewer clips": (words(r"2 × plinth clip", swap("2", "1")), K.PLINTH_OFF),
    "fewer screws in the feet": (words(r"8 × pan-head", swap("8", "6")), K.FASTENINGS_OFF),
}


@pytest.mark.parametrize("name", SABOTAGES)
def test_it_is_not_fooled(pages: tuple[Page, ...], name: str) -> None:
    sabotage, kind = SABOTAGES[name]

    assert kind in {f.kind for f in build_from(sabotage(pages)).findings}
