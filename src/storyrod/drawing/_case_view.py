"""The case drawn as it stands, pulled apart, and small with one panel filled in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from storyrod.drawing._drawers_out import drawers_beside
from storyrod.drawing._drawing import Drawing, bounds_of
from storyrod.drawing._figures import Figures
from storyrod.drawing._outlines import around_of
from storyrod.drawing._panel_words import marks_on
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Tint, board_fill
from storyrod.drawing._pens import Role as TextRole
from storyrod.drawing._projection import Piece, View, corners_of, painted
from storyrod.drawing._scale import fitted
from storyrod.drawing._types import Entity, Group, Path, Place, Text
from storyrod.measure.space import AXES, Axis, Box
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import CutOut
from storyrod.model.panel import Panel, PanelId, Role, Surface

FRONTS = frozenset({Role.DOOR, Role.DRAWER_FRONT})
_SEEN = ((Axis.Z, True, 0), (Axis.Y, False, 1), (Axis.X, True, 2))  # faces seen: axis, high end, shade


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """Which of a case is drawn and how.

    Attributes:
        boards: codes of the job's boards in their order, for their tints and patterns.
        fronts: with doors and drawer fronts, or without, to see inside.
        hatched: boards told apart by pattern as well as by tint.
        chosen: panels drawn in the tint of what was chosen.
        names: write each panel's mark on it.
        figures: the unit in which the words of a picture say how large the case is.
    """

    boards: tuple[str, ...] = ()
    fronts: bool = True
    hatched: bool = True
    chosen: frozenset[PanelId] = frozenset()
    names: bool = False
    figures: Figures | None = None


def case_view(
    case: DetailedCase,
    shown: Shown | None = None,
    *,
    room: tuple[float, float] = (170.0, 130.0),
    view: View | None = None,
) -> Drawing:
    """Return the case as it stands, seen from the front, right and above."""
    how, look = shown or Shown(), view or View()
    panels = _panels(case, how)
    alt = f"Case {case.built.case.code}, {case.built.case.name}, as it stands, seen from the front and above."
    picture = _Picture(case=case, panels=panels, boxes=[p.box for p in panels], shown=how, view=look)
    return _fitted(picture, room, ("view", "as it stands"), alt)


def case_exploded(
    case: DetailedCase,
    shown: Shown | None = None,
    *,
    room: tuple[float, float] = (170.0, 200.0),
    view: View | None = None,
) -> Drawing:
    """Return the case pulled apart, every panel named by its mark, its drawers beside it as boxes of their own."""
    how, look = shown or Shown(names=True), view or View()
    panels = _panels(case, how)
    alt = (
        f"Case {case.built.case.code}, {case.built.case.name}, pulled apart: "
        + ", ".join(f"{p.mark} {p.name}" for p in panels)
        + "."
    )
    places = drawers_beside(panels, look, room)
    picture = _Picture(case=case, panels=panels, boxes=places.boxes, shown=how, view=look, titles=places.names)
    return _fitted(picture, room, ("apart", "pulled apart"), alt)


def case_thumbnail(
    case: DetailedCase, panel_id: PanelId, *, room: tuple[float, float] = (38.0, 38.0), view: View | None = None
) -> Drawing:
    """Return a small picture of the case in thin lines with one panel filled in, whatever stands before it."""
    look = view or View()
    chosen = case.panel(panel_id)
    panels = [p for p in case.panels if p.body in {chosen.body, "carcass"}]
    lines: list[Entity] = []
    for panel in panels:
        if panel is not chosen:
            lines += [Path(points=f, closed=True, pen=Pen.THIN) for f, _, _ in _faces(panel.box, look)]
    filled = [Path(points=f, closed=True, pen=Pen.FEATURE, fill=Fill(Tint.INK)) for f, _, _ in _faces(chosen.box, look)]
    title = f"Where {chosen.mark} is"
    alt = f"Small picture of case {case.built.case.code} with {chosen.name} ({chosen.mark}) filled in."

    def draw(unit: float) -> Drawing:
        return Drawing(id=f"{panel_id}.place", title=title, alt=alt, items=(*lines, *filled), unit=unit)

    extent = bounds_of([*lines, *filled], 1.0)
    return draw(max(extent.width / (room[0] - 2.0), extent.height / (room[1] - 2.0)))


def _panels(case: DetailedCase, shown: Shown) -> list[Panel]:
    return [p for p in case.panels if shown.fronts or p.role not in FRONTS]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Picture:
    """What a view is put together from: the panels and where each is drawn."""

    case: DetailedCase
    panels: Sequence[Panel]
    boxes: Sequence[Box]
    shown: Shown
    view: View
    titles: Sequence[tuple[str, Place]] = ()


def _fitted(picture: _Picture, room: tuple[float, float], kind: tuple[str, str], alt: str) -> Drawing:
    panels, view = picture.panels, picture.view
    pieces = painted(picture.boxes, view)
    extent = bounds_of([Path(points=f) for box in picture.boxes for f, _, _ in _faces(box, view)], 1.0)
    about = picture.case.built.case
    size = (picture.shown.figures or Figures()).lengths.told_seen_size(about.width, about.height, about.depth)
    boxes = _painted(picture, pieces)

    def draw(unit: float) -> Drawing:
        items, hidden = marks_on(panels, pieces, view, unit) if picture.shown.names else ([], [])
        return Drawing(
            id=f"{about.code}.{kind[0]}",
            title=f"{about.code} {about.name}, {kind[1]}",
            alt=f"{alt} {size}.",
            items=(*boxes, *items, *(_title(words, at) for words, at in picture.titles if picture.shown.names)),
            unit=unit,
            notes=(f"Out of sight: {', '.join(hidden)}.",) if hidden else (),
        )

    return fitted(draw, room, (extent.width, extent.height))


def _title(words: str, at: Place) -> Text:
    return Text(at=at, text=words, height=HEIGHTS[TextRole.NOTE], role=TextRole.NOTE)


def _painted(picture: _Picture, pieces: Sequence[Piece]) -> list[Entity]:
    shown, view = picture.shown, picture.view
    items: list[Entity] = []
    for piece in pieces:
        panel = picture.panels[piece.thing]
        faces: list[Entity] = []
        for face, shade, outlined in _faces(piece.box, view, piece.seams):
            fill = board_fill(panel.board, shown.boards, shade=shade, hatched=shown.hatched)
            if panel.id in shown.chosen:
                fill = Fill(Tint.CHOSEN, fill.hatch, shade)
            faces.append(Path(points=face, closed=True, pen=Pen.EDGE if outlined else None, fill=fill))
            if not outlined:
                faces += _outline_without_seams(piece, face, view)
        faces += _openings_in(picture.case, panel, piece.box, view)
        items.append(Group(items=tuple(faces), id=panel.id, name=f"{panel.mark} {panel.name}", kind="panel"))
    return items


def _faces(
    box: Box, view: View, seams: frozenset[tuple[Axis, bool]] = frozenset()
) -> list[tuple[tuple[Place, ...], int, bool]]:
    """The three faces seen, with their shade, and whether all their edges are the panel's own."""
    faces = []
    (x0, x1), (y0, y1), (z0, z1) = (box.span(axis) for axis in AXES)
    for axis, high, shade in _SEEN:
        if (axis, high) not in seams:
            if axis is Axis.X:
                x = x1 if high else x0
                around = (x, y0, z0), (x, y1, z0), (x, y1, z1), (x, y0, z1)
            elif axis is Axis.Y:
                y = y1 if high else y0
                around = (x0, y, z0), (x1, y, z0), (x1, y, z1), (x0, y, z1)
            else:
                z = z1 if high else z0
                around = (x0, y0, z), (x1, y0, z), (x1, y1, z), (x0, y1, z)
            corners = tuple(view.seen(*corner) for corner in around)
            faces.append((corners, shade, all(ax is axis for ax, _ in seams)))
    return faces


def _outline_without_seams(piece: Piece, face: tuple[Place, ...], view: View) -> list[Entity]:
    """The edges of a face but for those made by cutting the box."""
    cut: set[Place] = set()
    lines: list[Entity] = []
    for axis, high in piece.seams:
        at = piece.box.span(axis)[1 if high else 0]
        cut |= {view.on(c) for c in corners_of(piece.box) if abs(c.along(axis) - at) < 1e-9}
    for a, b in zip(face, (*face[1:], face[0]), strict=True):
        if not (a in cut and b in cut):
            lines.append(Path(points=(a, b), pen=Pen.EDGE))
    return lines


def _openings_in(case: DetailedCase, panel: Panel, box: Box, view: View) -> list[Entity]:
    """Hand holds and other cut-outs in the front of a panel, as they show in its face."""
    if panel.frame.into.value != "+y" or any(abs(box.size(a) - panel.box.size(a)) > 1e-6 for a in AXES):
        return []
    moved = box.low - panel.box.low
    lines: list[Entity] = []
    for feature in case.on(panel.id):
        if isinstance(feature.shape, CutOut) and feature.surface is Surface.FACE:
            for points in around_of(feature, panel):
                corners = tuple(view.on(panel.frame.to_case(p) + moved) for p in points)
                lines.append(Path(points=corners, closed=True, pen=Pen.EDGE, fill=Fill(Tint.INK)))
    return lines
