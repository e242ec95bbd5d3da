"""Every page of every example's papers is read at arm's length: words apart and clear, figures large.

The bench packet, rods, jigs and the reasons, without the costs, which are read at a desk; labels lie in the hand, so
their words may be smaller.
"""

from __future__ import annotations

from functools import cache

import pytest

from storyrod.adapters.packet._labels import label_pages
from storyrod.adapters.packet._make import BENCH, packet_sections
from storyrod.drawing import Drawing
from storyrod_blind._page import read_pages
from tests.kept import example_packet, example_plan
from tests.places import EXAMPLES
from tests.unit.drawing.reading import LEAST_WORD, faults_of, marks_too_near, too_small
from tests.unit.packet.drawn import drawn

NAMES = sorted(p.stem for p in EXAMPLES.glob("*.toml") if "[[cases]]" in p.read_text(encoding="utf-8"))
pytestmark = [pytest.mark.slow, pytest.mark.parametrize("name", NAMES)]


PARTS = (*BENCH, "rods", "jigs", "how flush", "soundness", "layouts")


@cache
def drawings(name: str) -> tuple[tuple[Drawing, float], ...]:
    """Each drawing of an example's papers once, and by how much it is shown larger than it is drawn."""
    plan = example_plan(name)
    found = {id(d): (d, times) for s in packet_sections(plan, PARTS) for d, times in drawn(s.blocks)}
    return tuple(found.values())


def test_nothing_lies_over_a_word_of_a_drawing(name: str) -> None:
    every = (*(d for d, _ in drawings(name)), *label_pages(example_plan(name)))

    assert [(d.id, *faults) for d in every if (faults := faults_of(d))] == []


def test_words_and_figures_of_drawings_are_large(name: str) -> None:
    assert [(d.id, *small) for d, times in drawings(name) if (small := too_small(d, times))] == []


def test_marks_are_told_apart(name: str) -> None:
    assert [(d.id, *near) for d, _ in drawings(name) if (near := marks_too_near(d))] == []


def test_words_of_pages_are_large(name: str) -> None:
    pages = read_pages(example_packet(name))

    assert [(p.number, r.text, r.size) for p in pages for r in p.runs if r.size < LEAST_WORD - 0.01] == []
