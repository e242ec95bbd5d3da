"""Round once, where a mark is made, and let both mates share the rounding.

Each joint is rounded in two directions: its stations, as they are measured on the entering panel, and the line
on which the mate's face side stands, as it is measured on the receiving panel. The small moves that follow are
kept as one vector in the case frame for each feature. A station moves on both mates alike. A line moves on the
receiving panel alone, and the entering panel is put to it: across its own thickness its cuts stay where they are.
"""

from __future__ import annotations

from collections.abc import Mapping

from storyrod.measure.space import Frame, PanelAxis, Point
from storyrod.measure.tolerance import rounded_to
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.joint import Joint, JointId
from storyrod.model.panel import Panel, PanelId

STILL = Point(0.0, 0.0, 0.0)


def moves_of(
    case: DetailedCase, panels: Mapping[PanelId, Panel], lines: Mapping[JointId, Point], step: float
) -> dict[FeatureId, Point]:
    """Return, for each feature, how far its mark moves in the case frame by being rounded to `step` mm.

    `lines` are the moves of the joints' lines.
    """
    joints = {j.id: j for j in case.joints}
    stations = {j.id: tuple(_station_move(s, j, step) for s in j.stations) for j in case.joints}
    sums: dict[tuple[JointId, int, bool], Point] = {}
    sizes = {p.id: (p.length, p.width) for p in panels.values()}
    moves: dict[FeatureId, Point] = {}
    for feature in case.features:
        joint = joints.get(feature.joint)  # type: ignore[call-overload]
        if joint is not None:
            key = (joint.id, feature.station, feature.panel == joint.receiving)
            if key not in sums:
                there = 0 < feature.station <= len(joint.stations)
                station = stations[joint.id][feature.station - 1] if there else STILL
                sums[key] = _sum(lines[joint.id], station) if key[2] else station
            moves[feature.id] = sums[key]
        elif feature.id not in moves:
            moves[feature.id] = _own_move(feature, panels[feature.panel].frame, sizes[feature.panel], step)
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


def _sum(one: Point, other: Point) -> Point:
    if one is STILL or other is STILL:
        return other if one is STILL else one
    return one + other


def _station_move(station: float, joint: Joint, step: float) -> Point:
    by = rounded_to(station, step) - station
    return STILL.with_(joint.run.axis, by * joint.run.sign) if by else STILL


def _own_move(feature: Feature, frame: Frame, size: tuple[float, float], step: float) -> Point:
    """Return the move of a cut that no joint asks for: rounded from the datum end and the face edge.

    A channel (groove, rebate) is set by fence from the board's own edge and keeps its exact place.
    """
    if feature.kind in ("groove", "rebate", "housing"):
        return STILL
    move, flat = STILL, feature.surface.axis
    along = (PanelAxis.U, frame.u, feature.at.u, size[0]), (PanelAxis.V, frame.v, feature.at.v, size[1])
    for axis, way, at, end in along:
        if axis is flat or at < step or at > end - step:
            continue  # across the surface, or on the edge itself, as a scoop lies
        by = rounded_to(at, step) - at
        if by:
            move = move.moved(way.axis, by * way.sign)
    return move
