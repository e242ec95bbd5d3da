"""The line that a panel stands on: rounded once for the panel, or not at all where something is fitted to it.

A panel stands in one place of the case, so it has one move, whichever panels its lines are marked on and wherever
their datums are. The move is made where nothing else would have to follow: a shelf in an open carcass, a plinth set
back. Where a panel stands between two others its length is the distance between their lines, and where a drawer or a
door is fitted beside it the opening is: there the line keeps its exact place, to the hundredth as it is written.
`docs/decisions/` says why.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from storyrod.measure.space import AXES, Axis, Box, PanelAxis, Point
from storyrod.measure.tolerance import TOUCH, rounded_to
from storyrod.model.detail import DetailedCase
from storyrod.model.joint import Joint, JointId
from storyrod.model.panel import Panel, PanelId, Role, Surface

STILL = Point(0.0, 0.0, 0.0)

_FACES = (Surface.FACE, Surface.FAR_FACE)
CARCASS = "carcass"
"""The body of all panels that are joined into the case itself."""


def line_moves(case: DetailedCase, panels: Mapping[PanelId, Panel], step: float) -> dict[JointId, Point]:
    """Return how far each joint's line moves on the receiving panel, in the case frame, by rounding to `step` mm.

    All joints by which a panel stands have its one move: its face side is brought to a whole step from the datum of
    the first panel that it is marked on.
    """
    entered: dict[PanelId, list[Joint]] = {}
    for joint in case.joints:
        entered.setdefault(joint.entering, []).append(joint)
    fitted = tuple(_fitted_openings(case))
    moves: dict[JointId, Point] = {}
    for panel_id, joints in entered.items():
        move = STILL
        if not _is_held(panels[panel_id], joints, case, fitted):
            measured = (_line_move(j, panels, step) for j in joints if j.receiving_surface in _FACES)
            move = next((m for m in measured if m is not None), STILL)
        moves.update(dict.fromkeys((j.id for j in joints), move))
    return moves


def _line_move(joint: Joint, panels: Mapping[PanelId, Panel], step: float) -> Point | None:
    """Return the move that brings a line to a whole step from the receiving panel's datum; None if not measured."""
    receiving, entering = panels[joint.receiving], panels[joint.entering]
    way = entering.frame.into
    axis = receiving.frame.panel_axis(way.axis)
    if axis is PanelAxis.W:
        return None
    datum = receiving.frame.direction(axis)
    distance = (entering.frame.origin.along(way.axis) - receiving.frame.origin.along(way.axis)) * datum.sign
    return STILL.with_(way.axis, (rounded_to(distance, step) - distance) * datum.sign)


def _is_held(panel: Panel, joints: Iterable[Joint], case: DetailedCase, fitted: Iterable[Box]) -> bool:
    """Return whether a panel's line keeps its exact place: it is flush, or something is fitted to the panel.

    A drawer's box lies in an opening that it is fitted to, so all its lines do. A back that no cut of its joints holds
    lies in grooves or rebates, which are set by their walls and not rounded.
    """
    if any(j.at_corner for j in joints):
        return True
    if panel.role is Role.BACK and not {j.id for j in joints} & {f.joint for f in case.features}:
        return True
    return (
        any(f.surface in _FACES and not f.joint for f in case.on(panel.id))
        or any(_lies_against(box, panel) for box in fitted)
        or _is_stood_against(panel, {j.receiving for j in joints}, case.panels)
    )


def _is_stood_against(panel: Panel, receiving: set[PanelId], others: Iterable[Panel]) -> bool:
    """Return whether another panel stands against, or is let into, one of the panel's faces."""
    return any(
        other.body == CARCASS
        and other.id != panel.id
        and other.id not in receiving
        and other.role is not Role.LOOSE_SHELF
        and _lies_against(other.box, panel)
        for other in others
    )


def _fitted_openings(case: DetailedCase) -> Iterable[Box]:
    """Return the openings in which a drawer runs or a door hangs."""
    named = {d.opening for d in case.built.drawers} | {d.opening for d in case.built.doors}
    return (o.box for o in case.built.openings if o.id in named)


def _lies_against(box: Box, panel: Panel) -> bool:
    """Return whether a box meets the panel, within a touch across its thickness, over some of its faces' area."""
    through: Axis = panel.frame.into.axis
    for axis in AXES:
        shared = min(box.high.along(axis), panel.box.high.along(axis)) - max(
            box.low.along(axis), panel.box.low.along(axis)
        )
        if shared < (-TOUCH if axis is through else TOUCH):
            return False
    return True
