"""Widths of columns: cells are broken anew only where they may come out lower, and come out as if each were broken."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from storyrod.adapters.packet._columns import INSET, _options, measured

EM = 3.7
CELLS = st.lists(st.lists(st.floats(0.5, 40.0), min_size=1, max_size=9), min_size=1, max_size=5)


def plainly_broken(words: list[float], space: float, room: float) -> int:
    """Return the lines of a cell by filling one after the other."""
    lines, left = 0, -1.0
    for wide in words:
        if lines and wide + space <= left + 1e-6:
            left -= wide + space
        else:
            lines, left = lines + 1, room - wide
    return lines


@given(cells=CELLS, least=st.floats(3.0, 30.0), more=st.floats(0.0, 90.0))
def test_each_width_at_which_a_cell_comes_out_lower_is_an_option(
    cells: list[list[float]], least: float, more: float
) -> None:
    """The heights at every step of 1.5 mm, as they come out by filling lines; a step that changes none is left out."""
    space = measured("n n", EM) - 2 * measured("n", EM)
    widths = [least]
    while widths[-1] < least + more:
        widths.append(min(widths[-1] + 1.5, least + more))
    wanted: list[tuple[float, tuple[float, ...]]] = []
    for width in widths:
        high = tuple(plainly_broken(words, space, width - INSET) * EM for words in cells)
        if not wanted or high != wanted[-1][1]:
            wanted.append((width, high))

    assert list(_options(cells, [EM] * len(cells), (least, least + more))) == wanted
