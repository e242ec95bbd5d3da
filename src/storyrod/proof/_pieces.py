"""A cut as convex pieces of wood taken away, worked out here afresh from the cut's own figures.

This is the proof's own reading of every shape. Nothing of it is shared with what placed the cuts, nor with the
solids of the modeller, so that a slip in one of them shows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from storyrod.measure.space import PANEL_AXES, Box, PanelAxis, PanelPoint
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
from storyrod.proof._shapes import Bounds, Cone, Pair, Piece, Prism, Segment, SlopedBore, Vec

INDEX: Final = {axis: i for i, axis in enumerate(PANEL_AXES)}


@dataclass(frozen=True, slots=True)
class CutPieces:
    """One feature with its pieces and the box round them all, in its panel's frame."""

    feature: Feature
    pieces: tuple[Piece, ...]
    bounds: Bounds


def cut_pieces(feature: Feature) -> CutPieces:
    """Return the convex pieces that a feature takes away; a drill's point counts as far as the hole tells it."""
    pieces = _Reading(feature).pieces()
    low = tuple(min(p.bounds.low[i] for p in pieces) for i in (0, 1, 2))
    high = tuple(max(p.bounds.high[i] for p in pieces) for i in (0, 1, 2))
    return CutPieces(feature, pieces, Bounds((low[0], low[1], low[2]), (high[0], high[1], high[2])))


def room_of(cut: CutPieces, panel: Panel) -> Box:
    """Return the box round a cut in the case frame."""
    frame = panel.frame
    low = high = frame.origin
    for n, way in enumerate((frame.u, frame.v, frame.into)):
        start = frame.origin.along(way.axis)
        ends = sorted(start + way.sign * bounds[n] for bounds in (cut.bounds.low, cut.bounds.high))
        low, high = low.with_(way.axis, ends[0]), high.with_(way.axis, ends[1])
    return Box(low, high)


def vector(at: PanelPoint) -> Vec:
    """Return a panel point as three numbers."""
    return at.u, at.v, at.w


def extents(panel: Panel) -> Vec:
    """Return a panel's length, width and thickness, read from its box."""
    return panel.length, panel.width, panel.thickness


class _Reading:
    """One feature being read: the axis it goes down, the sense of depth, and where it starts."""

    def __init__(self, feature: Feature) -> None:
        self.feature = feature
        self.at = vector(feature.at)
        self.axis = INDEX[feature.surface.axis]
        self.sense = -1 if feature.surface.is_far else 1

    def pieces(self) -> tuple[Piece, ...]:
        """Return the pieces of the feature's shape."""
        match self.feature.shape:
            case Hole() as shape:
                return self._hole(shape)
            case Slot() as shape:
                return (self._run(shape.run, shape.length, shape.width, 0.0, shape.depth),)
            case Keyhole() as shape:
                return self._keyhole(shape)
            case SegmentPocket() as shape:
                return (self._segment(shape),)
            case UndercutSlot() as shape:
                # One pass of one cutter: its wide part overhangs its narrow part as much at the ends as at the sides.
                under = shape.length + shape.undercut_width - shape.width
                return (
                    self._run(shape.run, shape.length, shape.width, 0.0, shape.lip),
                    self._run(shape.run, under, shape.undercut_width, shape.lip, shape.depth),
                )
            case Channel() as shape:
                return (self._block(shape.run, shape.length, shape.width, 0.0, shape.depth),)
            case CutOut() as shape:
                return self._cut_out(shape)
            case AngledPocket() as shape:
                return (self._pocket(shape),)

    def _hole(self, shape: Hole) -> tuple[Piece, ...]:
        radius = shape.diameter / 2
        pieces: list[Piece] = [self._prism(self._flat(self.at), self._flat(self.at), radius, 0.0, shape.depth)]
        if shape.countersink is not None:
            # A countersink of 90 degrees goes as deep as its radius shrinks.
            pieces.append(self._cone(shape.countersink / 2, radius, 0.0, shape.countersink / 2 - radius))
        if shape.point > 0 and not shape.through:
            pieces.append(self._cone(radius, 0.0, shape.depth, shape.depth + shape.point))
        return tuple(pieces)

    def _keyhole(self, shape: Keyhole) -> tuple[Piece, ...]:
        entry = list(self.at)
        entry[INDEX[shape.run]] -= shape.lock_sign * shape.travel
        start: Vec = (entry[0], entry[1], entry[2])
        ends = self._flat(start), self._flat(self.at)
        low = (min(ends[0][0], ends[1][0]), min(ends[0][1], ends[1][1]))
        high = (max(ends[0][0], ends[1][0]), max(ends[0][1], ends[1][1]))
        return (
            self._prism(ends[0], ends[0], shape.entry_diameter / 2, 0.0, shape.depth),
            self._prism(low, high, shape.slot_width / 2, 0.0, shape.lip),
            self._prism(low, high, shape.undercut_width / 2, shape.lip, shape.depth),
        )

    def _segment(self, shape: SegmentPocket) -> Segment:
        run = INDEX[shape.run]
        cross = 3 - run - self.axis
        return Segment(
            axis=self.axis,
            run=run,
            cross=cross,
            chord_at=self.at[self.axis],
            inward=self.sense,
            middle=self.at[run],
            across=self.at[cross],
            width=shape.width,
            radius=shape.disc / 2,
            depth=shape.depth,
        )

    def _cut_out(self, shape: CutOut) -> tuple[Piece, ...]:
        if shape.outline == "round":
            return (self._prism(self._flat(self.at), self._flat(self.at), shape.length / 2, 0.0, shape.depth),)
        if shape.outline == "slot":
            return (self._run(shape.run, shape.length, shape.height, 0.0, shape.depth),)
        return self._open_cut(shape)

    def _open_cut(self, shape: CutOut) -> tuple[Piece, ...]:
        """Return a cut open at the edge that `at` lies on: to its corners' centres square, beyond them rounded."""
        run = INDEX[shape.run]
        across = 3 - run - self.axis
        edge = self.at[across]
        away = 1.0 if edge <= 0 else -1.0
        corner = shape.corner if shape.outline == "scoop" else 0.0
        pieces = [self._rounded(run, shape.length / 2, 0.0, edge, edge + away * (shape.height - corner), shape)]
        if corner > 0:
            # The rounded bottom: a core line from corner centre to corner centre, widened by the radius.
            centre = edge + away * (shape.height - corner)
            pieces.append(self._rounded(run, shape.length / 2 - corner, corner, centre, centre, shape))
        return tuple(pieces)

    def _rounded(self, run: int, half: float, radius: float, start: float, end: float, shape: CutOut) -> Prism:
        low, high = list(self.at), list(self.at)
        low[run], high[run] = self.at[run] - half, self.at[run] + half
        across = 3 - run - self.axis
        low[across], high[across] = min(start, end), max(start, end)
        core = self._flat((low[0], low[1], low[2])), self._flat((high[0], high[1], high[2]))
        return self._prism(core[0], core[1], radius, 0.0, shape.depth)

    def _pocket(self, shape: AngledPocket) -> SlopedBore:
        """Return the sloped bore, drawn back beyond the face until all of its mouth is open."""
        slope = math.radians(shape.angle_deg)
        along = [0.0, 0.0, 0.0]
        along[INDEX[shape.run]] = shape.sign * math.cos(slope)
        along[self.axis] = self.sense * math.sin(slope)
        back = shape.diameter / 2 / math.tan(slope)
        start = tuple(a - back * d for a, d in zip(self.at, along, strict=True))
        end = tuple(a + shape.length * d for a, d in zip(self.at, along, strict=True))
        return SlopedBore((start[0], start[1], start[2]), (end[0], end[1], end[2]), shape.diameter / 2)

    def _run(self, run: PanelAxis, length: float, width: float, top: float, bottom: float) -> Prism:
        """Return a round-ended slot, `length` overall."""
        low, high = list(self.at), list(self.at)
        half = max(0.0, length - width) / 2
        low[INDEX[run]] -= half
        high[INDEX[run]] += half
        core = self._flat((low[0], low[1], low[2])), self._flat((high[0], high[1], high[2]))
        return self._prism(core[0], core[1], width / 2, top, bottom)

    def _block(self, run: PanelAxis, length: float, width: float, top: float, bottom: float) -> Prism:
        low, high = list(self.at), list(self.at)
        across = 3 - INDEX[run] - self.axis
        for i, half in ((INDEX[run], length / 2), (across, width / 2)):
            low[i] -= half
            high[i] += half
        core = self._flat((low[0], low[1], low[2])), self._flat((high[0], high[1], high[2]))
        return self._prism(core[0], core[1], 0.0, top, bottom)

    def _prism(self, low: Pair, high: Pair, radius: float, top: float, bottom: float) -> Prism:
        a, b = (self.at[self.axis] + self.sense * d for d in (top, bottom))
        return Prism(self.axis, min(a, b), max(a, b), low, high, radius)

    def _cone(self, radius_top: float, radius_bottom: float, top: float, bottom: float) -> Cone:
        a, b = (self.at[self.axis] + self.sense * d for d in (top, bottom))
        centre = self._flat(self.at)
        if a <= b:
            return Cone(self.axis, a, b, centre, radius_top, radius_bottom)
        return Cone(self.axis, b, a, centre, radius_bottom, radius_top)

    def _flat(self, point: Vec) -> Pair:
        rest = [x for i, x in enumerate(point) if i != self.axis]
        return rest[0], rest[1]
