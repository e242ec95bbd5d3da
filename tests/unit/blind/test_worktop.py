"""The blind builder on a worktop: an honest paper shows nothing, and one that is changed does not fool it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.model.job import BetweenOrOver, BoardKind, Worktop
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
    """Return the paper of a case of two rails under an oak worktop: 630 x 430, its rear screws in slots."""
    over = Worktop(front=30.0, left=20.0, right=10.0, board="oak")
    made = builders.case(depth=400.0, top=BetweenOrOver.RAILS, worktop=over)
    oak = builders.board("oak", name="red oak", kind=BoardKind.SOLID, thickness=26.0, measured=26.0, grain=True)
    job = builders.job(made, boards=(*builders.boards(), replace(oak, density_kg_m3=700.0)))
    return read_pages(printed(Plan(job, packaged_workshop())))


def test_an_honest_paper_shows_nothing(pages: tuple[Page, ...]) -> None:
    assert build_from(pages).findings == ()


SABOTAGES: dict[str, tuple[Sabotage, FindingKind]] = {
    "an overhang told wrong": (words(r"left end 20", swap("20", "25")), K.WORKTOP_OFF),
    "an overhang that is not told": (words(r"left end 20", swap("left", "lower")), K.WORKTOP_OFF),
    "fewer screws than holes": (words(r"then drive 3 ×|drive 3 ×", swap("3", "2")), K.WORKTOP_OFF),
}


@pytest.mark.parametrize("name", SABOTAGES)
def test_it_is_not_fooled(pages: tuple[Page, ...], name: str) -> None:
    sabotage, kind = SABOTAGES[name]

    assert kind in {f.kind for f in build_from(sabotage(pages)).findings}
