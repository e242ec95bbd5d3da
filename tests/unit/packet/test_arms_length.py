"""Every page of every example's bench packet is read at arm's length: words apart and clear, figures large."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

import pytest

from storyrod.adapters.packet._blocks import Block, Row, Together
from storyrod.adapters.packet._make import packet_sections
from storyrod.telling.blocks import Picture
from storyrod_blind._page import read_pages
from tests.kept import example_packet, example_plan
from tests.places import EXAMPLES
from tests.unit.drawing.reading import LEAST_WORD, faults_of, marks_too_near, too_small

NAMES = sorted(p.stem for p in EXAMPLES.glob("*.toml") if "[[cases]]" in p.read_text(encoding="utf-8"))
pytestmark = [pytest.mark.slow, pytest.mark.parametrize("name", NAMES)]


@cache
def pictures(name: str) -> tuple[Picture, ...]:
    """Each picture of the bench packet once."""
    found = {id(p.drawing): p for s in packet_sections(example_plan(name)) for p in _pictures(s.blocks)}
    return tuple(found.values())


def _pictures(blocks: Sequence[Block]) -> Iterator[Picture]:
    for block in blocks:
        if isinstance(block, Picture):
            yield block
        elif isinstance(block, Row):
            for cell in block.cells:
                yield from _pictures(cell)
        elif isinstance(block, Together):
            yield from _pictures(block.blocks)


def test_nothing_lies_over_a_word_of_a_drawing(name: str) -> None:
    assert [(p.drawing.id, *faults) for p in pictures(name) if (faults := faults_of(p.drawing))] == []


def test_words_and_figures_of_drawings_are_large(name: str) -> None:
    shown = ((p.drawing, (p.width or p.drawing.paper_size[0]) / p.drawing.paper_size[0]) for p in pictures(name))

    assert [(d.id, *small) for d, times in shown if (small := too_small(d, times))] == []


def test_marks_are_told_apart(name: str) -> None:
    assert [(p.drawing.id, *near) for p in pictures(name) if (near := marks_too_near(p.drawing))] == []


def test_words_of_pages_are_large(name: str) -> None:
    pages = read_pages(example_packet(name))

    assert [(p.number, r.text, r.size) for p in pages for r in p.runs if r.size < LEAST_WORD - 0.01] == []
