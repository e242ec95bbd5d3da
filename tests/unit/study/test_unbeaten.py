"""The variants that nothing beats on price, minutes and waste."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from storyrod.model.study import Column, Kind, Row
from storyrod.telling.unbeaten import measures_in, unbeaten

COLUMNS = tuple(Column(name=n, kind=Kind.NUMBER) for n in ("cases[0].width", "price", "minutes", "yield"))


def rows_of(figures: list[tuple[int, int, int]]) -> list[Row]:
    return [Row(number=n, cells=(n, *f), rank=1.0) for n, f in enumerate(figures)]


@given(st.lists(st.tuples(*[st.integers(0, 6)] * 3), max_size=40))
def test_nothing_beats_them_and_they_beat_all_others(figures: list[tuple[int, int, int]]) -> None:
    """By looking at every pair: cheaper, quicker, and more of the sheets used."""

    def beats(a: tuple[int, int, int], b: tuple[int, int, int]) -> bool:
        return a[0] <= b[0] and a[1] <= b[1] and a[2] >= b[2] and a != b

    told = {row.number for row in unbeaten(COLUMNS, rows_of(figures))}

    wanted = {n for n, f in enumerate(figures) if figures.index(f) == n and not any(beats(g, f) for g in figures)}
    assert told == wanted


def test_a_row_that_may_not_be_the_best_or_is_not_known_beats_nothing() -> None:
    rows = [
        Row(number=0, cells=(0, 1, 1, 1), rank=None),
        Row(number=1, cells=(1, None, 1, 1), rank=1.0),
        Row(number=2, cells=(2, 5, 5, 0.5), rank=1.0),
    ]

    assert [r.number for r in unbeaten(COLUMNS, rows)] == [2]


def test_only_what_is_asked_is_weighed() -> None:
    assert measures_in(COLUMNS) == ("price", "minutes", "yield")
    assert measures_in(COLUMNS[:2]) == ("price",)
    rows = [Row(number=n, cells=(n, cents), rank=1.0) for n, cents in enumerate((300, 200, 200))]
    assert [r.number for r in unbeaten(COLUMNS[:2], rows)] == [1]
