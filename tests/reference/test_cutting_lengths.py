"""Cutting lengths from a sheet, kerf counted.

Sources: the formula floor((A + k) / (l + k)) for n pieces of l from a length A, the last without a cut, is arithmetic
(row K7; 2442.2 / 302.2 = 8.08, 2444 / 415.3 = 5.88, 2443 / 100.5 = 24.3 from 2440).
The one-dimensional case (stock 2440, kerf 3.2; wanted 5 x 720, 6 x 564, 7 x 400, 4 x 296) has a lower bound of
4.518 and an optimum of 5 lengths, proven with OR-Tools CP-SAT 9.15.
Sheet masses: area times thickness times density (730 kg/m3 for MDF, common practice, no source).
"""

from __future__ import annotations

import pytest

from storyrod.model.sheet import CutRules, Found, Part, StockSheet, Trim, Way
from storyrod.sheets import lay_out, saw_list

BARE = CutRules(kerf=3.2, trim=Trim())


def strip(length: float, **more: object) -> StockSheet:
    return StockSheet(id="strip", board="b", length=length, width=100, price_cents=100, **more)  # type: ignore[arg-type]


def pieces(name: str, length: float, copies: int) -> Part:
    return Part(id=name, board="b", length=length, width=100, copies=copies)


def test_four_pieces_of_560_from_2440_and_what_is_left() -> None:
    """2440 - 4 x 560 - 3 x 3.2 = 190.4 still on the fourth; 187.2 once its cut is made."""
    plan = lay_out([pieces("p", 560, 4)], [strip(2440)], BARE, rounds=5)
    sheet = plan.sheets[0]

    assert len(plan.sheets) == 1
    assert [c.way for c in sheet.cuts] == [Way.CROSSCUT] * 4
    assert sheet.cuts[-1].piece_length == pytest.approx(560 + 190.4)
    assert [o.length for o in sheet.offcuts] == [pytest.approx(187.2)]
    assert len(lay_out([pieces("p", 560, 5)], [strip(2440)], BARE, rounds=5).sheets) == 2


def test_five_pieces_fit_exactly_when_the_last_needs_no_cut() -> None:
    """5 x 485.44 + 4 x 3.2 = 2440."""
    plan = lay_out([pieces("p", 485.44, 5)], [strip(2440)], BARE, rounds=5)

    assert len(plan.sheets) == 1
    assert len(plan.sheets[0].cuts) == 4
    assert plan.sheets[0].offcuts == ()
    assert len(lay_out([pieces("p", 485.45, 5)], [strip(2440)], BARE, rounds=5).sheets) == 2


@pytest.mark.parametrize(("length", "kerf", "most"), [(300.0, 2.2, 8), (411.3, 4.0, 5), (97.5, 3.0, 24)])
def test_the_number_of_pieces_from_a_length(length: float, kerf: float, most: int) -> None:
    rules = CutRules(kerf=kerf, trim=Trim())

    assert len(lay_out([pieces("p", length, most)], [strip(2440)], rules, rounds=5).sheets) == 1
    assert len(lay_out([pieces("p", length, most + 1)], [strip(2440)], rules, rounds=5).sheets) == 2


def test_the_one_dimensional_case_takes_five_lengths() -> None:
    parts = [pieces("a", 720, 5), pieces("b", 564, 6), pieces("c", 400, 7), pieces("d", 296, 4)]
    plan = lay_out(parts, [strip(2440)], BARE, rounds=400)

    assert len(plan.sheets) == 5
    assert plan.boards[0].bound_sheets == 5
    assert plan.boards[0].found is Found.PROVED


@pytest.mark.parametrize(
    ("size", "thickness", "density", "kg"),
    [
        ((2440, 1220), 18, 730, 39.12),
        ((2800, 2070), 18, 650, 67.81),
        ((2440, 1220), 18, 680, 36.44),
        ((2440, 1220), 6, 780, 13.93),
    ],
)
def test_a_full_sheet_in_hand_is_told_with_its_mass(
    size: tuple[float, float], thickness: float, density: float, kg: float
) -> None:
    sheet = StockSheet(
        id="s", board="b", length=size[0], width=size[1], price_cents=1, mass_kg_m2=thickness * density / 1000
    )
    rules = CutRules(kerf=3, trim=Trim.even(10), one_person_kg=20)
    board = lay_out([Part(id="p", board="b", length=700, width=500)], [sheet], rules, rounds=2).boards[0]
    first = saw_list(board, rules, [sheet]).steps[0]

    assert first.mass_kg == pytest.approx(kg, abs=0.06)
    assert first.two_people == (kg > 20)
