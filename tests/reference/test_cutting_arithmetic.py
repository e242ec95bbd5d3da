"""Source: arithmetic of pieces and kerfs, worked by hand.

Where: no book: floor((A + k) / (l + k)) pieces of l from a length A, the last without a cut. Rows K6 and K7; 2442.2 /
302.2 = 8.08, 2444 / 415.3 = 5.88, 2443 / 100.5 = 24.3 from 2440.
"""

from __future__ import annotations

import pytest

from storyrod.model.sheet import CutRules, Part, StockSheet, Trim, Way
from storyrod.sheets import lay_out

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
