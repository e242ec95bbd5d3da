"""The blind builder on what a case meets in its place: honest paper shows nothing, a changed one fools nobody."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import Fillers, Plinth, Scribe, Skirting
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
    """Return the paper of a case over a skirting board, its left side and a filler to be scribed."""
    made = builders.case(
        skirting=Skirting(height=95, depth=18),
        plinth=Plinth(height=100),
        scribe=Scribe(left=12),
        fillers=Fillers(right=40),
    )
    return read_pages(printed(Plan(builders.job(made), packaged_workshop())))


def test_an_honest_paper_shows_nothing(pages: tuple[Page, ...]) -> None:
    assert build_from(pages).findings == ()


SABOTAGES: dict[str, tuple[Sabotage, FindingKind]] = {
    "a skirting board told higher": (words(r"\b95 mm", swap("95", "99")), K.SKIRTING_OFF),
    "a skirting board told thicker": (words(r"high and 18$", swap("18", "20")), K.SKIRTING_OFF),
    "less to spare": (words(r"with 3 mm to", swap("3", "1")), K.SKIRTING_OFF),
    "a skirting board that no step names": (words(r"Its sides", swap("skirting", "foot")), K.SKIRTING_OFF),
    "less to scribe off a side": (words(r"\b12 mm of", swap("12", "10")), K.OUTSIDE_OFF),
    "a gap told wider": (words(r"gap of 40", swap("40", "45")), K.FILLER_OFF),
    "fewer screws than holes": (words(r"drive 3 × countersunk", swap("drive 3", "drive 2")), K.FILLER_OFF),
    "screws that reach the wall": (words(r"^screw 4 x 50\.", swap("50", "60")), K.FILLER_OFF),
}


@pytest.mark.parametrize("name", SABOTAGES)
def test_it_is_not_fooled(pages: tuple[Page, ...], name: str) -> None:
    sabotage, kind = SABOTAGES[name]

    assert kind in {f.kind for f in build_from(sabotage(pages)).findings}
