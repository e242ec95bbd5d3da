"""What a few millimetres would change: strips that nearly come out of a sheet, and the sheets that one can buy."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.faults import JobError
from storyrod.measure.length import Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.sheet import CutRules, Part, StockSheet, Trim
from storyrod.sheets import lay_out

BOARD = StockSheet(id="sheet", board="ply", length=2440, width=1220, price_cents=7800)
PLAIN = CutRules(kerf=3.2, trim=Trim.even(10))


def part(name: str, length: float, width: float, copies: int = 1) -> Part:
    return Part(id=name, board="ply", length=length, width=width, copies=copies)


def test_strips_that_miss_a_sheet_by_trim_and_kerf_are_told_with_the_width_that_would_do() -> None:
    """Two of 603 are 1206 of 1220 mm; with 2 x 10 of trim and a kerf of 3.2 they miss it by 9.2."""
    wide = lay_out([part("shelf", 2400, 603, copies=4)], [BOARD], PLAIN)
    slim = lay_out([part("shelf", 2400, 598.4, copies=4)], [BOARD], PLAIN)

    assert len(wide.sheets) == 4
    assert wide.notes[-1] == (
        "2 strips 603 mm wide miss fitting a sheet of 2440 × 1220 mm by 9.2 mm: 1 x 3.2 mm of kerf and 20 mm of trim "
        "get in "
        "the way. At 598.4 mm they fit."
    )
    assert len(slim.sheets) == 2
    assert not any("strips" in note for note in slim.notes)
    assert not any("strips" in n for n in lay_out([part("shelf", 2400, 603, copies=1)], [BOARD], PLAIN).notes)


def test_an_inch_job_is_advised_sheets_that_are_sold_by_the_inch() -> None:
    with pytest.raises(JobError) as caught:
        lay_out([part("side", 2700, 400)], [BOARD], replace(PLAIN, lengths=LengthWriter(Unit.INCH)))

    assert caught.value.faults[0].do.startswith('A sheet of 120" × 48" would do')
