"""One mark of a panel, ringed, with its two figures from the datum: to find it, and its mate on the other panel."""

from __future__ import annotations

from storyrod.drawing._drawing import Drawing, bounds_of
from storyrod.drawing._figures import Figures
from storyrod.drawing._outlines import reach_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._running import Side, Wanted, laid_out
from storyrod.drawing._scale import fitted
from storyrod.drawing._scene import Scene, scene_of
from storyrod.drawing._symbols import line
from storyrod.drawing._types import Anchor, Circle, Entity, Group, Path, Place, Text
from storyrod.drawing._unfolded import FACES
from storyrod.model.mark import JointLine, Mark, PanelSetOut
from storyrod.model.panel import Surface

_LEAVE = 4.0
_RING = 2.6


def mark_place(
    set_out: PanelSetOut, mark: Mark, *, figures: Figures | None = None, room: tuple[float, float] = (86.0, 70.0)
) -> Drawing:
    """Return the panel as it lies with the mark's surface seen, the mark ringed, and its figures from the datum.

    Only what is cut in that surface is drawn; a mark in an end or edge is shown in it, folded out. On an end the figure
    along the panel, and on an edge that across it, is that of the surface itself and is left out.
    """
    shown = figures or Figures()
    face = mark.surface if mark.surface in FACES else Surface.FACE
    panel = set_out.panel

    def draw(unit: float) -> Drawing:
        scene = scene_of(set_out, face, shown, unit, with_edges=mark.surface is not face)
        return Drawing(
            id=f"{panel.id}.mark-{mark.number}",
            title=f"{mark.label} on {panel.mark} {panel.name}",
            alt=_alt(set_out, mark, shown),
            items=tuple(_items(scene, mark)),
            unit=unit,
        )

    return fitted(draw, room, (panel.length, panel.width))


def _alt(set_out: PanelSetOut, mark: Mark, figures: Figures) -> str:
    panel = set_out.panel
    places = ((mark.u, "u", "datum end"), (mark.v, "v", "face edge"))
    told = [f"{figures.of(at)} from the {datum}" for at, axis, datum in places if mark.surface.axis.value != axis]
    return f"{mark.what} in the {mark.surface} of {panel.name} ({panel.mark}), ringed: {', '.join(told)}."


def _items(scene: Scene, mark: Mark) -> list[Entity]:
    panel, unfolded, unit = scene.panel, scene.unfolded, scene.unit
    items: list[Entity] = [_area(unfolded.rectangle(scene.face), Pen.OUTLINE)]
    if mark.surface is not scene.face:
        items.append(_area(unfolded.rectangle(mark.surface), Pen.FEATURE))
    for joint in scene.lines:
        items += _joint_line(scene, joint)
    for other in scene.marks:
        if other.surface is mark.surface and other.number != mark.number:
            items += unfolded.drawn(other.feature, other.surface, pen=Pen.THIN)
    items += _datum(scene)
    own = unfolded.drawn(mark.feature, mark.surface, pen=Pen.FEATURE)
    at = unfolded.on(mark.surface, mark.feature.at)
    ring = max(_RING * unit, min(reach_of(mark.feature.shape) + 1.2 * unit, 6.0 * unit))
    ringed = (*own, Circle(centre=at, radius=ring, pen=Pen.MARK))
    items.append(Group(items=ringed, id=mark.feature.id, name=f"{mark.label}: {mark.what}", kind="mark lit"))
    items += _figures_of(scene, mark, at)
    name = f"{panel.mark} {panel.name}, {mark.surface}"
    box = bounds_of(items, unit)
    foot = (box.left, box.top + 3.4 * unit)
    items.append(Text(at=foot, text=name, height=HEIGHTS[Role.NAME], anchor=Anchor.START, bold=True, role=Role.NAME))
    return items


def _area(corners: tuple[Place, ...], pen: Pen) -> Path:
    return Path(points=corners, closed=True, pen=pen, fill=Fill(Tint.PAPER))


def _joint_line(scene: Scene, joint: JointLine) -> list[Entity]:
    way = scene.unfolded.way
    near, far = (
        tuple((way * at, x) if joint.across_length else (way * x, at) for x in (joint.start, joint.end))
        for at in (joint.near, joint.far)
    )
    band = Path(points=(near[0], near[1], far[1], far[0]), closed=True, fill=Fill(Tint.PAPER, Hatch.LIGHT))
    return [band, line(*near, pen=Pen.JOINT), line(*far, pen=Pen.JOINT)]


def _datum(scene: Scene) -> list[Entity]:
    off, way = 1.9 * scene.unit, scene.unfolded.way
    return [
        line((-way * off, -off), (way * scene.panel.length, -off), pen=Pen.DATUM),
        line((-way * off, -off), (-way * off, scene.panel.width), pen=Pen.DATUM),
    ]


def _figures_of(scene: Scene, mark: Mark, at: Place) -> list[Entity]:
    panel, unfolded, unit = scene.panel, scene.unfolded, scene.unit
    out = unfolded.gap + unfolded.strip
    runs: list[Entity] = []
    if mark.surface.axis.value != "u":
        low = -out if mark.surface is Surface.FACE_EDGE else -3.0 * unit
        side = Side(
            along_x=True, way=unfolded.way, line_at=low - _LEAVE * unit, toward=-1, extent=panel.length, every=True
        )
        runs.append(laid_out([Wanted(0.0, low), Wanted(mark.u, at[1])], scene.figures, unit, side))
    if mark.surface.axis.value != "v":
        near = -unfolded.way * (out if mark.surface is Surface.DATUM_END else 3.0 * unit)
        line_at = near - unfolded.way * _LEAVE * unit
        side = Side(along_x=False, way=1, line_at=line_at, toward=-unfolded.way, extent=panel.width, every=True)
        runs.append(laid_out([Wanted(0.0, near), Wanted(mark.v, at[0])], scene.figures, unit, side))
    return runs
