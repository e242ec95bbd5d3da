"""The blind builder on a skirting board: an honest paper shows nothing, and one that is changed does not fool it."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import Back, BackKind, Plinth, Skirting
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
    """Return the paper of a case over a skirting board of 95 x 18: notches of 98 x 15 before a back of 6."""
    made = builders.case(
        skirting=Skirting(height=95, depth=18),
        plinth=Plinth(height=100),
        back=Back(kind=BackKind.APPLIED, board="b6"),
    )
    return read_pages(printed(Plan(builders.job(made), packaged_workshop())))


def test_an_honest_paper_shows_nothing(pages: tuple[Page, ...]) -> None:
    assert build_from(pages).findings == ()


SABOTAGES: dict[str, tuple[Sabotage, FindingKind]] = {
    "a skirting board told higher": (words(r"^board 95 mm", swap("95", "99")), K.SKIRTING_OFF),
    "a skirting board told thicker": (words(r"and 18 mm thick", swap("18", "20")), K.SKIRTING_OFF),
    "less to spare": (words(r"with 3 mm to spare", swap("3", "1")), K.SKIRTING_OFF),
    "a skirting board that no step names": (words(r"go over a skirting", swap("over", "at")), K.SKIRTING_OFF),
}


@pytest.mark.parametrize("name", SABOTAGES)
def test_it_is_not_fooled(pages: tuple[Page, ...], name: str) -> None:
    sabotage, kind = SABOTAGES[name]

    assert kind in {f.kind for f in build_from(sabotage(pages)).findings}
