"""Which cuts of one panel come too close to each other.

Cuts keep `wall` of board between them, and `skin` where both are blind and come from opposite surfaces. Met
on purpose, and no clash: the cuts of one joint; a channel and a cut made for the very panel that the channel takes
in; two channels that cross, or that take in two panels joined to each other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from storyrod.joinery._bores import Bore, JointCuts, Span, bounds_of, reach_of, solids_of, surface_number
from storyrod.joinery._distance import Solid, are_closer
from storyrod.joinery._slab import Slab, Vec
from storyrod.measure.space import PanelPoint
from storyrod.model.feature import Channel, CutOut, Feature, FeatureId, Hole, Shape
from storyrod.model.job import Limits
from storyrod.model.panel import PanelId

FITTING = -1
"""The owner of a cut that no joint asks for."""

WHOLE = -1
"""The station of a cut along a whole joint."""


class Spot:
    """One cut in its place on one panel, with the box round it.

    `owner` is the number of its joint or `FITTING`; `station` counts from 0, or is `WHOLE`.
    """

    __slots__ = ("_solids", "at", "cut", "high", "is_through", "low", "number", "owner", "station")

    def __init__(self, cut: Bore | Feature, at: Vec, reach: Span, owner: int, station: int) -> None:
        self.cut = cut
        self.at = at
        (u0, v0, w0), (u1, v1, w1) = reach
        u, v, w = at
        self.low: Vec = (u + u0, v + v0, w + w0)
        self.high: Vec = (u + u1, v + v1, w + w1)
        self.owner = owner
        self.station = station
        self.number = surface_number(cut.surface)
        self.is_through = _goes_through(cut.shape)
        self._solids: tuple[Solid, ...] | None = None

    @property
    def key(self) -> tuple[Vec, int, int, int]:
        """Its place among the cuts of its panel, whatever the order in which they came."""
        return self.low, self.number, self.owner, self.station

    def solids(self) -> tuple[Solid, ...]:
        """Return what it takes away."""
        if self._solids is None:
            self._solids = tuple(Solid(p) for p in solids_of(self._feature()))
        return self._solids

    def _feature(self) -> Feature:
        cut = self.cut
        if isinstance(cut, Feature):
            return cut
        at = PanelPoint(*self.at)
        return Feature(id=FeatureId(""), panel=cut.slab.panel.id, surface=cut.surface, at=at, shape=cut.shape)


def _goes_through(shape: Shape) -> bool:
    return isinstance(shape, CutOut) or (isinstance(shape, Hole) and shape.through)


@dataclass(frozen=True, slots=True)
class Clash:
    """Two cuts that come too close in one panel; `room` is what should be between them."""

    panel: PanelId
    one: Spot
    other: Spot
    room: float


def spot_of(bore: Bore, station: float, owner: int, index: int) -> Spot:
    """Return a cut of a joint at one of its stations."""
    return Spot(bore, bore.at(station), bore.reach, owner, index)


def fixed_spot(feature: Feature, owner: int) -> Spot:
    """Return a cut that stays where it is."""
    at = (feature.at.u, feature.at.v, feature.at.w)
    if isinstance(feature.shape, CutOut):
        low, high = bounds_of(feature)
        reach = (_less(low, at), _less(high, at))
    else:
        reach = reach_of(feature.shape, feature.surface)
    return Spot(feature, at, reach, owner, WHOLE)


def _less(a: Vec, b: Vec) -> Vec:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


class Panels:
    """All cuts of a case by panel, and the rules of what may come close."""

    def __init__(
        self, slabs: dict[PanelId, Slab], joints: Sequence[JointCuts], fittings: Iterable[Feature], limits: Limits
    ) -> None:
        self.slabs = slabs
        self.joints = joints
        self.limits = limits
        self.fixed: dict[PanelId, list[Spot]] = {}
        self.joined = {frozenset((j.joint.receiving, j.joint.entering)) for j in joints}
        for feature in fittings:
            self.fixed.setdefault(feature.panel, []).append(fixed_spot(feature, FITTING))
        for owner, joint in enumerate(joints):
            for feature in joint.whole:
                self.fixed.setdefault(feature.panel, []).append(fixed_spot(feature, owner))

    def spots(self) -> dict[PanelId, list[Spot]]:
        """Return every cut by panel, the stations where they now stand."""
        found = self.stationed()
        return {panel: [*self.fixed.get(panel, ()), *found.get(panel, ())] for panel in self.fixed | found}

    def stationed(self) -> dict[PanelId, list[Spot]]:
        """Return the cuts at stations, where they now stand, by panel."""
        found: dict[PanelId, list[Spot]] = {}
        for owner, joint in enumerate(self.joints):
            for bore in joint.bores:
                here = found.setdefault(bore.slab.panel.id, [])
                here.extend([Spot(bore, bore.at(s), bore.reach, owner, i) for i, s in enumerate(joint.stations)])
        return found

    def clashes(self) -> list[Clash]:
        """Return every pair of cuts that come too close, in an order of their own."""
        found = [clash for panel, spots in self.spots().items() for clash in self._on_panel(panel, spots)]
        if len(found) > 1:
            found.sort(key=lambda c: (self.slabs[c.panel].key, c.one.key, c.other.key))
        return found

    def _on_panel(self, panel: PanelId, spots: list[Spot]) -> Iterator[Clash]:
        """Sweep along the panel: a cut is compared only with those that begin before it ends."""
        widest = max(self.limits.wall, self.limits.skin)
        spots.sort(key=lambda s: s.low)
        for n, one in enumerate(spots):
            owner, end = one.owner, one.high[0] + widest
            v0, v1 = one.low[1] - widest, one.high[1] + widest
            for m in range(n + 1, len(spots)):
                other = spots[m]
                low = other.low
                if low[0] >= end:
                    break
                if other.owner == owner or low[1] >= v1 or other.high[1] <= v0:
                    continue
                room = self.room(one, other)
                if room is not None:
                    first, second = (one, other) if one.key <= other.key else (other, one)
                    yield Clash(panel, first, second, room)

    def room(self, one: Spot, other: Spot) -> float | None:
        """Return the room that should be between two cuts, or None where it is there."""
        room = self.wanted_room(one, other)
        edge = room - 1e-6
        a0, a1, b0, b1 = one.low, one.high, other.low, other.high
        for i in (0, 1, 2):
            if b0[i] - a1[i] >= edge or a0[i] - b1[i] >= edge:
                return None
        if self.on_purpose(one, other):
            return None
        return room if are_closer(one.solids(), other.solids(), room) else None

    def wanted_room(self, one: Spot, other: Spot) -> float:
        """Return how much board should be left between two cuts."""
        opposite = one.number ^ other.number == 1 and not (one.is_through or other.is_through)
        return self.limits.skin if opposite else self.limits.wall

    def on_purpose(self, one: Spot, other: Spot) -> bool:
        """Return whether two cuts meet because they are meant to."""
        return self._channel_for(one, other) or self._channel_for(other, one)

    def _channel_for(self, one: Spot, other: Spot) -> bool:
        channel = one.cut.shape
        if not isinstance(channel, Channel):
            return False
        if isinstance(other.cut.shape, Channel):
            crossing = one.number != other.number or channel.run is not other.cut.shape.run
            return crossing or self._are_joined(one, other)
        return self._is_for_panel_taken_in(one, other)

    def _is_for_panel_taken_in(self, channel: Spot, cut: Spot) -> bool:
        """Return whether a cut belongs to a joint with the panel that stands in this channel."""
        if cut.owner == FITTING:
            return False
        joint = self.joints[cut.owner].joint
        here = cut.cut.slab if isinstance(cut.cut, Bore) else self.slabs[cut.cut.panel]
        mate = self.slabs[joint.entering if joint.receiving == here.panel.id else joint.receiving]
        corners = here.uvw(mate.low), here.uvw(mate.high)
        return all(
            min(max(corners[0][i], corners[1][i]), channel.high[i])
            - max(min(corners[0][i], corners[1][i]), channel.low[i])
            > 1e-4
            for i in (0, 1, 2)
        )

    def _are_joined(self, one: Spot, other: Spot) -> bool:
        """Return whether two channels take in two panels that are joined to each other."""
        if FITTING in {one.owner, other.owner}:
            return False
        a, b = self.joints[one.owner].joint, self.joints[other.owner].joint
        return frozenset((a.entering, b.entering)) in self.joined
