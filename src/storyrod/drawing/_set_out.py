"""The set-out sheet: a panel's face as it lies on the bench, its edges folded out, every mark in running dimensions."""

from __future__ import annotations

import math

from storyrod.drawing._drawing import Drawing, bounds_of
from storyrod.drawing._figures import Figures
from storyrod.drawing._scale import USUAL, fitted
from storyrod.drawing._scene import PLAIN, Manner, Scene, scene_of
from storyrod.drawing._set_out_sheet import Sheet
from storyrod.drawing._types import Group, Running
from storyrod.drawing._unfolded import EDGES
from storyrod.model.mark import PanelSetOut
from storyrod.model.panel import Panel, Surface

ROOM = (170.0, 185.0)
"""Room for one set-out drawing on an upright A4 sheet with its head, table and foot, in mm."""


_LEAST_LONG = 54.0  # mm on paper that the longer side of a panel has at least
_COUNTED = 2.4  # mm on paper from hole to hole of a row that can still be counted
_MARKS_APART = 1.0  # mm on paper from the middle of a mark to that of the next, or they are not told apart
_MOST_ASIDE = 12.0  # mm by which a figure may stand beside its mark to keep clear of the next

Drawn = dict[tuple[Surface, float], Drawing]
"""Drawings of one panel's faces, by face and scale."""


def panel_set_out(
    set_out: PanelSetOut,
    *,
    figures: Figures | None = None,
    room: tuple[float, float] = ROOM,
    drawn: Drawn | None = None,
) -> tuple[Drawing, ...]:
    """Return one drawing for each face that is worked: the first with the edges folded out round it.

    Each is drawn at the largest usual scale that fits `room` (width and height in mm on paper). A panel with nothing on
    either face is drawn with its face side up. `drawn` keeps what was tried: given again with the same panel and
    figures, it saves drawing the same for another room.
    """
    shown, kept = figures or Figures(), {} if drawn is None else drawn
    faces = worked_faces(set_out)
    return tuple(_face(set_out, face, shown, room, kept) for face in faces)


def panel_set_out_small(
    set_out: PanelSetOut,
    *,
    figures: Figures,
    room: tuple[float, float] = ROOM,
    drawn: Drawn | None = None,
    manner: Manner = PLAIN,
) -> tuple[Drawing, ...]:
    """Return the drawings of `panel_set_out` as small as their figures stay beside their marks, within `room`.

    Figures and words keep their size on paper. A figure that needs more than `_MOST_ASIDE` to keep clear of its
    neighbours asks for a larger drawing; where no drawing that fits the room is large enough, the largest is taken.
    """
    kept = {} if drawn is None else drawn
    return tuple(_small(set_out, face, figures, room, kept, manner) for face in worked_faces(set_out))


def _small(
    set_out: PanelSetOut, face: Surface, figures: Figures, room: tuple[float, float], kept: Drawn, manner: Manner
) -> Drawing:
    panel, with_edges = set_out.panel, face is worked_faces(set_out)[0]
    length, width = panel.length, panel.width
    start = max(length / _LEAST_LONG, width / _LEAST_LONG) if max(length, width) > 0 else 1.0
    units = [u for u in USUAL if u <= min(start, max(length, width) / _LEAST_LONG)][::-1]
    best: Drawing | None = None
    for unit in units:
        if (face, unit) not in kept:
            kept[face, unit] = _drawn(set_out, face, figures, unit, with_edges=with_edges, manner=manner)
        drawing = kept[face, unit]
        if any(paper > most for paper, most in zip(drawing.paper_size, room, strict=True)):
            break
        best = drawing
        if _is_clear(drawing):
            break
    return best or _face(set_out, face, figures, room, kept, manner)


def _is_clear(drawing: Drawing) -> bool:
    """Return whether every figure is near its mark, a row told by its step can be counted, and marks are told apart."""
    if _nearest(drawing) < _MARKS_APART * drawing.unit:
        return False
    for run in (item for item in drawing.items if isinstance(item, Running)):
        for n, stop in enumerate(run.stops):
            if stop.text and abs(stop.label_at - stop.at) > _MOST_ASIDE * drawing.unit and not stop.is_step:
                return False
            if stop.is_step and abs(run.stops[n + 1].at - stop.at) < _COUNTED * drawing.unit:
                return False
    return True


def _nearest(drawing: Drawing) -> float:
    """Return how near two marks of a drawing come to each other, middle to middle, in mm of the panel."""
    marks = (item for item in drawing.items if isinstance(item, Group) and item.kind == "mark")
    boxes = (bounds_of(mark.items, drawing.unit) for mark in marks)
    middles = sorted(((box.left + box.right) / 2, (box.bottom + box.top) / 2) for box in boxes)
    nearest = math.inf
    for n, (x, y) in enumerate(middles):
        for other in middles[n + 1 :]:
            if other[0] - x >= nearest:
                break
            nearest = min(nearest, math.hypot(other[0] - x, other[1] - y) or math.inf)
    return nearest


def panel_true_size(set_out: PanelSetOut, *, figures: Figures | None = None) -> Drawing:
    """Return one drawing for a file at true size: the face side with its edges as thick as they are, folded out.

    The datum corner (datum end, face edge) is the origin. What is cut in the far face is drawn where it lies, dashed,
    on layers that say so. Words are sized for reading the whole panel on a sheet about 300 mm wide.
    """
    panel = set_out.panel
    unit = max(1.0, panel.length / 300.0, panel.width / 200.0)
    scene = scene_of(set_out, Surface.FACE, figures or Figures(), unit, with_edges=True, true_size=True)
    where = "left" if scene.unfolded.way > 0 else "right"
    return Drawing(
        id=f"{panel.id}.file",
        title=f"{panel.mark} {panel.name}",
        alt=_alt(panel, set_out, Surface.FACE, where, scene.figures),
        items=Sheet(scene).draw(),
        unit=unit,
        notes=(f"Face side up, face edge toward you, datum end at the {where}.", scene.figures.said),
    )


def worked_faces(set_out: PanelSetOut) -> tuple[Surface, ...]:
    """Return the faces that carry a mark or a joint line, the face side first; the face side where none does."""
    used = {m.surface for m in set_out.marks} | {line.surface for line in set_out.lines}
    return tuple(f for f in (Surface.FACE, Surface.FAR_FACE) if f in used) or (Surface.FACE,)


def _face(
    set_out: PanelSetOut,
    face: Surface,
    figures: Figures,
    room: tuple[float, float],
    kept: Drawn,
    manner: Manner = PLAIN,
) -> Drawing:
    with_edges = face is worked_faces(set_out)[0]

    def draw(unit: float) -> Drawing:
        if (face, unit) not in kept:
            kept[face, unit] = _drawn(set_out, face, figures, unit, with_edges=with_edges, manner=manner)
        return kept[face, unit]

    return fitted(draw, room, (set_out.panel.length, set_out.panel.width))


def _drawn(
    set_out: PanelSetOut, face: Surface, figures: Figures, unit: float, *, with_edges: bool, manner: Manner
) -> Drawing:
    panel = set_out.panel
    scene = scene_of(set_out, face, figures, unit, with_edges=with_edges, manner=manner)
    items = Sheet(scene).draw()
    where = "left" if scene.unfolded.way > 0 else "right"
    notes = [f"{face.capitalize()} up, face edge toward you, datum end at the {where}.", figures.said]
    if panel.twin is not None:
        notes.append("Its twin is the mirror of it and has its own drawing.")
    if with_edges:
        notes += _edge_notes(set_out, scene)
    side = "" if face is Surface.FACE and len(worked_faces(set_out)) == 1 else f", {face}"
    return Drawing(
        id=f"{panel.id}.set-out.{'face' if face is Surface.FACE else 'far-face'}",
        title=f"{panel.mark} {panel.name}{side}",
        alt=_alt(panel, set_out, face, where, figures),
        items=items,
        unit=unit,
        notes=tuple(notes),
    )


def _edge_notes(set_out: PanelSetOut, scene: Scene) -> list[str]:
    notes = []
    if scene.unfolded.stretch > 1.05:
        notes.append(f"Edges are drawn {scene.unfolded.stretch:.1f} times their thickness.")
    plain = [str(e) for e in EDGES if not any(m.surface is e for m in set_out.marks)]
    if plain and len(plain) < len(EDGES):
        notes.append(f"No cuts in: {', '.join(plain)}.")
    return notes


def _alt(panel: Panel, set_out: PanelSetOut, face: Surface, where: str, figures: Figures) -> str:
    on_face = sum(m.surface is face for m in set_out.marks)
    joints = ", ".join(f"{li.number} with {li.mate_mark}" for li in set_out.lines if li.surface is face)
    size = " × ".join(figures.of(x) for x in (panel.length, panel.width, panel.thickness))
    return (
        f"Set-out of {panel.name} ({panel.mark}), {size}: {face} up, datum end at the {where}, "
        f"{on_face} marks on this face" + (f"; joints {joints}." if joints else ".")
    )
