"""What a cut looks like where a joint is sawn through across its line."""

from __future__ import annotations

import math

from storyrod.drawing._types import Place
from storyrod.measure.space import PANEL_AXES, PanelAxis, PanelPoint
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Feature,
    Hole,
    Keyhole,
    SegmentPocket,
    Slot,
    UndercutSlot,
)
from storyrod.model.panel import Panel

Chain = tuple[Place, ...]


def section_of(feature: Feature, panel: Panel, run: PanelAxis) -> tuple[tuple[PanelPoint, ...], ...]:
    """Return the areas a cut takes away in the plane across the panel axis `run` through its middle."""
    normal = feature.surface.axis
    across = next(a for a in PANEL_AXES if a not in {normal, run})
    inward = -1.0 if feature.surface.is_far else 1.0
    return tuple(
        tuple(feature.at.moved(across, a).moved(normal, inward * d) for a, d in chain)
        for chain in _chains(feature, panel, run)
    )


def _chains(feature: Feature, panel: Panel, run: PanelAxis) -> tuple[Chain, ...]:
    """Areas as chains of (across, down)."""
    shape = feature.shape
    lies = getattr(shape, "run", run) is run
    match shape:
        case Hole():
            deep = panel.extent(feature.surface.axis) if shape.through else shape.depth
            return (_hole(shape, deep),)
        case Slot():
            return (_box(shape.width if lies else shape.length, shape.depth),)
        case SegmentPocket():
            return (_box(shape.width, shape.depth) if lies else _segment(shape),)
        case UndercutSlot():
            lip = min(shape.lip, shape.depth)
            if lies:
                return (_stepped(shape.width, lip, shape.undercut_width, shape.depth),)
            return (_box(shape.length, shape.depth),)
        case Keyhole():
            return (_keyhole(shape, lies=lies),)
        case Channel():
            return (_box(shape.width if lies else shape.length, shape.depth),)
        case CutOut():
            return (_box(shape.height if lies else shape.length, panel.extent(feature.surface.axis)),)
        case AngledPocket():
            return () if lies else _angled(shape)


def _box(width: float, depth: float) -> Chain:
    a = width / 2
    return ((-a, 0.0), (a, 0.0), (a, depth), (-a, depth))


def _hole(hole: Hole, depth: float) -> Chain:
    r = hole.diameter / 2
    if hole.countersink is None:
        return _box(hole.diameter, depth) if not hole.point else (
            (-r, 0.0), (r, 0.0), (r, depth), (0.0, depth + hole.point), (-r, depth)
        )  # fmt: skip
    c = hole.countersink / 2
    down = c - r  # a countersink of 90 degrees
    return ((-c, 0.0), (c, 0.0), (r, down), (r, depth), (-r, depth), (-r, down))


def _stepped(mouth: float, lip: float, under: float, depth: float) -> Chain:
    a, b = mouth / 2, under / 2
    return ((-a, 0.0), (a, 0.0), (a, lip), (b, lip), (b, depth), (-b, depth), (-b, lip), (-a, lip))


def _keyhole(key: Keyhole, *, lies: bool) -> Chain:
    if lies:  # sawn through the neck, at the lock
        return _stepped(key.slot_width, key.lip, key.undercut_width, key.depth)
    way, r = float(key.lock_sign), key.entry_diameter / 2
    entry = -way * key.travel
    mouth, under = way * key.slot_width / 2, way * key.undercut_width / 2
    back = entry - way * r
    return ((back, 0.0), (mouth, 0.0), (mouth, key.lip), (under, key.lip), (under, key.depth), (back, key.depth))


def _segment(pocket: SegmentPocket) -> Chain:
    r, half = pocket.disc / 2, pocket.chord / 2
    centre = pocket.depth - r
    turn = math.asin(min(1.0, half / r))
    steps = 12
    angles = [-turn + 2 * turn * n / steps for n in range(steps + 1)]
    return tuple((r * math.sin(a), centre + r * math.cos(a)) for a in angles)


def _angled(pocket: AngledPocket) -> tuple[Chain, ...]:
    """The sloping bore, cut off at the face, and the pilot that goes on to the edge."""
    slope = math.radians(pocket.angle_deg)
    along = pocket.sign * math.cos(slope), math.sin(slope)
    side = -pocket.sign * math.sin(slope), math.cos(slope)
    r = pocket.diameter / 2
    # The two long walls start where they meet the face: at across +-r / sin(slope) of the axis.
    near, far = -pocket.sign * r / math.sin(slope), pocket.sign * r / math.sin(slope)
    end = along[0] * pocket.length, along[1] * pocket.length
    lower = end[0] + side[0] * r, end[1] + side[1] * r
    upper = end[0] - side[0] * r, end[1] - side[1] * r
    bore = ((near, 0.0), (far, 0.0), upper, lower) if upper[1] > 0 else ((near, 0.0), (far, 0.0), lower)
    p = pocket.pilot / 2
    tip = end[0] + along[0] * 2 * pocket.diameter, end[1] + along[1] * 2 * pocket.diameter
    pilot = (
        (end[0] - side[0] * p, end[1] - side[1] * p), (tip[0] - side[0] * p, tip[1] - side[1] * p),
        (tip[0] + side[0] * p, tip[1] + side[1] * p), (end[0] + side[0] * p, end[1] + side[1] * p),
    )  # fmt: skip
    return bore, pilot
