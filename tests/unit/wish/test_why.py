"""Why a wish cannot be met: the smallest set that quarrels, and the least change, held against sums by hand."""

from __future__ import annotations

import pytest

from storyrod.model.wish import Broken, WhyNot
from storyrod.telling.wish import why_lines
from storyrod.wish import why_not
from tests.unit.wish import wishes


class StoppedError(Exception):
    """Somebody pressed stop."""


def why(things: str, place: str) -> WhyNot:
    return why_not(wishes.space(wishes.read(things, place)))


def test_two_folders_too_many_and_what_makes_peace() -> None:
    """464 clear holds 5 folders of 80 a row; 784 clear two rows of 338 and a board: 10. Three rows want 1166.

    Two rows of six want 480 clear, 516 outside: 520 on the grid of 5 mm... which 516 is not.
    """
    found = why(wishes.SHELVES.replace("count = 8", "count = 12"), "width = 500\nheight = 900\ndepth = 400")

    assert found.proven
    quarrels = {q.what: q for q in found.quarrels}
    assert set(quarrels) == {Broken.COUNT, Broken.HEIGHT, Broken.WIDTH}
    assert (quarrels[Broken.COUNT].asked, quarrels[Broken.COUNT].enough) == (12, 10)
    assert quarrels[Broken.HEIGHT].enough == pytest.approx(80 + 36 + 3 * 338 + 2 * 18 + 4)  # 1166 on the grid: 1170
    assert quarrels[Broken.WIDTH].enough == pytest.approx(520)


def test_a_wish_that_can_be_met_has_no_quarrel() -> None:
    assert why(wishes.SHELVES, "width = 500\nheight = 900\ndepth = 400") == WhyNot(quarrels=(), proven=True)


def test_the_smallest_set_leaves_out_what_does_not_quarrel() -> None:
    """The cups have nothing to do with boxes that are wanted low and do not fit under the limit."""
    low = (
        '[[things]]\nname="trunks"\nwidth=400\nheight=700\ndepth=300\ncount=2\nat="low"\n'
        '[[things]]\nname="cups"\nwidth=80\nheight=100\ndepth=80\ncount=2\n'
    )
    found = why(low, "width = 500\nheight = 1850\ndepth = 400")

    assert {(q.what, q.goods) for q in found.quarrels} == {
        (Broken.COUNT, 0),
        (Broken.ZONE, 0),
        (Broken.WIDTH, -1),
    }
    free = next(q for q in found.quarrels if q.what is Broken.ZONE)
    assert free.helps


def test_it_is_told_in_words_a_maker_reads() -> None:
    file = wishes.read(wishes.SHELVES.replace("count = 8", "count = 12"))
    told = "\n".join(why_lines(why_not(wishes.space(file)), file.goods, file.base.lengths, "EUR"))

    assert "10 folders go in: leave 2 out" in told
    assert "all goes in with 20 mm more width: 520 mm" in told
    assert "[things[0].count]" in told


def test_it_stops_when_told_to() -> None:
    def stop() -> None:
        raise StoppedError

    with pytest.raises(StoppedError):
        why_not(wishes.space(wishes.mixed()), stop)
