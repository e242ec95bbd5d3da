"""A pocket bored at a slope toward the edge of a board, with the drill in it and the figures it is set by."""

from __future__ import annotations

import math
from collections.abc import Iterator

from storyrod.drawing._figures import Figures
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._set_up_figures import across, upright
from storyrod.drawing._symbols import line
from storyrod.drawing._types import Anchor, Entity, Path, Place, Text
from storyrod.model.machining import SectionData

_OUT = 34.0  # how far the drill stands out of the face along its axis


def slope_items(data: SectionData, figures: Figures, x: float, right: float, unit: float) -> Iterator[Entity]:
    """Yield the stepped drill in its pocket, its axis meeting the face at `x`, going down toward the edge at 0."""
    assert data.slant_deg is not None  # noqa: S101  # the caller has looked
    angle = math.radians(data.slant_deg)
    way = (-math.cos(angle), -math.sin(angle))
    end = (x + way[0] * data.slant_length, way[1] * data.slant_length)
    out = (x - way[0] * _OUT, -way[1] * _OUT)
    to_edge = end[0] / math.cos(angle)
    tip = (end[0] + way[0] * to_edge, end[1] + way[1] * to_edge)
    yield _bar(end, tip, way, data.pilot)
    yield _bar(out, end, way, data.cutter)
    yield line((out[0] - way[0] * 6.0, out[1] - way[1] * 6.0), tip, pen=Pen.CENTRE)
    top = out[1] + data.cutter / 2 + 4.0
    if data.centre is not None:
        yield from across((0.0, top), (x, top), 7.0, figures.of(data.centre), unit)
    yield from upright(right, -data.board, 0.0, 8.0, figures.of(data.board), unit)
    words = f"{data.slant_deg:g}° to the face, {figures.of(data.slant_length)} along the slope"
    at = (0.0, -data.board - 9.0 * unit)
    yield Text(at=at, text=words, height=HEIGHTS[Role.FIGURE], anchor=Anchor.START, role=Role.FIGURE)


def _bar(a: Place, b: Place, way: Place, wide: float) -> Path:
    nx, ny = -way[1] * wide / 2, way[0] * wide / 2
    points = ((a[0] + nx, a[1] + ny), (b[0] + nx, b[1] + ny), (b[0] - nx, b[1] - ny), (a[0] - nx, a[1] - ny))
    return Path(points=points, closed=True, pen=Pen.FEATURE, fill=Fill(Tint.CUTTER))
