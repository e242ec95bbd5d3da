"""Which panel is let into which, told for cases whose answer a maker sees at once."""

from __future__ import annotations

import pytest

from storyrod import carcass, joinery
from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.drawing import let_in
from storyrod.model.detail import Choices, DetailedCase
from storyrod.model.job import Back, BackKind, MethodChoice
from tests import builders
from tests.places import EXAMPLES


def made(back: BackKind) -> DetailedCase:
    """Return a case with one shelf, all on dowels."""
    inside = builders.rows(builders.opening(), builders.opening())
    case = builders.case("A", back=Back(kind=back, board="b6", inset=12.0), inside=inside)
    job = builders.job(case, methods=MethodChoice(corner="dowels", mid_panel="dowels", plinth="dowels"))
    workshop = packaged_workshop()
    return joinery.detail(joinery.join(carcass.build(job, workshop), workshop), Choices()).cases[0]


@pytest.mark.parametrize("back", [BackKind.REBATED, BackKind.GROOVED])
def test_a_back_is_let_into_what_has_the_rebate_or_groove(back: BackKind) -> None:
    """The joint's receiving panel is a rebated back; the wood is lost in the sides all the same."""
    pairs = let_in(made(back))

    assert {("A.side-left", "A.back"), ("A.side-right", "A.back")} <= set(pairs)
    assert all(inner == "A.back" for _, inner in pairs)


def test_an_applied_back_is_let_into_nothing() -> None:
    assert let_in(made(BackKind.APPLIED)) == ()


def test_a_shelf_is_let_into_its_housings_and_a_bottom_into_its_drawer() -> None:
    read = read_job(EXAMPLES / "music-stand-shelf-inches.toml")
    joined = joinery.join(carcass.build(read.job, read.workshop), read.workshop)
    pairs = set(let_in(joinery.detail(joined, Choices()).cases[0]))
    assert ("M.side-left", "M.base") in pairs

    read = read_job(EXAMPLES / "rehearsal-room.toml")
    joined = joinery.join(carcass.build(read.job, read.workshop), read.workshop)
    pairs = set(let_in(joinery.detail(joined, Choices()).cases[0]))
    assert ("A.drawer-1.side-left", "A.drawer-1.bottom") in pairs
