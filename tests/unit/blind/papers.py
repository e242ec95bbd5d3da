"""Packets to build from: whole ones, and all that a packet says without its pictures, which take long to make."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

from storyrod.adapters.packet._blocks import Block, Row, Section, Tiles, Together, packet_of
from storyrod.adapters.packet._machining import jig_sections
from storyrod.adapters.packet._make import packet_sections
from storyrod.adapters.packet._typeset import typeset
from storyrod.planning import Plan
from storyrod.telling.blocks import Picture, Words
from storyrod_blind._page import Page, read_pages
from tests.kept import example_packet, example_plan

PARTS = ("cover", "order of work", "cutting list", "hardware", "joints", "set-out", "set-ups", "assembly")
"""The parts of a packet that are worked from. Rods, sheets and estimates say nothing that these do not."""


def words_of(plan: Plan) -> tuple[Section, ...]:
    """Return the parts that are worked from; of each picture, the notes under it."""
    return tuple(replace(s, blocks=tuple(_words(s.blocks))) for s in packet_sections(plan, PARTS))


def printed(plan: Plan, sections: tuple[Section, ...] | None = None) -> bytes:
    """Return a packet of words as PDF."""
    return typeset(packet_of(plan, words_of(plan) if sections is None else sections))


def printed_jigs(plan: Plan) -> bytes:
    """Return the jigs' own paper as PDF, b"" where the job needs none."""
    sections = jig_sections(plan)
    return typeset(packet_of(plan, sections)) if sections else b""


@cache
def example_pages(name: str, *, whole: bool = False) -> tuple[Page, ...]:
    """Return the pages of an example's packet, as read back: of the parts worked from, or whole as a maker gets it."""
    plan = example_plan(name)
    return read_pages(example_packet(name) if whole else printed(plan))


def _words(blocks: tuple[Block, ...]) -> Iterator[Block]:
    for block in blocks:
        if isinstance(block, Picture):
            if block.notes and block.drawing.notes:
                yield Words(text=" ".join(block.drawing.notes), quiet=True)
        elif isinstance(block, Row):
            yield replace(block, cells=tuple(tuple(_words(c)) for c in block.cells))
        elif isinstance(block, Together):
            yield from _words(block.blocks)
        elif not isinstance(block, Tiles):
            yield block
