"""Source: Methods of 32 mm system layout, as told in a trade knowledge base.

Where: rows of holes 5 mm across, 32 apart, the first column 37 behind the front edge, and more by the front's thickness
where fronts are inset. Rows K1 and K2: counts by hand.
"""

from __future__ import annotations

from storyrod.carcass import build
from storyrod.model.job import FrontKind, Fronts, LooseShelves
from tests.builders import case, door, job, shelves, workshop


def row_of(clear_height: float) -> list[float]:
    """Return the heights, above the opening's floor, of one column of holes in an opening this high."""
    of = build(job(case(height=clear_height + 36, inside=shelves(1))), workshop()).cases[0]
    return sorted({round(f.at.u - 18, 6) for f in of.fittings if f.panel == "A.side-left"})


def test_k1_row_in_720_has_19_holes() -> None:
    """First at 64 or more, last at 720 - 64 or less: (720 - 128) / 32 = 18.5, so 18 gaps of 32; the 16 over halved."""
    levels = row_of(720)

    assert len(levels) == 19
    assert levels[-1] - levels[0] == 576
    assert (levels[0], 720 - levels[-1]) == (72, 72)


def test_k2_row_in_2000_has_59_holes() -> None:
    levels = row_of(2000)

    assert len(levels) == 59
    assert levels[0] >= 64
    assert 2000 - levels[-1] >= 64


def test_first_column_is_37_behind_the_front_and_behind_an_inset_one() -> None:
    plain = build(job(case(inside=shelves(1))), workshop()).cases[0]
    inset_door = case(inside=door(loose_shelves=1), fronts=Fronts(kind=FrontKind.INSET, gap=2.0))
    inset = build(job(inset_door), workshop()).cases[0]

    assert min(f.at.v for f in plain.fittings) == 37
    assert min(f.at.v for f in inset.fittings if f.panel == "A.side-right") == 18 + 37


def test_defaults_of_the_system_row() -> None:
    row = LooseShelves()

    assert (row.hole, row.pitch, row.from_front) == (5, 32, 37)
    assert 12 <= row.hole_depth <= 13


def test_rows_of_holes_are_the_32_mm_system() -> None:
    rows = LooseShelves()

    assert (rows.hole, rows.pitch, rows.from_front) == (5.0, 32.0, 37.0)
    assert 12.0 <= rows.hole_depth <= 13.0
    assert rows.margin == 64.0  # K1 and K2 count the holes that this gives
