"""Joint lines: where the mates of a panel stand on its faces."""

from __future__ import annotations

from collections.abc import Mapping

from storyrod.measure.space import PanelAxis, PanelPoint, Point
from storyrod.model.joint import Joint, JointId
from storyrod.model.mark import JointLine
from storyrod.model.panel import Panel, PanelId, Surface

_SAME = 1e-5  # mm; lines are kept to a millionth
_FACES = (Surface.FACE, Surface.FAR_FACE)


def lines_by_panel(
    joints: tuple[Joint, ...], panels: Mapping[PanelId, Panel], moves: Mapping[JointId, Point]
) -> dict[PanelId, tuple[JointLine, ...]]:
    """Return the joint lines on each panel, moved as `moves` says, in running order from its datum."""
    found: dict[PanelId, list[JointLine]] = {p: [] for p in panels}
    for joint in joints:
        if joint.receiving_surface in _FACES:
            found[joint.receiving].append(_line(joint, panels, moves[joint.id]))
    return {
        p: tuple(sorted(ls, key=lambda n: (n.surface, n.across_length, n.near, n.start))) for p, ls in found.items()
    }


def _line(joint: Joint, panels: Mapping[PanelId, Panel], move: Point) -> JointLine:
    receiving, entering = panels[joint.receiving], panels[joint.entering]
    frame = receiving.frame
    through = frame.panel_axis(entering.frame.into.axis)
    low, high = _span(frame.to_panel(joint.contact.low + move), frame.to_panel(joint.contact.high + move), through)
    along = PanelAxis.V if through is PanelAxis.U else PanelAxis.U
    start, end = _span(frame.to_panel(joint.contact.low), frame.to_panel(joint.contact.high), along)
    grows = frame.direction(through) is entering.frame.into
    face_side = low if grows else high
    true_place = frame.to_panel(entering.frame.origin + move).along(through)
    return JointLine(
        joint=joint.id,
        number=joint.number,
        panel=receiving.id,
        surface=joint.receiving_surface,
        mate=entering.id,
        mate_mark=entering.mark,
        mate_surface=joint.entering_surface,
        across_length=through is PanelAxis.U,
        near=low,
        far=high,
        face_side_line=face_side,
        face_side_on_line=abs(face_side - true_place) < _SAME,
        start=start,
        end=end,
    )


def _span(a: PanelPoint, b: PanelPoint, axis: PanelAxis) -> tuple[float, float]:
    first, second = a.along(axis), b.along(axis)
    return (round(min(first, second), 6), round(max(first, second), 6))
