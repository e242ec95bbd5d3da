"""Where marks stand: in inches, true to the lines that are printed beside them.

Across the mate's thickness, a mark on a receiving panel is counted from the line of the mate. Both the line and the
mark's own place on the mate are printed. In inches, where fractions and decimals meet, its figure is the sum of
those two, and not a third figure rounded by itself. In millimetres it is their sum anyhow: all that is added to a line
is in whole hundredths, but where a board is not.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.measure.space import Frame, PanelAxis, Point
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import CutOut, Feature
from storyrod.model.joint import Joint, JointId
from storyrod.model.mark import JointLine
from storyrod.model.panel import Panel, PanelId
from storyrod.setout._lines import walls_of
from storyrod.setout._standing import STILL

_DUST: Final = 1e-5  # mm; lines are kept to a millionth
_BY_FENCE = frozenset({"groove", "rebate", "housing"})


def is_set_by_walls(feature: Feature) -> bool:
    """Return whether a cut is set by a fence from the board's own edge, wall by wall, so that it is not rounded."""
    shape = feature.shape
    return feature.kind in _BY_FENCE or (isinstance(shape, CutOut) and shape.outline == "notch")


@dataclass(frozen=True, slots=True)
class _Kept:
    """The line that the marks of a joint are counted from on the receiving panel: its exact place, and that printed."""

    receiving: PanelId
    axis: PanelAxis
    exact: float
    printed: float


class Places:
    """Where the marks of one case stand."""

    def __init__(self, panels: Mapping[PanelId, Panel], lengths: LengthWriter) -> None:
        self._panels = panels
        self._printed = lengths.printed
        self._is_inch = lengths.is_inch
        self._kept: dict[str, _Kept] = {}

    def keep(
        self, joints: Sequence[Joint], moves: Mapping[JointId, Point], lines: Mapping[JointId, JointLine]
    ) -> Places:
        """Keep marks to the printed `lines` of their joints, whose lines are moved as `moves` says."""
        for joint in joints:
            line = lines.get(joint.id)
            if line is not None:
                near, far = walls_of(joint, self._panels, moves[joint.id])
                axis = self._panels[joint.receiving].frame.panel_axis(self._panels[joint.entering].frame.into.axis)
                exact = near if line.face_side_line == line.near else far
                if abs(exact - line.face_side_line) < _DUST and not self._is_inch:
                    continue  # the line is printed as it is, and so are its marks
                self._kept[joint.id] = _Kept(joint.receiving, axis, exact, line.face_side_line)
        return self

    def of(self, feature: Feature, move: Point) -> tuple[float, float, float]:
        """Return u, v and w (mm) of the mark of a cut that is moved so much in the case, free of float dust."""
        u, v, w = _moved(feature, self._panels[feature.panel].frame, move)
        kept = self._kept.get(feature.joint)
        if kept is not None and kept.receiving == feature.panel and not is_set_by_walls(feature):
            by = kept.printed - kept.exact
            match kept.axis:
                case PanelAxis.U:
                    u = self._printed(u + by)
                case PanelAxis.V:
                    v = self._printed(v + by)
                case PanelAxis.W:
                    pass
        return round(u, 6), round(v, 6), round(w, 6)


def _moved(feature: Feature, frame: Frame, move: Point) -> tuple[float, float, float]:
    at = feature.at
    if move is STILL:
        return at.u, at.v, at.w
    by = (move.x, move.y, move.z)
    return (
        at.u + frame.u.sign * by[frame.u.nth],
        at.v + frame.v.sign * by[frame.v.nth],
        at.w + frame.into.sign * by[frame.into.nth],
    )
