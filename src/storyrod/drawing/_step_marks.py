"""Marks on the panels of a step: round its arrow, and never on what moves unless it is that panel's own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Protocol

from storyrod.drawing._labels import Taken
from storyrod.drawing._panel_words import Spans, _is_covered, _is_whole, _places
from storyrod.drawing._pens import HEIGHTS, Fill, Role, Tint
from storyrod.drawing._projection import Piece, View
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Bounds, Entity, Text, text_box

_ROUND = 0.4  # mm on paper between words


class Marked(Protocol):
    """What carries a mark in a picture."""

    @property
    def mark(self) -> str:
        """What is written on it."""

    @property
    def name(self) -> str:
        """What a maker calls it."""


def step_marks(
    panels: Sequence[tuple[Marked, bool]],
    pieces: Sequence[Piece],
    view: View,
    unit: float,
    used: Iterable[Bounds],
) -> tuple[list[Entity], list[str]]:
    """Return each panel's mark where it can be seen, and the panels that have no place for one.

    Args:
        panels: what is named, in the order of the things painted, and whether it moves.
        pieces: the boxes as they are painted, from far to near.
        view: the direction of looking.
        unit: mm of the thing for one on paper.
        used: where nothing may be written.
    """
    spans = [view.spans(p.box) for p in pieces]
    moving = [s for s, p in zip(spans, pieces, strict=True) if p.thing < len(panels) and panels[p.thing][1]]
    taken = Taken(unit)
    for box in used:
        taken.take(box)
    items: list[Entity] = []
    hidden: list[str] = []
    for n, (panel, moves) in enumerate(panels):
        tries = _tries(n, panel.mark, pieces, spans, view)
        elsewhere = () if moves else moving
        text = _first_free(tries, taken, unit, elsewhere, view, spans)
        if text is None:
            hidden.append(f"{panel.mark} {panel.name}")
            continue
        box = text_box(text, unit).grown(0.3 * unit)
        items += [rectangle((box.left, box.bottom), (box.right, box.top), fill=Fill(Tint.PAPER)), text]
    return items, hidden


def _tries(
    thing: int, mark: str, pieces: Sequence[Piece], spans: Sequence[Spans], view: View
) -> Iterator[tuple[Text, int]]:
    for at, k in _places(thing, pieces, view):
        if not _is_covered(at, spans[k + 1 :], view):
            yield Text(at=at, text=mark, height=HEIGHTS[Role.NAME], bold=True, role=Role.NAME), k


def _first_free(
    tries: Iterator[tuple[Text, int]],
    taken: Taken,
    unit: float,
    elsewhere: Sequence[Spans],
    view: View,
    spans: Sequence[Spans],
) -> Text | None:
    """Return the first text that stands wholly on its panel, or else the first that stands free."""
    spare: Text | None = None
    for text, k in tries:
        box = text_box(text, unit)
        if not taken.is_free(box, _ROUND * unit):
            continue
        if _is_whole(box, spans[k], spans[k + 1 :], view):
            taken.take(box)
            return text
        if spare is None and not _is_on(box, elsewhere, view):
            spare = text
    if spare is not None:
        taken.take(text_box(spare, unit))
    return spare


def _is_on(box: Bounds, pictures: Sequence[Spans], view: View) -> bool:
    """Whether half of a label's corners lie on one of these pictures."""
    corners = [(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]
    return sum(_is_covered(at, pictures, view) for at in corners) > 1
