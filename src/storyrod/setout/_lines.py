"""Joint lines: where the mates of a panel stand on its faces."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from storyrod.measure.space import PanelAxis, PanelPoint, Point
from storyrod.measure.writing import LengthWriter
from storyrod.model.joint import Joint, JointId
from storyrod.model.mark import JointLine
from storyrod.model.panel import Panel, PanelId, Surface

_SAME = 1e-5  # mm; lines are kept to a millionth
_FACES = (Surface.FACE, Surface.FAR_FACE)


def lines_by_panel(
    joints: tuple[Joint, ...],
    panels: Mapping[PanelId, Panel],
    moves: Mapping[JointId, Point],
    lengths: LengthWriter,
) -> dict[PanelId, tuple[JointLine, ...]]:
    """Return the joint lines on each panel, moved as `moves` says, in running order from its datum.

    In inches the far face's line is carried from that of the face side, as far off as the board's printed thickness. In
    millimetres all that is added to a line is in whole hundredths, and they are so without it, but for a board that is
    not, such as one of 15.875: its lines are carried in the same way.
    """
    found: dict[PanelId, list[JointLine]] = {p: [] for p in panels}
    for joint in joints:
        if joint.receiving_surface in _FACES:
            thickness = panels[joint.entering].thickness
            is_whole = not lengths.is_inch and abs(lengths.printed(thickness) - thickness) < _SAME
            printed = _as_it_is if is_whole else lengths.printed
            found[joint.receiving].append(_line(joint, panels, moves[joint.id], printed))
    return {
        p: tuple(sorted(ls, key=lambda n: (n.surface, n.across_length, n.near, n.start))) for p, ls in found.items()
    }


def _as_it_is(mm: float) -> float:
    return round(mm, 6)


def _line(joint: Joint, panels: Mapping[PanelId, Panel], move: Point, printed: Callable[[float], float]) -> JointLine:
    receiving, entering = panels[joint.receiving], panels[joint.entering]
    frame = receiving.frame
    through = frame.panel_axis(entering.frame.into.axis)
    low, high = walls_of(joint, panels, move)
    along = PanelAxis.V if through is PanelAxis.U else PanelAxis.U
    start, end = _span(frame.to_panel(joint.contact.low), frame.to_panel(joint.contact.high), along)
    grows = frame.direction(through) is entering.frame.into
    thick = printed(high - low)
    # The face side's line is the one that was brought to a whole step, so it is the one that the other is carried from.
    face = printed(low if grows else high)
    near, far = (
        (face, printed(face + thick)) if grows else (printed(face - thick) + 0.0, face)
    )  # + 0.0: no minus nought
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
        near=near,
        far=far,
        face_side_line=face,
        face_side_on_line=abs((low if grows else high) - true_place) < _SAME,
        start=start,
        end=end,
    )


def walls_of(joint: Joint, panels: Mapping[PanelId, Panel], move: Point) -> tuple[float, float]:
    """Return where the entering panel's two faces stand on the receiving one, moved, before they are printed."""
    frame = panels[joint.receiving].frame
    through = frame.panel_axis(panels[joint.entering].frame.into.axis)
    return _span(frame.to_panel(joint.contact.low + move), frame.to_panel(joint.contact.high + move), through)


def _span(a: PanelPoint, b: PanelPoint, axis: PanelAxis) -> tuple[float, float]:
    first, second = a.along(axis), b.along(axis)
    return (round(min(first, second), 6), round(max(first, second), 6))
