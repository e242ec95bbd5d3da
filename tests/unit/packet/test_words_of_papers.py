"""The words of jigs and reasons are as large on their pages as those of the bench packet."""

from __future__ import annotations

import pytest

from storyrod.adapters.packet import make_book
from storyrod_blind._page import read_pages
from tests.kept import example_plan
from tests.unit.drawing.reading import LEAST_WORD

PARTS = ("proof", "how flush", "soundness", "layouts", "count sheet", "jigs")


@pytest.mark.slow
@pytest.mark.parametrize("name", ["first-box", "percussion-chest"])
def test_words_of_jigs_and_reasons_are_large(name: str) -> None:
    pages = read_pages(make_book(example_plan(name), parts=PARTS))

    assert [(p.number, r.text, r.size) for p in pages for r in p.runs if r.size < LEAST_WORD - 0.01] == []
