"""Round once, where a mark is made, and let both mates share the rounding.

Each joint is rounded in two directions: its stations, as they are measured on the entering panel, and the line
on which the mate's face side stands, as it is measured on the receiving panel. The small moves that follow are
kept as one vector in the case frame for each feature, so that the marks of two mates can not part company.
"""

from __future__ import annotations

from collections.abc import Mapping

from storyrod.measure.space import PanelAxis, Point
from storyrod.measure.tolerance import rounded_to
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.joint import Joint
from storyrod.model.panel import Panel, PanelId, Surface

STILL = Point(0.0, 0.0, 0.0)


def moves_of(case: DetailedCase, panels: Mapping[PanelId, Panel], step: float) -> dict[FeatureId, Point]:
    """Return, for each feature, how far its mark moves in the case frame by being rounded to `step` mm."""
    joints = {j.id: j for j in case.joints}
    lines = {j.id: line_move(j, panels, step) for j in case.joints}
    moves: dict[FeatureId, Point] = {}
    for feature in case.features:
        joint = joints.get(feature.joint)  # type: ignore[call-overload]
        if joint is not None:
            moves[feature.id] = lines[joint.id] + _station_move(feature, joint, step)
        elif feature.id not in moves:
            moves[feature.id] = _own_move(feature, panels[feature.panel], step)
            if feature.mate is not None:
                moves.setdefault(feature.mate, moves[feature.id])
    return moves


def line_move(joint: Joint, panels: Mapping[PanelId, Panel], step: float) -> Point:
    """Return how far a joint's line moves on the receiving panel by being rounded from its datum.

    A line that stands flush with the panel's edge or end is not measured, so it stays.
    """
    if joint.at_corner:
        return STILL
    receiving, entering = panels[joint.receiving], panels[joint.entering]
    way = entering.frame.into
    face_side = entering.frame.origin.along(way.axis)
    axis = receiving.frame.panel_axis(way.axis)
    if axis is PanelAxis.W:
        return STILL
    datum = receiving.frame.direction(axis)
    distance = (face_side - receiving.frame.origin.along(way.axis)) * datum.sign
    return STILL.with_(way.axis, (rounded_to(distance, step) - distance) * datum.sign)


def _station_move(feature: Feature, joint: Joint, step: float) -> Point:
    if not 0 < feature.station <= len(joint.stations):
        return STILL
    station = joint.stations[feature.station - 1]
    return STILL.with_(joint.run.axis, (rounded_to(station, step) - station) * joint.run.sign)


def _own_move(feature: Feature, panel: Panel, step: float) -> Point:
    """Return the move of a cut that no joint asks for: rounded from the datum end and the face edge.

    A channel (groove, rebate) is set by fence from the board's own edge and keeps its exact place.
    """
    if feature.kind in ("groove", "rebate", "housing"):
        return STILL
    move = STILL
    for axis, flat in ((PanelAxis.U, feature.surface.axis), (PanelAxis.V, feature.surface.axis)):
        if axis is flat or feature.surface in _EDGE_OF[axis]:
            continue
        way = panel.frame.direction(axis)
        at = feature.at.along(axis)
        if at < step or at > panel.extent(axis) - step:
            continue  # it lies on the edge itself, as a scoop does
        move = move.moved(way.axis, (rounded_to(at, step) - at) * way.sign)
    return move


_EDGE_OF = {
    PanelAxis.U: (Surface.DATUM_END, Surface.FAR_END),
    PanelAxis.V: (Surface.FACE_EDGE, Surface.FAR_EDGE),
}
