"""A panel after a slip: its set-out as it now is, the old cuts crossed out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._layers import SIGNS
from storyrod.drawing._outlines import reach_of
from storyrod.drawing._pens import Pen
from storyrod.drawing._scene import scene_of
from storyrod.drawing._set_out import panel_set_out_small, worked_faces
from storyrod.drawing._symbols import line
from storyrod.drawing._types import Entity
from storyrod.drawing._unfolded import EDGES, Unfolded
from storyrod.model.feature import Feature
from storyrod.model.mark import PanelSetOut
from storyrod.model.panel import Surface

_CROSS = 2.6
"""How far the strokes of a cross reach from the middle at the least, on paper (mm)."""


def panel_rescued(
    set_out: PanelSetOut, old: Sequence[Feature], *, figures: Figures, room: tuple[float, float]
) -> tuple[Drawing, ...]:
    """Return the set-out of a panel, one drawing a face, each old cut in it drawn and crossed out.

    Old cuts in a face on which nothing else is cut are drawn on no face; the sheet's table tells them.
    """
    drawings = panel_set_out_small(set_out, figures=figures, room=room)
    faces = worked_faces(set_out)
    return tuple(
        _crossed(drawing, set_out, face, old, figures, with_edges=face is faces[0])
        for drawing, face in zip(drawings, faces, strict=True)
    )


def _crossed(
    drawing: Drawing,
    set_out: PanelSetOut,
    face: Surface,
    old: Sequence[Feature],
    figures: Figures,
    *,
    with_edges: bool,
) -> Drawing:
    unfolded = scene_of(set_out, face, figures, drawing.unit, with_edges=with_edges).unfolded
    shown = {face, *(EDGES if with_edges else ())}
    crosses = [e for cut in old if cut.surface in shown for e in _cross(cut, unfolded, drawing.unit)]
    if not crosses:
        return drawing
    notes = (*drawing.notes, "Crossed out: old cuts that are no longer used.")
    return replace(
        drawing,
        id=f"{drawing.id}.rescued",
        items=(*drawing.items, *crosses),
        notes=notes,
        alt=f"{drawing.alt} {notes[-1]}",
    )


def _cross(cut: Feature, unfolded: Unfolded, unit: float) -> Iterator[Entity]:
    yield from unfolded.drawn(cut, cut.surface, pen=Pen.HIDDEN, layer=SIGNS)
    x, y = unfolded.on(cut.surface, cut.at)
    reach = max(_CROSS * unit, 1.2 * min(reach_of(cut.shape), 3 * _CROSS * unit))
    yield line((x - reach, y - reach), (x + reach, y + reach), pen=Pen.MARK, layer=SIGNS)
    yield line((x - reach, y + reach), (x + reach, y - reach), pen=Pen.MARK, layer=SIGNS)
