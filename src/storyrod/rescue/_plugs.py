"""Plugs: how large one must be, and how near to it something new may be cut.

A new cut keeps clear of a plug's glue line, or lies wholly within the plug with the job's wall round it. Common
practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from storyrod.measure.space import PANEL_AXES, PanelAxis
from storyrod.measure.tolerance import TOUCH
from storyrod.model.feature import Feature, Hole, SegmentPocket, Slot
from storyrod.model.panel import Panel
from storyrod.model.removal import Bar, removed
from storyrod.model.rescue import Plug
from storyrod.rescue._limits import BESIDE_PLUG, PLUG_SIZES
from storyrod.rescue._reading import Lying, width_of


def can_be_plugged(feature: Feature) -> bool:
    """Return whether a cut can be filled: a plain hole, slot or pocket."""
    return isinstance(feature.shape, Hole | Slot | SegmentPocket)


def plug_for(number: int, lying: Lying, wall: float) -> Plug:
    """Return the smallest plug that fills a cut and takes every new cut beside it wholly in, or keeps clear of it."""
    old = lying.old[number]
    own = width_of(old) if not isinstance(old.shape, Hole) else max(old.shape.diameter, old.shape.countersink or 0.0)
    if not isinstance(old.shape, Hole):
        return Plug(piece=lying.piece.id, cut=number, size=own, is_strip=True)
    sizes = [own, *(s for s in PLUG_SIZES if s > own)]
    fitting = (s for s in sizes if not any(True for _ in _in_the_way(old, s, lying, wall)))
    return Plug(piece=lying.piece.id, cut=number, size=next(fitting, own))


def clashes(plug: Plug, lying: Lying, wall: float) -> Iterator[Feature]:
    """Yield the cuts of a panel that a plug is in the way of, the plug's own panel edges standing for none."""
    old = lying.old.get(plug.cut)
    if old is not None and plug.is_strip:
        yield from (f for f in lying.to_cut if near(old, f, BESIDE_PLUG))
    elif old is not None:
        yield from _in_the_way(old, plug.size, lying, wall)


def runs_out(plug: Plug, lying: Lying, wall: float) -> bool:
    """Return whether a plug that is larger than its hole comes too near to an edge."""
    old = lying.old.get(plug.cut)
    if old is None or plug.size <= width_of(old):
        return False
    return any(
        not plug.size / 2 + wall <= old.at.along(a) <= lying.panel.extent(a) - plug.size / 2 - wall
        for a in PANEL_AXES
        if a is not old.surface.axis
    )


def _in_the_way(old: Feature, size: float, lying: Lying, wall: float) -> Iterator[Feature]:
    """Yield what is cut, or to be cut, across the rim of a round plug of a size."""
    for one in lying.to_cut:
        if near(_as_plug(old, size), one, BESIDE_PLUG) and not _within(old, size, one, wall):
            yield one
    if size > width_of(old):
        others = (*(c for _, c in lying.there.values()), *(f for f in lying.old.values() if f is not old))
        yield from (c for c in others if near(_as_plug(old, size), c, wall))


def _as_plug(old: Feature, size: float) -> Feature:
    assert isinstance(old.shape, Hole)  # noqa: S101 - asked for holes only
    return replace(old, shape=Hole(diameter=size, depth=old.shape.depth, through=old.shape.through))


def _within(old: Feature, size: float, new: Feature, wall: float) -> bool:
    """Return whether a round cut lies wholly within a plug, the wall left round it."""
    if new.surface is not old.surface or not isinstance(new.shape, Hole):
        return False
    return bool(flat_apart(old, new) + new.shape.diameter / 2 + wall <= size / 2)


def near(one: Feature, other: Feature, room: float) -> bool:
    """Return whether two cuts come nearer than `room`, by the boxes round them; of two round ones by their axes too."""
    if isinstance(one.shape, Hole) and isinstance(other.shape, Hole):
        if one.surface.axis is other.surface.axis:
            if flat_apart(one, other) - (one.shape.diameter + other.shape.diameter) / 2 >= room:
                return False
        else:
            reach = one.shape.depth + other.shape.depth + one.shape.diameter + other.shape.diameter + room
            if max(abs(one.at.u - other.at.u), abs(one.at.v - other.at.v)) > reach:
                return False
    return any(a.meets(b, room) for a in bounds(one) for b in bounds(other))


def flat_apart(one: Feature, other: Feature) -> float:
    """Return how far the middles of two cuts are apart on the surface of the first."""
    a, b, axis = one.at, other.at, one.surface.axis
    if axis is PanelAxis.W:
        return math.hypot(a.u - b.u, a.v - b.v)
    return math.hypot(a.u - b.u, a.w - b.w) if axis is PanelAxis.V else math.hypot(a.v - b.v, a.w - b.w)


def in_the_way_of(old: Feature, one: Feature, lying: Lying, wall: float, skin: float) -> bool:
    """Return whether an open old hole is surely too near to another hole, as the proof measures it."""
    if not isinstance(old.shape, Hole) or not isinstance(one.shape, Hole) or old.surface.axis is not one.surface.axis:
        return False
    clear = flat_apart(old, one) - (old.shape.diameter + one.shape.diameter) / 2
    if old.surface is one.surface:
        return clear < (wall if one.joint else 0.0) - TOUCH
    thick = lying.piece.sizes[PANEL_AXES.index(old.surface.axis)]
    blind = not (old.shape.through or one.shape.through)
    return blind and clear < 0 and thick - old.shape.depth - one.shape.depth < skin - TOUCH


def bounds(feature: Feature) -> tuple[Bar, ...]:
    """Return the boxes round the parts of a cut."""
    return tuple(p.bounds for p in removed(feature))


def swallows(new: Feature, old: Feature) -> bool:
    """Return whether a new cut takes all of an old one away: a hole on one axis, as wide and as deep."""
    if not isinstance(new.shape, Hole) or not isinstance(old.shape, Hole) or new.surface is not old.surface:
        return False
    is_wider = flat_apart(old, new) + old.shape.diameter / 2 <= new.shape.diameter / 2 + 1e-6
    return bool(is_wider and new.shape.depth + new.shape.point >= old.shape.depth + old.shape.point - 1e-6)


def plugs_of(panel: Panel, plugs: Iterable[Plug], lying: Lying) -> tuple[Plug, ...]:
    """Return the plugs in the piece of a panel's place."""
    return tuple(p for p in plugs if p.piece == lying.piece.id and panel.id == lying.panel.id)
