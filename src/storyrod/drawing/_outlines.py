"""What each kind of cut looks like on the surface it is worked from."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

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
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.panel import Panel


@dataclass(frozen=True, slots=True)
class Outline:
    """One line of a cut, about its `at`: p along the way it runs, q across it, in mm.

    `below` says that it lies out of sight below the surface; `bulges` are as in `Path`, seen with p to the right and
    q up. A circle has a `radius` and one point.
    """

    points: tuple[Place, ...]
    bulges: tuple[float, ...] = ()
    closed: bool = True
    radius: float | None = None
    below: bool = False
    centre: bool = False


def run_of(feature: Feature) -> PanelAxis:
    """Return the panel axis that a cut runs along; for a round hole either axis of its surface."""
    run = getattr(feature.shape, "run", None)
    if isinstance(run, PanelAxis):
        return run
    return PanelAxis.V if feature.surface.axis is PanelAxis.U else PanelAxis.U


def outlines_of(feature: Feature, *, inward: int = 1) -> tuple[Outline, ...]:
    """Return the lines of a cut; `inward` is the sign of q into the panel, for a cut open at the edge."""
    shape = feature.shape
    draw: Callable[..., tuple[Outline, ...]] = _DRAWN[type(shape)]
    return draw(shape, inward) if isinstance(shape, CutOut) else draw(shape)


def reach_of(shape: Shape) -> float:
    """Return how far a cut's lines reach from its `at`, at the most, in mm."""
    reach = 0.0
    for line in _DRAWN[type(shape)](shape, 1) if isinstance(shape, CutOut) else _DRAWN[type(shape)](shape):
        reach = max(reach, *((abs(x) + (line.radius or 0.0)) for point in line.points for x in point))
    return reach


def _circle(radius: float, p: float = 0.0, *, below: bool = False) -> Outline:
    return Outline(((p, 0.0),), radius=radius, below=below)


def _rectangle(length: float, width: float, *, below: bool = False) -> Outline:
    a, b = length / 2, width / 2
    return Outline(((-a, -b), (a, -b), (a, b), (-a, b)), below=below)


def _round_ended(length: float, width: float, middle: float = 0.0, *, below: bool = False) -> Outline:
    a, b = max(0.0, length - width) / 2, width / 2
    if a < 1e-9:
        return _circle(b, middle, below=below)
    points = ((middle - a, -b), (middle + a, -b), (middle + a, b), (middle - a, b))
    return Outline(points, (0.0, 1.0, 0.0, 1.0), below=below)


def _hole(hole: Hole) -> tuple[Outline, ...]:
    sunk = (_circle(hole.countersink / 2),) if hole.countersink else ()
    return (_circle(hole.diameter / 2), *sunk)


def _slot(slot: Slot) -> tuple[Outline, ...]:
    return (_round_ended(slot.length, slot.width),)


def _keyhole(key: Keyhole) -> tuple[Outline, ...]:
    """The entry's circle and the neck run into it as one line; the undercut below is out of sight."""
    r, b = key.entry_diameter / 2, min(key.slot_width, key.entry_diameter) / 2
    entry = -key.lock_sign * key.travel
    way = key.lock_sign
    reach = math.sqrt(max(0.0, r * r - b * b))  # from the entry's centre to where the neck meets its circle
    meet = entry + way * reach
    half = math.asin(b / r)
    round_entry = math.tan((2 * math.pi - 2 * half) / 4)
    points = ((meet, -b * way), (0.0, -b * way), (0.0, b * way), (meet, b * way))
    mouth = Outline(points, (0.0, 1.0, 0.0, round_entry))
    under = _round_ended(key.travel + key.undercut_width, key.undercut_width, entry / 2, below=True)
    return mouth, under


def _segment(pocket: SegmentPocket) -> tuple[Outline, ...]:
    reach = pocket.chord / 2 + 2.0
    return _rectangle(pocket.chord, pocket.width), Outline(((-reach, 0.0), (reach, 0.0)), closed=False, centre=True)


def _undercut(slot: UndercutSlot) -> tuple[Outline, ...]:
    under = _round_ended(slot.length, slot.undercut_width, below=True)
    return _round_ended(slot.length, slot.width), under


def _channel(channel: Channel) -> tuple[Outline, ...]:
    return (_rectangle(channel.length, channel.width),)


def _cut_out(cut: CutOut, inward: int) -> tuple[Outline, ...]:
    a, h = cut.length / 2, cut.height * inward
    r = min(cut.corner, a, cut.height)
    if cut.outline == "round":
        return (_circle(a),)
    if cut.outline == "slot":
        return (_round_ended(cut.length, cut.height),)
    if cut.outline == "notch" or r <= 0:
        return (Outline(((-a, 0.0), (a, 0.0), (a, h), (-a, h))),)
    turn = (math.sqrt(2) - 1) * inward  # a quarter circle, turning left where the panel lies above the edge
    rise = h - r * inward
    points = ((-a, 0.0), (a, 0.0), (a, rise), (a - r, h), (-a + r, h), (-a, rise))
    return (Outline(points, (0.0, 0.0, turn, 0.0, turn, 0.0)),)


def _angled(pocket: AngledPocket) -> tuple[Outline, ...]:
    """Where a sloping bore breaks the face it is as long as its slope makes it; its axis runs on to the edge."""
    slope = math.radians(pocket.angle_deg)
    long = pocket.diameter / math.sin(slope)
    tip = pocket.sign * pocket.length * math.cos(slope)
    axis = Outline(((-pocket.sign * long / 2, 0.0), (tip + pocket.sign * 10.0, 0.0)), closed=False, centre=True)
    return _round_ended(long, pocket.diameter), axis


_DRAWN: dict[type[Shape], Callable[..., tuple[Outline, ...]]] = {
    Hole: _hole,
    Slot: _slot,
    Keyhole: _keyhole,
    SegmentPocket: _segment,
    UndercutSlot: _undercut,
    Channel: _channel,
    CutOut: _cut_out,
    AngledPocket: _angled,
}


def around_of(feature: Feature, panel: Panel) -> tuple[tuple[PanelPoint, ...], ...]:
    """Return the closed lines of a cut that show on its surface as chains of points, arcs in steps of 15 degrees."""
    run = run_of(feature)
    across = next(a for a in PANEL_AXES if a not in {feature.surface.axis, run})
    inward = 1 if feature.at.along(across) < panel.extent(across) / 2 else -1
    return tuple(
        tuple(feature.at.moved(run, p).moved(across, q) for p, q in _stepped(line))
        for line in outlines_of(feature, inward=inward)
        if line.closed and not line.below
    )


def _stepped(line: Outline) -> Iterator[Place]:
    if line.radius is not None:
        for n in range(24):
            angle = math.pi * n / 12
            yield line.points[0][0] + line.radius * math.cos(angle), line.radius * math.sin(angle)
        return
    bulges = line.bulges or (0.0,) * len(line.points)
    for a, b, bulge in zip(line.points, (*line.points[1:], line.points[0]), bulges, strict=True):
        yield a
        if bulge:
            yield from _on_arc(a, b, bulge)


def _on_arc(a: Place, b: Place, bulge: float) -> Iterator[Place]:
    """Places between `a` and `b` on the arc between them."""
    turn = 4 * math.atan(bulge)
    # The centre lies to the left of the middle of the chord for an arc that turns left by less than half a circle.
    mx, my, dx, dy = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2, b[0] - a[0], b[1] - a[1]
    off = (1 - bulge * bulge) / (4 * bulge)
    cx, cy = mx - dy * off, my + dx * off
    steps = max(2, round(abs(turn) / math.radians(15)))
    for n in range(1, steps):
        angle = turn * n / steps
        x, y = a[0] - cx, a[1] - cy
        yield cx + x * math.cos(angle) - y * math.sin(angle), cy + x * math.sin(angle) + y * math.cos(angle)
