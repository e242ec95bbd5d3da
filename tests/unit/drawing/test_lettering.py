"""Words are measured with the face's own advance widths."""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

import storyrod
from storyrod.drawing import CAP, DEPTH, runs_of, width_of
from storyrod.drawing._advances import ADVANCES

FONTS = Path(storyrod.__file__).parent / "data" / "fonts"


@pytest.mark.parametrize(("bold", "name"), [(False, "B612-Regular.otf"), (True, "B612-Bold.otf")])
def test_advances_are_those_of_the_font_files(bold: bool, name: str) -> None:
    font = TTFont(FONTS / name)
    widths = font["hmtx"].metrics
    em = font["head"].unitsPerEm

    wrong = {
        letter: advance
        for letter, advance in ADVANCES[bold].items()
        if abs(widths[font.getBestCmap()[ord(letter)]][0] / em * 1000 - advance) > 0.6
    }

    assert wrong == {}
    assert len(ADVANCES[bold]) > 200


def test_figures_all_have_one_width() -> None:
    assert {width_of(figure, 3.5) for figure in "0123456789"} == {width_of("0", 3.5)}


def test_width_grows_with_height_and_with_each_letter() -> None:
    assert width_of("590.5", 7.0) == pytest.approx(2 * width_of("590.5", 3.5))
    assert width_of("ab", 1.0) == pytest.approx(width_of("a", 1.0) + width_of("b", 1.0))


def test_width_of_a_known_word() -> None:
    """Four figures of 650 thousandths of an em each, the em being the height over 0.76."""
    assert width_of("1791", 3.8) == pytest.approx(4 * 0.650 * 3.8 / 0.76)
    assert pytest.approx(0.76) == CAP


def test_a_fraction_is_set_small_and_raised_without_a_gap() -> None:
    whole, over, bar, under = runs_of("23 5/8")

    assert (whole.text, over.text, bar.text, under.text) == ("23", "5", "/", "8")
    assert over.rise > 0.0 == under.rise
    assert over.scale < 1.0


def test_a_date_or_a_longer_number_is_no_fraction() -> None:
    assert [run.text for run in runs_of("12/34/56")] == ["12/34/56"]


def test_the_depth_symbol_is_a_piece_of_its_own() -> None:
    assert [run.text for run in runs_of(f"4 × Ø8 {DEPTH}13")] == ["4 × Ø8 ", DEPTH, "13"]


def test_an_unknown_letter_is_taken_as_wide() -> None:
    assert width_of("Ж", 1.0) >= width_of("M", 1.0)
