"""The blind builder on a clothes rail: an honest paper shows nothing, and one that is changed does not fool it."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import ClothesRail
from storyrod.planning import Plan
from storyrod_blind import FindingKind
from storyrod_blind._build import build_from
from storyrod_blind._page import Page, read_pages
from tests import builders
from tests.unit.blind.papers import printed
from tests.unit.blind.test_sabotage import Sabotage, more, swap, words

K = FindingKind


@pytest.fixture(scope="module")
def pages() -> tuple[Page, ...]:
    """Return the paper of a case with a rail between a divider and its right side: 423 clear."""
    inside = builders.columns(builders.opening(223.0), builders.opening(clothes_rail=ClothesRail()))
    made = builders.case(width=700.0, height=500.0, depth=600.0, inside=inside)
    return read_pages(printed(Plan(builders.job(made), packaged_workshop())))


def test_an_honest_paper_shows_nothing(pages: tuple[Page, ...]) -> None:
    assert build_from(pages).findings == ()


SABOTAGES: dict[str, tuple[Sabotage, FindingKind]] = {
    "a socket's height": (words(r"^422$", more(2), on="A2: right side"), K.SOCKETS_OFF),
    "a tube too long": (words(r"First cut the tube", swap("419", "424")), K.TUBE_OFF),
    "a tube bought shorter than it is cut": (words(r"tube cut to 419", swap("419", "319")), K.TUBE_OFF),
    "a step that lays no tube in": (
        words(r"Clothes rail 1 into its sockets", swap("1 into", "2 into")),
        K.TUBE_NEVER_LAID,
    ),
    "a step that fixes no sockets": (words(r"Fittings on A5", swap("A5", "A9")), K.FITTING_NEVER_FIXED),
    "too few screws": (words(r"2 × pan-head", swap("2 ×", "1 ×")), K.FASTENINGS_OFF),
}


@pytest.mark.parametrize("name", SABOTAGES)
def test_it_is_not_fooled(pages: tuple[Page, ...], name: str) -> None:
    sabotage, kind = SABOTAGES[name]

    assert kind in {f.kind for f in build_from(sabotage(pages)).findings}
