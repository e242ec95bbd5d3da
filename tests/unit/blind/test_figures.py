"""Figures and phrases, as they are printed, read into exact lengths and cuts."""

from __future__ import annotations

from fractions import Fraction

import pytest

from storyrod_blind._fits import _looked_at
from storyrod_blind._length import Unit, UnreadError, read_length, read_span, unit_said
from storyrod_blind._what import Kind, read_what

MM, INCH = Unit.MM, Unit.INCH


@pytest.mark.parametrize(
    ("text", "page", "mm"),
    [
        ("590.5", MM, Fraction("590.5")),
        ("600", MM, Fraction(600)),
        ('23 5/8"', INCH, Fraction(189, 8) * Fraction("25.4")),
        ('5/8"', INCH, Fraction("15.875")),
        ('0.236"', INCH, Fraction("5.9944")),
        ("8 mm", INCH, Fraction(8)),
        ("1 in", MM, Fraction("25.4")),
        ('0"', INCH, Fraction(0)),
    ],
)
def test_a_length_is_read_in_the_unit_beside_it_or_that_of_its_page(text: str, page: Unit, mm: Fraction) -> None:
    assert read_length(text, page).mm == mm


def test_whether_a_unit_is_written_beside_a_figure_is_kept() -> None:
    assert read_length('3/8"', INCH).is_said
    assert not read_length("13", INCH).is_said


def test_thirteen_and_a_half_in_decimals_is_looked_at_and_not_meant_exactly() -> None:
    """A cover says 13.50 of what is 13.504; it would say 13 1/2 of what is just that."""
    assert read_length('13.50"', INCH).is_decimal
    assert not read_length('13 1/2"', INCH).is_decimal
    assert _looked_at(read_length('13.50"', INCH)) == Fraction("0.127")
    assert _looked_at(read_length('13 1/2"', INCH)) == 0
    assert _looked_at(read_length("600", MM)) == Fraction("0.05")


@pytest.mark.parametrize("text", ["", "about 3", "3 to 4", "1/2/3", "S4", "12 x 4"])
def test_what_is_no_length_is_not_read_as_one(text: str) -> None:
    with pytest.raises(UnreadError):
        read_length(text, MM)


def test_a_stretch_has_two_ends_and_a_place_one() -> None:
    assert read_span("282.3 to 300", MM).width == Fraction("17.7")
    assert read_span("50", MM).width == 0
    assert read_span('20 7/32" to 20.945"', INCH).low.mm == Fraction(647, 32) * Fraction("25.4")


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("Marks, in millimetres, measured from", MM),
        ("Figures in inches: a fraction where a rule shows it.", INCH),
        ("Lengths in\ninches.", INCH),
        ("Print at 100 %", None),
    ],
)
def test_words_say_a_unit_or_none(text: str, unit: Unit | None) -> None:
    assert unit_said(text) is unit


@pytest.mark.parametrize(
    ("text", "kind", "sizes"),
    [
        ("hole Ø8, 13 deep", Kind.HOLE, {"diameter": 8, "depth": 13}),
        ("hole Ø4, through, countersunk Ø9", Kind.HOLE, {"diameter": 4, "countersink": 9}),
        ("slot 30 × 8, 12 deep, along the length", Kind.SLOT, {"length": 30, "width": 8, "depth": 12}),
        ("keyhole, entry Ø15, travel 10, 11 deep", Kind.KEYHOLE, {"diameter": 15, "travel": 10, "depth": 11}),
        ("undercut slot 46 × 5.5, 10.5 deep, along the width", Kind.UNDERCUT, {"length": 46}),
        ("disc pocket 56.3 × 4, 10 deep", Kind.DISC, {"depth": 10, "width": 4}),
        ("housing 18.4 wide, 6 deep, 334.1 long", Kind.HOUSING, {"width": Fraction("18.4"), "depth": 6}),
        ("rebate 6.1 wide, 8.85 deep, 762.3 long", Kind.REBATE, {"depth": Fraction("8.85")}),
        ("notch 10 × 6", Kind.NOTCH, {"length": 10, "width": 6}),
        ("scoop 100 × 25, corners 10", Kind.SCOOP, {"length": 100, "corner": 10}),
        ("cut-out 110 × 28, round ends, through, along the width", Kind.CUT_OUT, {"length": 110}),
        ("cut-out Ø35, through", Kind.CUT_OUT, {"diameter": 35}),
        ("pocket Ø9.5 at 15°, 21 long, toward the far end", Kind.POCKET, {"length": 21}),
    ],
)
def test_each_kind_of_cut_is_read_with_its_sizes(text: str, kind: Kind, sizes: dict[str, Fraction]) -> None:
    what = read_what(text, MM)

    assert what.kind is kind
    assert {n: what.sizes[n].mm for n in sizes} == sizes


def test_a_row_says_how_many_and_how_far_apart() -> None:
    what = read_what("19 × hole Ø5, 12 deep, every 32", MM)

    assert what.count == 19
    assert [what.sizes[n].mm for n in ("every", "depth")] == [Fraction(32), Fraction(12)]


def test_where_a_keyhole_s_entry_and_a_pocket_s_point_lie_is_read() -> None:
    told = "keyhole, entry Ø15, travel 10, 11 deep; marked is the lock, the entry lies 10 toward the far edge"

    assert read_what(told, MM).toward == "far edge"
    assert read_what("pocket Ø9.5 at 15°, 21 long, toward the datum end", MM).toward == "datum end"
    assert read_what("slot 30 × 8, 12 deep, along the width", MM).run == "width"
    assert not read_what("slot 30 × 8, 12 deep", MM).run


@pytest.mark.parametrize("text", ["hollow Ø8, 13 deep", "hole 8, 13 deep", "hole Ø8", "housing 18 wide, 6 deep"])
def test_a_cut_told_otherwise_is_not_guessed(text: str) -> None:
    with pytest.raises(UnreadError):
        read_what(text, MM)
