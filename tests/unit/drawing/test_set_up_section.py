"""Sections of set-ups: what stands where, which figures are told, and which way up the board lies."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.drawing import Path, Text
from storyrod.drawing._types import Dimension
from storyrod.drawing.set_up_section import set_up_section
from storyrod.model.machining import SectionData

PLAIN = SectionData(on_edge=False, board=18.0, reference_at_end=True, depth=5.0, cutter=8.0, centre=17.0, fence=True)


def drawn(data: SectionData) -> tuple[set[str], list[Path], list[Dimension]]:
    """Return the words and figures of a section, its outlines and its dimensions."""
    drawing = set_up_section(data, id="s", title="a set-up")
    words = {i.text for i in drawing.items if isinstance(i, Text | Dimension)} - {""}
    paths = [i for i in drawing.items if isinstance(i, Path)]
    return words, paths, [i for i in drawing.items if isinstance(i, Dimension)]


def test_a_fence_is_told_to_the_near_wall_where_that_is_set() -> None:
    """17 to the middle of 8 is 13 to the wall."""
    words, _, dimensions = drawn(replace(PLAIN, near_wall=13.0))

    assert "13" in words
    assert "17" not in words
    assert any({d.a[0], d.b[0]} == {0.0, 13.0} for d in dimensions)


def test_on_a_table_the_board_lies_above_and_the_cutter_comes_from_below() -> None:
    plain, below = drawn(PLAIN), drawn(replace(PLAIN, below=True))
    cutter = min(below[1], key=lambda p: (max(x for x, _ in p.points) - min(x for x, _ in p.points) - 8.0) ** 2)

    assert "table" in below[0] - plain[0]
    assert max(y for _, y in cutter.points) == pytest.approx(5.0)
    assert min(y for _, y in cutter.points) < -20.0


def test_a_straight_edge_is_drawn_with_its_true_figure() -> None:
    words, _, _ = drawn(replace(PLAIN, centre=None, fence=False, straight_edge=71.5))

    assert {"straight edge", "71.5"} <= words


def test_a_rebate_ends_where_the_board_ends() -> None:
    data = replace(PLAIN, centre=None, fence=False, straight_edge=71.0, open_edge=True, cutter=6.0)
    _, paths, _ = drawn(data)
    board = max((p for p in paths if p.fill and p.closed), key=lambda p: abs(p.points[0][1] - p.points[2][1]))

    assert max(x for x, _ in board.points) >= 33.0  # the middle stands at 30, half the rebate is 3


def test_a_pocket_is_bored_at_its_slope() -> None:
    data = replace(PLAIN, cutter=9.5, centre=33.03, slant_deg=15.0, slant_length=21.0, pilot=3.5)
    words, paths, _ = drawn(data)
    bars = [p for p in paths if len({round(y, 3) for _, y in p.points}) == 4]

    assert "15° to the face, 21 along the slope" in words
    assert len(bars) == 2  # the pocket and its pilot


def test_a_base_and_a_mate_are_called_so() -> None:
    assert "9.5 to base" in drawn(replace(PLAIN, base=True, packer=0.5, reference_to_centre=9.5, centre=9.0))[0]
    assert "mate" in drawn(replace(PLAIN, on_edge=True, centre=None, fence=False, mate=True, guide=6.0))[0]


def test_a_figure_without_room_stands_beside_its_line() -> None:
    drawing = set_up_section(replace(PLAIN, centre=5.0, cutter=4.0), id="s", title="a set-up")
    (figure,) = [i for i in drawing.items if isinstance(i, Text) and i.text == "5" and i.angle_deg == 0 and i.at[0] < 0]

    assert figure.anchor.value == "end"
