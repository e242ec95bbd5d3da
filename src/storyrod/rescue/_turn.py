"""A piece turned about in a place: where its cuts then are.

A piece can be turned end for end, and over its length or its width. Between two twins, whose frames are mirrored, it
goes over with one of its directions turned about, or with all three.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from storyrod.measure.space import PANEL_AXES, PanelAxis, PanelPoint
from storyrod.model.feature import AngledPocket, Channel, Feature, Keyhole, Shape
from storyrod.model.panel import Panel, Surface
from storyrod.model.rescue import Damage, Piece, Signs

_NTH = {axis: n for n, axis in enumerate(PANEL_AXES)}


def ways_to_lie(piece: Piece, panel: Panel) -> tuple[Signs, ...]:
    """Return the four ways in which a piece can be put into a panel's place."""
    handed = 1 if piece.is_mirrored == panel.frame.is_mirrored else -1
    return tuple((u, v, w) for u, v, w in product((1, -1), repeat=3) if u * v * w == handed)


def as_it_lies(piece: Piece, panel: Panel) -> Signs:
    """Return the way that turns a piece the least: as it was marked, where that can be."""
    return max(ways_to_lie(piece, panel), key=lambda s: (sum(s), s))


def turned(feature: Feature, piece: Piece, signs: Signs, panel: Panel) -> Feature:
    """Return a cut of a piece in the frame of the panel in whose place it lies."""
    return replace(
        feature,
        panel=panel.id,
        surface=turned_surface(feature.surface, signs),
        at=_turned_at(feature.at, piece, signs),
        shape=_turned_shape(feature.shape, signs),
    )


def turned_surface(surface: Surface, signs: Signs) -> Surface:
    """Return which surface of the place a surface of the piece is."""
    return surface if signs[_NTH[surface.axis]] > 0 else surface.opposite


def turned_damage(damage: Damage, piece: Piece, signs: Signs) -> Damage:
    """Return a damaged place in the frame of the place that the piece lies in."""
    return replace(damage, surface=turned_surface(damage.surface, signs), at=_turned_at(damage.at, piece, signs))


def _turned_at(at: PanelPoint, piece: Piece, signs: Signs) -> PanelPoint:
    u, v, w = (
        x if sign > 0 else size - x for x, sign, size in zip((at.u, at.v, at.w), signs, piece.sizes, strict=True)
    )
    return PanelPoint(u, v, w)


def _turned_shape(shape: Shape, signs: Signs) -> Shape:
    run: PanelAxis | None = getattr(shape, "run", None)
    if run is None or signs[_NTH[run]] > 0:
        return shape
    if isinstance(shape, Keyhole):
        return replace(shape, lock_sign=-shape.lock_sign)
    if isinstance(shape, AngledPocket):
        return replace(shape, sign=-shape.sign)
    if isinstance(shape, Channel):
        return replace(shape, stopped=(shape.stopped[1], shape.stopped[0]))
    return shape


def words_of(signs: Signs) -> str:
    """Return in words how a piece is turned: about its three directions."""
    return {
        (1, 1, 1): "as it is marked",
        (-1, -1, 1): "turned end for end, the same face up",
        (1, -1, -1): "turned over its length: far face for face side, far edge to the front",
        (-1, 1, -1): "turned over end for end: far face for face side, far end for datum end",
        (1, 1, -1): "with its far face for its face side",
        (1, -1, 1): "with its far edge to the front",
        (-1, 1, 1): "with its far end for its datum end",
        (-1, -1, -1): "turned about in all three directions",
    }[signs]


def surfaces_turned(surfaces: tuple[Surface, ...], signs: Signs) -> frozenset[Surface]:
    """Return surfaces of a piece as surfaces of its place."""
    return frozenset(turned_surface(s, signs) for s in surfaces)
