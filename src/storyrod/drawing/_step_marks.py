"""Marks on the panels of a step: round its arrow, and never on what moves unless it is that panel's own."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Protocol

from storyrod.drawing._labels import Taken
from storyrod.drawing._panel_words import Sight, Spans, is_covered, mark_at, sights, ways_of
from storyrod.drawing._pens import Fill, Tint
from storyrod.drawing._projection import Piece, View
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Bounds, Entity, Place, Text, text_box

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
        text = _first_free(panel.mark, sights(n, pieces, spans, view), taken, () if moves else moving, view)
        if text is None:
            hidden.append(f"{panel.mark} {panel.name}")
            continue
        box = text_box(text, unit).grown(0.3 * unit)
        items += [rectangle((box.left, box.bottom), (box.right, box.top), fill=Fill(Tint.PAPER)), text]
    return items, hidden


def _first_free(mark: str, seen: Iterable[Sight], taken: Taken, elsewhere: Sequence[Spans], view: View) -> Text | None:
    """Return the first text that stands wholly on its panel, or else the first that stands free."""
    unit, ways = taken.unit, ways_of(view)
    spare: Text | None = None
    size = text_box(mark_at((0.0, 0.0), mark), unit)
    for sight in seen:
        has_room = sight.has_room(size)
        for at in sight.places():
            if not has_room and spare is not None:
                break
            text = mark_at(at, mark)
            box = text_box(text, unit)
            if not taken.is_free(box, _ROUND * unit):
                continue
            if has_room and sight.holds(box):
                taken.take(box)
                return text
            if spare is None and not _is_on(box, elsewhere, ways):
                spare = text
    if spare is not None:
        taken.take(text_box(spare, unit))
    return spare


def _is_on(box: Bounds, pictures: Sequence[Spans], ways: Sequence[Place]) -> bool:
    """Whether half of a label's corners lie on one of these pictures."""
    corners = [(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]
    return sum(is_covered(at, pictures, ways) for at in corners) > 1
