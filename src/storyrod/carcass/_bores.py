"""Whether a bore in a panel would meet what is already cut there, from its own face or from the other."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.carcass._making import Making
from storyrod.measure.space import PanelPoint
from storyrod.model.feature import Channel, CutOut, Feature, Hole
from storyrod.model.panel import Panel, Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """A round hole that is thought of."""

    surface: Surface
    at: PanelPoint
    diameter: float
    depth: float


def in_the_way(making: Making, panel: Panel, low: float, high: float) -> tuple[Feature, ...]:
    """Return the features of a panel between two distances from its face edge, the only ones a bore there can meet."""
    return tuple(f for f in making.fittings[panel.id] if _reaches(f, low, high))


def meets(making: Making, panel: Panel, bore: Bore, features: tuple[Feature, ...]) -> Feature | None:
    """Return the feature that the bore would meet, leave less than `wall` beside or, from the other face, `skin`."""
    limits, thickness = making.job.limits, panel.thickness
    for feature in features:
        one_side = feature.surface is bore.surface
        through = feature.depth >= thickness
        if not (one_side or through or feature.depth + bore.depth > thickness - limits.skin):
            continue
        if _near(feature, bore, limits.wall if one_side or through else max(limits.wall, limits.skin)):
            return feature
    return None


def _reaches(feature: Feature, low: float, high: float) -> bool:
    half = _half_width(feature)
    return low < feature.at.v + half and feature.at.v - half < high


def _half_width(feature: Feature) -> float:
    shape = feature.shape
    if isinstance(shape, Hole):
        return shape.diameter / 2
    if isinstance(shape, Channel | CutOut):
        return (shape.width if isinstance(shape, Channel) else shape.height) / 2
    return 0.0


def _near(feature: Feature, bore: Bore, wall: float) -> bool:
    u, v = abs(feature.at.u - bore.at.u), abs(feature.at.v - bore.at.v)
    shape = feature.shape
    if isinstance(shape, Channel | CutOut):
        reach = bore.diameter / 2 + wall
        return u < shape.length / 2 + reach and v < _half_width(feature) + reach
    reach = _half_width(feature) + bore.diameter / 2 + wall
    return u * u + v * v < reach * reach
