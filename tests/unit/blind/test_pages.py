"""What of a page is read, and what belongs to a drawing on it."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
import typst

from storyrod_blind._chapter import Chapter
from storyrod_blind._fits import _name
from storyrod_blind._page import Page, Rule, Run, _Letter, _runs, joined, read_pages
from storyrod_blind._paper import Panel, Paper
from storyrod_blind._read_cards import read_steps
from storyrod_blind._read_set_out import _read_hands
from storyrod_blind._table import tables_of

DRAWING = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 40" width="200" height="40">
<text x="10" y="18" font-family="B612" font-size="10">drawn</text>
<path d="M0 30 H180" stroke="black" stroke-width="1"/></svg>"""
PAGE = """#set page(width: 300pt, height: 300pt, header: [the head of the page])
#grid(columns: 2, [beside it], image("a.svg", alt: "a drawing"))
under it
#line(length: 120pt, stroke: 1pt)
"""


def page_of(root: Path, source: str, *, tags: bool = True) -> Page:
    (root / "a.svg").write_text(DRAWING, encoding="utf-8")
    (root / "a.typ").write_text(source, encoding="utf-8")
    (page,) = read_pages(bytes(typst.compile(str(root / "a.typ"), root=str(root), pdf_tags=tags)))
    return page


def test_a_drawing_s_words_and_strokes_are_not_the_page_s(tmp_path: Path) -> None:
    page = page_of(tmp_path, PAGE)

    assert [r.text for r in page.runs] == ["the head of the page", "beside it", "under it"]
    assert [r.x1 - r.x0 for r in page.rules] == [pytest.approx(120, abs=3)]


def test_words_deeper_within_a_figure_are_its_own_and_the_head_of_the_page_is_not(tmp_path: Path) -> None:
    """A link is an element of its own below the figure, where the figure has no content by number."""
    figure = (
        '#set page(header: [the head])\n#figure(alt: "a figure")[drawn #link("https://example.org")[too]]\nunder it'
    )

    assert [r.text for r in page_of(tmp_path, figure).runs] == ["the head", "under it"]


def test_a_page_without_tags_is_read_whole(tmp_path: Path) -> None:
    """Nothing is passed over there for want of tags: it may be too much, and is found out."""
    page = page_of(tmp_path, PAGE, tags=False)

    assert "drawn" in page.text
    assert len(page.rules) == 2


def test_a_word_that_goes_on_after_its_hyphen_in_the_next_line_is_one_word() -> None:
    """Screws of `pan-` at the end of a line were counted as of no kind."""
    assert joined(["3 \u00d7 pan-", "head screw 3.5 x 13"]) == "3 \u00d7 pan-head screw 3.5 x 13"
    assert joined(["marks 1 -", "6"]) == "marks 1 - 6"


def test_the_other_hand_is_read_from_a_column_too_narrow_for_its_name() -> None:
    """Beside two wide drawings "The other hand:" and the panel's name are in two lines."""
    words = (
        "mirrored hands",
        "Face side up, face edge toward you, datum end at the right.",
        "The other hand:",
        "A2 right side",
        "Face side up, face edge",
        "toward you, datum end at the left.",
    )
    runs = tuple(Run(text, 0.0, 100.0, 700.0 - 14 * n, 10.5, is_bold=False) for n, text in enumerate(words))
    long, wide, thick = Fraction(700), Fraction(400), Fraction(18)
    names = {"A1": "left side", "A2": "right side"}
    paper = Paper(panels={m: Panel(m, n, "A", 1, long, wide, thick) for m, n in names.items()})

    _read_hands(paper, Chapter("A1 + A2", (Page(1, runs, ()),), ()), ["A1", "A2"])

    assert [paper.panels[m].hand for m in ("A1", "A2")] == [1, -1]


def test_a_long_word_that_may_break_at_each_letter_is_one_word_whole_or_broken(tmp_path: Path) -> None:
    """Half the width of each letter counted as a gap: an odd name of an opening fell apart, and pins with it."""
    word = "\u200b".join("_j\u2026WMnW")
    whole = page_of(tmp_path, f'#set page(width: 300pt)\n#"pin of {word}"')
    broken = page_of(tmp_path, f'#set page(width: 80pt, margin: 10pt)\n#"pin of {word}"')

    assert joined([r.text for r in whole.runs]) == "pin of _j\u2026WMnW"
    assert len(broken.runs) > 1
    assert joined([r.text for r in broken.runs]) == "pin of _j\u2026WMnW"


def test_two_cells_stand_apart_where_the_left_one_ends_in_a_space() -> None:
    """`8 3/16", ` breaks after its comma; the next column begins two thirds of a letter on, a word at 0.62 at most."""
    size = 13.1

    def line(gap: float) -> list[_Letter]:
        left, right = (0.0, 5.0), (5.0 + gap * size, 10.0 + gap * size)
        return [
            _Letter(",", *left, 0.0, size, is_bold=False),
            _Letter(" ", 5.0, 8.0, 0.0, size, is_bold=False),
            _Letter("0", *right, 0.0, size, is_bold=False),
        ]

    assert [r.text for r in _runs(line(0.62))] == [", 0"]
    assert [r.text for r in _runs(line(0.66))] == [",", "0"]


def test_a_title_with_a_wide_gap_in_it_is_one_title_and_its_neighbour_s_is_not_its() -> None:
    rules = (Rule(50.0, 250.0, 680.0, is_head=True), Rule(300.0, 500.0, 680.0, is_head=True))
    runs = [
        Run("9j9Y ]", 50.0, 100.0, 700.0, 10.5, is_bold=True),
        Run("-, 18 thick", 112.0, 180.0, 700.0, 10.5, is_bold=True),
        Run("another", 300.0, 340.0, 700.0, 10.5, is_bold=True),
    ]
    heads = [Run("mark", x, x + 30.0, 683.0, 10.5, is_bold=False) for x in (51.0, 301.0)]

    found = tables_of([Page(1, (*runs, *heads), rules)])

    assert [t.title for t in found] == ["9j9Y ] -, 18 thick", "another"]


def test_a_name_is_the_same_where_it_breaks_after_an_ellipsis() -> None:
    assert _name("\u2026 67_5, column 2") == _name("\u202667_5,  column 2")


def test_a_step_that_goes_on_overleaf_has_no_foot_of_a_page_among_its_words() -> None:
    """A cam stood on one page and its bolt on the next, with the page's number between: a bolt was missing."""
    heading = Run("5. A1 left side onto A2", 50.0, 200.0, 700.0, 12.0, is_bold=True)
    first = Run("Before: fit 1 \u00d7 cam", 250.0, 400.0, 680.0, 10.5, is_bold=False)
    foot = Run("page 38 of 43", 480.0, 560.0, 30.0, 10.5, is_bold=False)
    head = Run("plan 9aef8f0a", 480.0, 560.0, 815.0, 10.5, is_bold=False)
    second = Run("bolt in A1 (J3)", 250.0, 400.0, 780.0, 10.5, is_bold=False)
    pages = (Page(1, (heading, first, foot), (), 50.0, 800.0), Page(2, (head, second), (), 50.0, 800.0))
    paper = Paper()

    read_steps(paper, Chapter("A: putting it together", pages, ()))

    assert [s.words for s in paper.steps] == ["Before: fit 1 \u00d7 cam bolt in A1 (J3)"]
