"""Which values a set-out sheet shows in running dimensions, and from where their extension lines start."""

from __future__ import annotations

from storyrod.drawing._running import Side, Wanted, laid_out
from storyrod.drawing._scene import Scene
from storyrod.drawing._types import Running
from storyrod.model.mark import JointLine
from storyrod.model.panel import Surface

LEAVE = 5.0
"""From an edge to the dimension line, on paper."""


def lengths_of(scene: Scene) -> list[Running]:
    """Lengths: along the face edge, and along the far edge where that has marks of its own."""
    panel, unfolded = scene.panel, scene.unfolded
    low = -(unfolded.gap + unfolded.strip) if Surface.FACE_EDGE in scene.edges else -3.0 * scene.unit
    high = panel.width + unfolded.gap + unfolded.strip
    wanted = [Wanted(0.0, low), Wanted(panel.length, low)]
    centres = {(li.near + li.far) / 2 for li in scene.lines if li.across_length}
    for li in scene.lines:
        if li.across_length:
            wanted += _band(li, low, panel.length)
    far = []
    for m in scene.marks:
        if scene.is_on_face(m) and m.feature.shape.kind != "rebate":
            on_line = any(abs(m.u - c) < 1.0 for c in centres)
            wanted.append(Wanted(m.u, low if on_line else m.feature.at.v))
        elif m.surface is Surface.FACE_EDGE:
            wanted.append(Wanted(m.u, low))
        elif m.surface is Surface.FAR_EDGE:
            far.append(Wanted(m.u, high))
    side = Side(along_x=True, way=unfolded.way, line_at=low - LEAVE * scene.unit, toward=-1, extent=panel.length)
    runs = [laid_out(wanted, scene.figures, scene.unit, side)]
    shown = {scene.figures.of(w.value) for w in wanted}
    if any(scene.figures.of(w.value) not in shown for w in far):
        far.append(Wanted(0.0, high))
        top = Side(along_x=True, way=unfolded.way, line_at=high + LEAVE * scene.unit, toward=1, extent=panel.length)
        runs.append(laid_out(far, scene.figures, scene.unit, top))
    return runs


def widths_of(scene: Scene) -> list[Running]:
    """Widths: along the datum end, and along the far end where that has marks of its own."""
    panel, unfolded, way = scene.panel, scene.unfolded, scene.unfolded.way
    out = unfolded.gap + unfolded.strip
    near = -way * (out if Surface.DATUM_END in scene.edges else 3.0 * scene.unit)
    beyond = way * (panel.length + out)
    wanted = [Wanted(0.0, near), Wanted(panel.width, near)]
    centres = {(li.near + li.far) / 2 for li in scene.lines if not li.across_length}
    for li in scene.lines:
        if not li.across_length:
            wanted += _band(li, near, panel.width)
    far = []
    for m in scene.marks:
        if scene.is_on_face(m) and m.feature.shape.kind != "rebate":
            on_line = any(abs(m.v - c) < 1.0 for c in centres)
            wanted.append(Wanted(m.v, near if on_line else way * m.feature.at.u))
        elif m.surface is Surface.DATUM_END:
            wanted.append(Wanted(m.v, near))
        elif m.surface is Surface.FAR_END:
            far.append(Wanted(m.v, beyond))
    side = Side(along_x=False, way=1, line_at=near - way * LEAVE * scene.unit, toward=-way, extent=panel.width)
    runs = [laid_out(wanted, scene.figures, scene.unit, side)]
    shown = {scene.figures.of(w.value) for w in wanted}
    if any(scene.figures.of(w.value) not in shown for w in far):
        far.append(Wanted(0.0, beyond))
        end = Side(along_x=False, way=1, line_at=beyond + way * LEAVE * scene.unit, toward=way, extent=panel.width)
        runs.append(laid_out(far, scene.figures, scene.unit, end))
    return runs


def _band(joint: JointLine, start: float, extent: float) -> list[Wanted]:
    """The two lines of a mate; the line of its face side is the one the maker draws."""
    values = [v for v in (joint.near, joint.far) if 1e-6 < v < extent - 1e-6]
    return [Wanted(v, start, needed=abs(v - joint.face_side_line) < 1e-6) for v in values]
