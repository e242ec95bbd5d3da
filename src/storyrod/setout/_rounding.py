"""Round once, where a mark is made, and round what keeps its shape as one thing.

The small moves of rounding are kept as one vector in the case frame for each cut.

- A station is rounded as it is measured on the entering panel, and moves on both mates alike.
- Across the thickness of the board it is cut in, a half of a joint stands where it is printed; its mate goes with it.
- A pattern (cup and plate of a hinge, a runner on both uprights, a row of pin holes) has one height rounded, that of
  its first cut in what hangs, or else of its first; all its others go with it. Distances from edges are its maker's.
- The line of a panel is rounded by `storyrod.setout._standing`; the cuts that receive the panel go with it.
- Any other cut is rounded from the datum end and the face edge of its own panel.
- What is set by a fence from the board's own edge, wall by wall, is not rounded: grooves, rebates, notches.
"""

from __future__ import annotations

from collections.abc import Mapping

from storyrod.measure.space import Axis, Frame, PanelAxis, Point
from storyrod.measure.tolerance import EXACT, rounded_to
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.joint import Joint, JointId
from storyrod.model.panel import Panel, PanelId
from storyrod.setout._places import is_set_by_walls
from storyrod.setout._standing import CARCASS, STILL


def moves_of(
    case: DetailedCase,
    panels: Mapping[PanelId, Panel],
    lines: Mapping[JointId, Point],
    step: float,
    lengths: LengthWriter,
) -> dict[FeatureId, Point]:
    """Return, for each feature, how far its mark moves in the case frame by being rounded to `step` mm.

    `lines` are the moves of the joints' lines.
    """
    joints = {j.id: j for j in case.joints}
    stations = {j.id: tuple(_station_move(s, j, step) for s in j.stations) for j in case.joints}
    across = _across_moves(case, joints, panels, lengths)
    sums: dict[tuple[JointId, int, bool], Point] = {}
    sizes = {p.id: (p.length, p.width) for p in panels.values()}
    patterns = _pattern_moves(case, panels, step)
    moves: dict[FeatureId, Point] = {}
    for feature in case.features:
        joint = joints.get(feature.joint)  # type: ignore[call-overload]
        if joint is not None:
            key = (joint.id, feature.station, feature.panel == joint.receiving)
            if key not in sums:
                there = 0 < feature.station <= len(joint.stations)
                station = stations[joint.id][feature.station - 1] if there else STILL
                station = _sum(station, across.get(joint.id, STILL))
                sums[key] = _sum(lines[joint.id], station) if key[2] else station
            moves[feature.id] = sums[key]
        elif feature.pattern:
            moves[feature.id] = patterns[feature.pattern]
        else:
            moves[feature.id] = _own_move(feature, panels[feature.panel].frame, sizes[feature.panel], step)
    return moves


def _across_moves(
    case: DetailedCase, joints: Mapping[JointId, Joint], panels: Mapping[PanelId, Panel], lengths: LengthWriter
) -> dict[JointId, Point]:
    """Return the move across the entering board, for both halves, that brings a joint's cuts to what is printed there.

    Half of a board of 17.7 is 8.85; half of what is left of 8.35 is 4.175, for which 4.18 is printed on both halves.
    """
    moves: dict[JointId, Point] = {}
    for feature in case.features:
        joint = joints.get(feature.joint)  # type: ignore[call-overload]
        if joint is None or joint.id in moves or feature.panel != joint.entering or is_set_by_walls(feature):
            continue
        if feature.mate is not None and feature.surface.axis is not PanelAxis.W:
            into = panels[feature.panel].frame.into
            by = lengths.printed(feature.at.w) - feature.at.w
            moves[joint.id] = STILL.with_(into.axis, by * into.sign) if abs(by) > EXACT else STILL
    return moves


def _pattern_moves(case: DetailedCase, panels: Mapping[PanelId, Panel], step: float) -> dict[str, Point]:
    """Return the one move of each pattern, by the height of its first cut in a door or drawer, or of its first."""
    leading: dict[str, Feature] = {}
    for feature in case.features:
        if feature.pattern and (
            feature.pattern not in leading
            or (panels[leading[feature.pattern].panel].body == CARCASS and panels[feature.panel].body != CARCASS)
        ):
            leading[feature.pattern] = feature
    return {name: _height_move(f, panels[f.panel].frame, step) for name, f in leading.items()}


def _sum(one: Point, other: Point) -> Point:
    if one is STILL or other is STILL:
        return other if one is STILL else one
    return one + other


def _station_move(station: float, joint: Joint, step: float) -> Point:
    by = rounded_to(station, step) - station
    return STILL.with_(joint.run.axis, by * joint.run.sign) if by else STILL


def _height_move(feature: Feature, frame: Frame, step: float) -> Point:
    """Return the move that puts a cut at a whole step of height above its own panel's datum."""
    axis = frame.panel_axis(Axis.Z)
    way, at = frame.direction(axis), feature.at.along(axis)
    by = rounded_to(at, step) - at
    return STILL.with_(Axis.Z, by * way.sign) if by else STILL


def _own_move(feature: Feature, frame: Frame, size: tuple[float, float], step: float) -> Point:
    """Return the move of a cut that no joint and no pattern asks for: rounded from the datum end and the face edge."""
    if is_set_by_walls(feature):
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
