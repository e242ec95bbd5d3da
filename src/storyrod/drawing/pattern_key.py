"""The key of a sheet on which several jobs share the board: each job's pattern beside its mark and title."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Anchor, Entity, Text

PATTERNS: Final = (Hatch.NONE, Hatch.LEVEL, Hatch.DOTS, Hatch.UPRIGHT, Hatch.BACK_SLANT)
"""By the place of a job in its batch; they begin anew after the last, and the mark tells such jobs apart. What slants
the other way is an offcut, what is crossed is waste."""

_BOX: Final = (16.0, 9.0)
_ROW: Final = 12.0
_BESIDE_BOX: Final = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyRow:
    """One job in the key."""

    mark: str
    title: str
    pattern: Hatch


def pattern_of_job(place: int) -> Hatch:
    """Return the pattern of the job at a place of its batch, from 0."""
    return PATTERNS[place % len(PATTERNS)]


def pattern_key(rows: Sequence[KeyRow]) -> Drawing:
    """Return the key, a row for each job, at its size on paper."""
    items: list[Entity] = []
    marks = max(width_of(r.mark, HEIGHTS[Role.NAME], bold=True) for r in rows)
    for n, row in enumerate(rows):
        low = -n * _ROW
        fill = Fill(Tint.BOARD_1, row.pattern)
        items.append(rectangle((0.0, low), (_BOX[0], low + _BOX[1]), pen=Pen.FEATURE, fill=fill))
        middle = low + _BOX[1] / 2
        words = ((_BOX[0] + _BESIDE_BOX, row.mark, True), (_BOX[0] + 2 * _BESIDE_BOX + marks, row.title, False))
        for x, text, bold in words:
            height = HEIGHTS[Role.NAME]
            items.append(Text(at=(x, middle), text=text, height=height, bold=bold, anchor=Anchor.START, role=Role.NAME))
    named = "; ".join(f"{r.mark} {r.title}" for r in rows)
    return Drawing(
        id="batch.key",
        title="The jobs and their patterns",
        alt=f"Patterns of the jobs: {named}.",
        items=tuple(items),
        unit=1.0,
    )
