"""A search that is done serves parts of the same sizes again, whatever they are called; counts want no tidy cuts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.faults import JobError
from storyrod.model.sheet import CuttingPlan, Part, StockSheet
from storyrod.sheets import Searched, judge, lay_out
from storyrod.sheets import _searched as module

SHEET = StockSheet(id="full", board="b", length=1250, width=600, price_cents=3000)
PARTS = (
    *(Part(id=f"side-{n}", board="b", length=500, width=280) for n in range(4)),
    *(Part(id=f"shelf-{n}", board="b", length=410, width=270, copies=2) for n in range(3)),
)


def laid_out(parts: tuple[Part, ...], searched: Searched | None = None, stock: StockSheet = SHEET) -> CuttingPlan:
    return lay_out(parts, [stock], rounds=30, only_counts=True, searched=searched)


def test_other_names_are_laid_out_as_the_search_found_it() -> None:
    searched = Searched()
    first = laid_out(PARTS, searched)
    renamed = tuple(replace(p, id=f"x-{p.id}") for p in PARTS)
    again = laid_out(renamed, searched)

    assert len(searched) == 1
    assert again == laid_out(renamed)
    assert first == laid_out(PARTS)
    assert not judge(again, renamed, [SHEET], again.rules)
    assert {p.part for s in again.sheets for p in s.placements} == {p.id for p in renamed}


@pytest.mark.parametrize(
    "stock",
    [
        replace(SHEET, width=610),
        replace(SHEET, price_cents=4000),
        replace(SHEET, copies=50),
    ],
)
def test_another_sheet_is_searched_for_anew(stock: StockSheet) -> None:
    searched = Searched()
    laid_out(PARTS, searched)
    told = laid_out(PARTS, searched, stock)

    assert len(searched) == 2
    assert told == laid_out(PARTS, stock=stock)


def test_other_numbers_of_parts_are_searched_for_anew() -> None:
    searched = Searched()
    laid_out(PARTS, searched)
    more = (*PARTS, replace(PARTS[0], id="one-more"))

    assert laid_out(more, searched) == laid_out(more)
    assert len(searched) == 2


def test_what_finds_no_place_is_told_again() -> None:
    """By area five would go; four of them fill what the sheet gives."""
    few, searched, told = replace(SHEET, copies=1), Searched(), []
    for _ in range(2):
        with pytest.raises(JobError) as short:
            laid_out((replace(PARTS[0], length=420, width=310, copies=5),), searched, few)
        told.append(short.value.faults)

    assert told[0] == told[1]
    assert len(searched) == 1


def test_counts_are_those_of_tidy_sheets() -> None:
    for parts in (PARTS, PARTS[:5]):
        counted, tidied = laid_out(parts), lay_out(parts, [SHEET], rounds=30)
        assert counted.boards[0].figures.sheets == tidied.boards[0].figures.sheets
        assert counted.boards[0].figures.cents == tidied.boards[0].figures.cents


def test_offcuts_that_cost_nothing_are_tidied_all_the_same() -> None:
    """One of them might not be needed: only the tidied layout says how many are cut up."""
    rack = [replace(SHEET, id=f"off-{n}", offcut=True, copies=1, price_cents=None) for n in range(3)]
    stock = [SHEET, *rack]
    counted = lay_out(PARTS, stock, rounds=30, only_counts=True)
    tidied = lay_out(PARTS, stock, rounds=30)

    assert counted.boards[0].figures.sheets == tidied.boards[0].figures.sheets
    assert counted.boards[0].figures.settings <= tidied.boards[0].figures.settings + 2


def test_no_more_are_kept_than_may_be(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "KEPT", 2)
    searched = Searched()
    for n in range(4):
        laid_out(PARTS[: n + 1], searched)

    assert len(searched) == 2
