"""The cuts of one joint, ready to be placed at any station: shape, surface, mate, and how far they reach."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from storyrod.joinery._fit import inset_of
from storyrod.joinery._slab import PANEL_AXIS, SURFACE_AT, Slab, Vec, way_of
from storyrod.measure.space import PanelPoint
from storyrod.model.detail import Joined
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Feature,
    FeatureId,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)
from storyrod.model.job import BackKind
from storyrod.model.joint import Joint, JointKind
from storyrod.model.method import Cut, CutKind, CutPlace, Method, SizeForBoard
from storyrod.model.panel import PanelId, Role, Surface
from storyrod.model.removal import Primitive, Slant, removed

Span = tuple[Vec, Vec]
_ORIGIN: Final = PanelPoint(0.0, 0.0, 0.0)


@dataclass(slots=True)
class Bore:
    """One cut of a joint in one of its panels.

    Attributes:
        base: where it lies for station 0, in the panel's frame.
        run, step: panel axis along which stations go, and +1 or -1.
        reach: its lowest and highest corner with respect to where it lies.
        tail: end of its id; `mate_tail` that of its mate, or "" where it has none.
    """

    slab: Slab
    surface: Surface
    base: Vec
    run: int
    step: int
    shape: Shape
    reach: Span
    tail: str
    mate: PanelId | None = None
    mate_tail: str = ""
    why: str = ""
    item: str = ""
    across: float = 0.0
    along: float = 0.0

    def at(self, station: float) -> Vec:
        """Return where it lies at a station."""
        u, v, w = self.base
        move = self.step * station
        if self.run == 0:
            return u + move, v, w
        if self.run == 1:
            return u, v + move, w
        return u, v, w + move


@dataclass(slots=True)
class JointCuts:
    """One joint with its cuts: those at every station, and those along the whole line.

    `near` where its two stations may stand as near as at a drawer's corner that is too low for two by its method.
    """

    joint: Joint
    method: Method
    size: SizeForBoard
    receiving: Slab
    entering: Slab
    bores: list[Bore]
    whole: list[Feature]
    stations: tuple[float, ...]
    near: bool = False


def joint_line(joined: Joined, joint: Joint, slabs: dict[PanelId, Slab], back: BackKind) -> JointCuts:
    """Return a joint with its cuts, as its method has them for the thinner of its boards."""
    return _Maker(joined.method(joint.method), joint, slabs, back).line()


class _Maker:
    """Works out the cuts of one joint."""

    def __init__(self, method: Method, joint: Joint, slabs: dict[PanelId, Slab], back: BackKind) -> None:
        self.method = method
        self.joint = joint
        self.receiving = slabs[joint.receiving]
        self.entering = slabs[joint.entering]
        self.on_shoulder = joint.kind is JointKind.BACK and back is BackKind.REBATED
        size = method.size_for(min(self.receiving.thickness, self.entering.thickness))
        if size is None:
            raise ValueError(f"{method.code} has no size for joint {joint.id}")
        self.size = size
        self.home, self.sign = way_of(joint.home)
        self.run, self.run_sign = way_of(joint.run)
        self.across = 3 - self.home - self.run
        low, high = joint.contact.low, joint.contact.high
        self.low: Vec = (low.x, low.y, low.z)
        self.high: Vec = (high.x, high.y, high.z)
        self.middle = (self.low[self.across] + self.high[self.across]) / 2

    def line(self) -> JointCuts:
        bores = self._bores() if self.joint.stations else []
        return JointCuts(
            joint=self.joint,
            method=self.method,
            size=self.size,
            receiving=self.receiving,
            entering=self.entering,
            bores=bores,
            whole=self._whole() if self.size.enters > 0 else [],
            stations=self.joint.stations,
        )

    def _bores(self) -> list[Bore]:
        receiving = [self._receiving_bore(c, _tail("r", i)) for i, c in enumerate(self.size.receiving)]
        entering = [self._entering_bore(c, _tail("e", i)) for i, c in enumerate(self.size.entering)]
        for cut, bore in zip(self.size.entering, entering, strict=True):
            if cut.place is CutPlace.JOINT:
                self._mate(bore, receiving)
        return receiving + entering

    def _mate(self, bore: Bore, others: list[Bore]) -> None:
        """Bind a cut to the first free one of the other panel on the same axis."""
        for other in others:
            if other.mate is None and (other.along, other.across) == (bore.along, bore.across):
                bore.mate, bore.mate_tail = other.slab.panel.id, other.tail
                other.mate, other.mate_tail = bore.slab.panel.id, bore.tail
                return

    def _receiving_bore(self, cut: Cut, tail: str) -> Bore:
        surface = self.joint.receiving_surface
        if cut.place is CutPlace.OUTSIDE:
            surface = surface.opposite
        at = self._case(cut, self.low[self.home])
        return self._bore(self.receiving, surface, _pressed(self.receiving, surface, at), cut, tail)

    def _entering_bore(self, cut: Cut, tail: str) -> Bore:
        slab, edge = self.entering, self.low[self.home] + self.sign * self.size.enters
        if cut.place is CutPlace.JOINT:
            surface = self.joint.entering_surface
            at = self._case(cut, edge)
            placed = slab.uvw(at) if self.on_shoulder else _pressed(slab, surface, at)
            return self._bore(slab, surface, placed, cut, tail)
        surface = _hidden(slab, cut.place)
        at = self._case(cut, edge - self.sign * inset_of(cut, self.entering.thickness))
        return self._bore(slab, surface, _pressed(slab, surface, at), cut, tail)

    def _case(self, cut: Cut, home: float) -> Vec:
        """Return the place of a cut at station 0 in the case frame."""
        at = [0.0, 0.0, 0.0]
        at[self.home] = home
        at[self.run] = self.joint.start + self.run_sign * cut.along
        at[self.across] = self.middle + self.entering.signs[2] * cut.across
        return at[0], at[1], at[2]

    def _bore(self, slab: Slab, surface: Surface, base: Vec, cut: Cut, tail: str) -> Bore:
        run = slab.axes.index(self.run)
        step = slab.signs[run] * self.run_sign
        shape = self._shape(cut, slab, run)
        return Bore(
            slab=slab,
            surface=surface,
            base=base,
            run=run,
            step=step,
            shape=shape,
            reach=reach_of(shape, surface),
            tail=tail,
            why=f"{self.method.name} of {self.entering.panel.name} in {self.receiving.panel.name}",
            item=cut.name or (self.size.consumes[0].item if self.size.consumes else ""),
            across=cut.across,
            along=cut.along,
        )

    def _shape(self, cut: Cut, slab: Slab, run: int) -> Shape:
        axis = PANEL_AXIS[run]
        depth = slab.thickness if cut.through or cut.depth is None else cut.depth
        match cut.kind:
            case CutKind.HOLE:
                return Hole(diameter=cut.diameter or 0.0, depth=depth, through=cut.through, countersink=cut.countersink)
            case CutKind.SLOT:
                return Slot(length=cut.length or 0.0, width=cut.width or 0.0, depth=depth, run=axis)
            case CutKind.SEGMENT_POCKET:
                return SegmentPocket(disc=cut.disc or 0.0, depth=depth, width=cut.width or 0.0, run=axis)
            case CutKind.UNDERCUT_SLOT:
                return UndercutSlot(
                    length=cut.length or 0.0,
                    width=cut.width or 0.0,
                    undercut_width=cut.undercut_width or 0.0,
                    lip=cut.lip or 0.0,
                    depth=depth,
                    run=axis,
                )
            case CutKind.KEYHOLE:
                return self._keyhole(cut, slab, run, depth)
            case CutKind.ANGLED_POCKET:
                return self._pocket(cut, slab)
        raise ValueError(f"{cut.kind.value} is no cut of a station")

    def _keyhole(self, cut: Cut, slab: Slab, run: int, depth: float) -> Keyhole:
        axis, sign = way_of(self.joint.lock or self.joint.run)
        if axis != self.run:
            raise ValueError(f"joint {self.joint.id} cannot lock across itself")
        return Keyhole(
            entry_diameter=cut.diameter or 0.0,
            slot_width=cut.width or 0.0,
            undercut_width=cut.undercut_width or 0.0,
            lip=cut.lip or 0.0,
            depth=depth,
            travel=cut.travel or 0.0,
            run=PANEL_AXIS[run],
            lock_sign=slab.signs[run] * sign,
        )

    def _pocket(self, cut: Cut, slab: Slab) -> AngledPocket:
        toward = slab.axes.index(self.home)
        return AngledPocket(
            diameter=cut.diameter or 0.0,
            pilot=cut.width or 0.0,
            angle_deg=cut.angle_deg or 0.0,
            length=cut.length or 0.0,
            run=PANEL_AXIS[toward],
            sign=slab.signs[toward] * self.sign,
        )

    def _whole(self) -> list[Feature]:
        """Return the housing or rebate in the receiving panel, and the notch in the one that enters a stopped one."""
        slab, surface = self.receiving, self.joint.receiving_surface
        low, high = list(self.low), list(self.high)
        short = min(self.size.stop_short, self.joint.length / 2)
        stops_low = self._stops_low()
        if short > 0:
            (low if stops_low else high)[self.run] += short if stops_low else -short
        self._slacken(low, high)
        run = slab.axes.index(self.run)
        at = _pressed(slab, surface, tuple((a + b) / 2 for a, b in zip(low, high, strict=True)))  # type: ignore[arg-type]
        length = high[self.run] - low[self.run]
        ends = (at[run] - length / 2 > 1e-6, at[run] + length / 2 < slab.size[run] - 1e-6)
        channel = Channel(
            kind="rebate" if self.joint.at_corner else "housing",
            length=length,
            width=high[self.across] - low[self.across],
            depth=self.size.enters,
            run=PANEL_AXIS[run],
            stopped=ends,
        )
        made = [self._feature(slab, surface, at, channel, "r")]
        if short > 0:
            made.append(self._notch(short, at_low=stops_low))
        return made

    def _stops_low(self) -> bool:
        """Return whether a stopped housing stops at the joint's low end: as assembly says, or where it shows."""
        if self.joint.lock is not None:
            return self.joint.lock.sign < 0
        at_start = self.joint.kind is not JointKind.DRAWER_BOX  # a drawer box shows its upper edge, a shelf its front
        return at_start == (self.run_sign > 0)

    def _slacken(self, low: list[float], high: list[float]) -> None:
        """Widen a housing by its slack; a rebate is as wide as the board that it takes."""
        m, slack = self.across, self.size.width_slack / 2
        if not self.joint.at_corner:
            low[m], high[m] = low[m] - slack, high[m] + slack

    def _notch(self, short: float, *, at_low: bool) -> Feature:
        """Return the corner taken off the entering panel, so that it covers the stopped end of its housing."""
        slab = self.entering
        case = [0.0, 0.0, 0.0]
        case[self.home] = self.low[self.home] + self.sign * self.size.enters
        case[self.run] = self.low[self.run] + short / 2 if at_low else self.high[self.run] - short / 2
        case[self.across] = self.middle
        edge = _pressed(slab, self.joint.entering_surface, (case[0], case[1], case[2]))
        at: Vec = (edge[0], edge[1], 0.0)
        shape = CutOut(
            outline="notch",
            length=short,
            height=self.size.enters,
            corner=0.0,
            depth=slab.thickness,
            run=PANEL_AXIS[slab.axes.index(self.run)],
        )
        return self._feature(slab, Surface.FACE, at, shape, "e")

    def _feature(self, slab: Slab, surface: Surface, at: Vec, shape: Shape, tail: str) -> Feature:
        return Feature(
            id=FeatureId(f"{slab.panel.id}:{self.joint.number}{tail}"),
            panel=slab.panel.id,
            surface=surface,
            at=PanelPoint(*at),
            shape=shape,
            joint=self.joint.id,
            why=f"{self.method.name} of {self.entering.panel.name} in {self.receiving.panel.name}",
        )


def _tail(letter: str, index: int) -> str:
    return letter if index == 0 else f"{letter}{index + 1}"


def _hidden(slab: Slab, place: CutPlace) -> Surface:
    """Return the face in which a cut on the entering panel's far face is made.

    The far face is the hidden one: the underside of what lies, the outside of a side, the rear of what stands
    across. A drawer's box front is the other way round: its face side is covered by the drawer's front.
    """
    far = place is CutPlace.FAR_FACE
    if slab.panel.role is Role.DRAWER_BOX_FRONT:
        far = not far
    return Surface.FAR_FACE if far else Surface.FACE


def _pressed(slab: Slab, surface: Surface, at: Vec) -> Vec:
    """Return a place of the case in the panel's frame, exactly on the surface."""
    placed = list(slab.uvw(at))
    axis, far = SURFACE_AT[surface]
    placed[axis] = slab.size[axis] if far else 0.0
    return placed[0], placed[1], placed[2]


@lru_cache(maxsize=4096)
def reach_of(shape: Shape, surface: Surface) -> Span:
    """Return the lowest and highest corner of a cut with respect to where it lies (no cut-out: those grow)."""
    return bounds_of(Feature(id=FeatureId(""), panel=PanelId(""), surface=surface, at=_ORIGIN, shape=shape))


def solids_of(feature: Feature) -> tuple[Primitive, ...]:
    """Return what a feature takes away; a pocket bored at a slope is drawn back until all of its mouth is open."""
    solids = removed(feature)
    if not isinstance(feature.shape, AngledPocket):
        return solids
    slope = math.radians(feature.shape.angle_deg)
    back = feature.shape.diameter / 2 / math.tan(slope)
    axis, far = SURFACE_AT[feature.surface]
    start = feature.at.moved(feature.shape.run, -feature.shape.sign * back * math.cos(slope))
    start = start.moved(PANEL_AXIS[axis], back * math.sin(slope) * (1 if far else -1))
    return tuple(replace(s, start=start) if isinstance(s, Slant) else s for s in solids)


def bounds_of(feature: Feature) -> Span:
    """Return the lowest and highest corner of what a feature takes away, in the panel's frame."""
    blocks = [p.bounds for p in solids_of(feature)]
    low = (min(b.low.u for b in blocks), min(b.low.v for b in blocks), min(b.low.w for b in blocks))
    high = (max(b.high.u for b in blocks), max(b.high.v for b in blocks), max(b.high.w for b in blocks))
    return low, high


def surface_number(surface: Surface) -> int:
    """Return a number for each surface; those of opposite surfaces differ in the last bit only."""
    axis, far = SURFACE_AT[surface]
    return 2 * axis + far
