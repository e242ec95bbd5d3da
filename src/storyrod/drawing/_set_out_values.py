"""Which values a set-out sheet shows in running dimensions, and from where their extension lines start."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from storyrod.drawing._drawing import bounds_of
from storyrod.drawing._running import Side, Wanted, laid_out
from storyrod.drawing._scene import Scene
from storyrod.drawing._types import Bounds, Running
from storyrod.model.mark import JointLine
from storyrod.model.panel import Surface

LEAVE = 5.0
"""From an edge to the dimension line, on paper."""


def lengths_of(scene: Scene, widths: Sequence[Bounds] = ()) -> list[Running]:
    """Lengths: along the face edge, and along the far edge where that has marks of its own.

    `widths` is where the figures of the widths stand: where both would meet in a corner, the lengths move outward.
    """
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
    runs = [_clear_of(widths, wanted, scene, side)]
    shown = {scene.figures.of(w.value) for w in wanted}
    if any(scene.figures.of(w.value) not in shown for w in far):
        far.append(Wanted(0.0, high))
        top = Side(along_x=True, way=unfolded.way, line_at=high + LEAVE * scene.unit, toward=1, extent=panel.length)
        runs.append(_clear_of(widths, far, scene, top))
    return runs


def _clear_of(widths: Sequence[Bounds], wanted: Sequence[Wanted], scene: Scene, side: Side) -> Running:
    """The running dimension at `side`, or further out where its figures would meet those of the widths."""
    run = laid_out(wanted, scene.figures, scene.unit, side)
    box = figures_box(run, scene.unit)
    met = [w for w in widths if w.meets(box, 0.5 * scene.unit)]
    if not met:
        return run
    out = min(w.bottom for w in met) if side.toward < 0 else max(w.top for w in met)
    return laid_out(wanted, scene.figures, scene.unit, replace(side, line_at=out + side.toward * 2.0 * scene.unit))


def figures_box(run: Running, unit: float) -> Bounds:
    """The part of a running dimension's box that holds its line and figures, without its extension lines."""
    box = bounds_of((run,), unit)
    edge = run.line_at - run.toward * 1.5 * unit
    if run.along_x:
        low, high = (box.bottom, edge) if run.toward < 0 else (edge, box.top)
        return Bounds(left=box.left, right=box.right, bottom=low, top=high)
    left, right = (box.left, edge) if run.toward < 0 else (edge, box.right)
    return Bounds(left=left, right=right, bottom=box.bottom, top=box.top)


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
