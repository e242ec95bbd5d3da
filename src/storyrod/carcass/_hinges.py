"""Hinges: cups and their screws in the door's back, plates on the upright, moved until they meet nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from storyrod.carcass._bores import Bore, in_the_way, meets
from storyrod.carcass._fixings import LEAST_HOLD_FRONT, Draft, Driven
from storyrod.carcass._inside import Bay
from storyrod.carcass._making import Making
from storyrod.faults import WayOut
from storyrod.measure.space import Axis, Point
from storyrod.measure.tolerance import EXACT
from storyrod.model.feature import Feature, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.opening import HingeSide
from storyrod.model.panel import Panel, Role, Surface
from storyrod.model.workshop import Hinge
from storyrod.trade.hinges import Reach, hinges_by_weight

SHIFTS = (0.0, 16.0, 8.0, 24.0, 32.0, 40.0, 48.0)
"""How far all hinges are moved toward the door's middle (mm) until their plates meet nothing."""

STEP = 8.0
"""Where that does not do, each hinge is moved by itself in steps of this (mm), the least way there is."""

LEAST_PLATE = 8.0
"""Plate holes less deep than this (mm) hold too little; common practice, no source."""

PLATE_CLEAR = 12.0
"""A hinge plate reaches this far beyond its outer screws (mm); common practice, no source."""

CUP_SCREW_DEPTH = 10.0
"""Pilot holes of cup screws (mm), less in a thin door; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """A door, the side it hangs on, the upright that carries it, and the plates' screw line (y)."""

    bay: Bay
    panel: Panel
    hinged: str
    upright: Panel
    hinge: Hinge
    y: float
    skin: float
    reach: Reach | None = None

    @property
    def plate_depth(self) -> float:
        """Depth of the plate's holes: as its sheet says, or less where the upright is too thin for that."""
        return min(self.hinge.plate_depth, self.upright.thickness - self.skin)

    @property
    def surface(self) -> Surface:
        """The upright's surface that carries the plates."""
        return self.upright.surface_toward("+x" if self.hinged == "left" else "-x")

    def screws(self, level: float) -> tuple[float, float]:
        """Return the heights of a plate's two screws."""
        half = self.hinge.plate_pitch / 2
        return level - half, level + half


def hinges_for(hinge: Hinge, height: float, kg: float = 0.0) -> int:
    """Return how many hinges a door of this height (mm) and weight (kg) hangs on, two at the least."""
    by_height = sorted(hinge.per_door, key=lambda s: s.up_to)
    by_steps = next((s.hinges for s in by_height if height <= s.up_to + EXACT), 0)
    return max(2, by_steps, hinges_by_weight(hinge, kg))


def bore_hinges(making: Making, hanging: Hanging, count: int) -> None:
    """Bore the door and the upright for the hinges, or note why they cannot stand anywhere."""
    upright = hanging.upright
    if hanging.plate_depth < min(LEAST_PLATE, hanging.hinge.plate_depth) - EXACT:
        making.fault(
            "hinge-plate",
            making.path("board"),
            found=f"{upright.name} of {making.mm(upright.thickness)} for the plates of {hanging.panel.name}",
            allowed=f"at least {making.least(LEAST_PLATE + making.job.limits.skin)}",
            do="Choose a thicker board.",
            ways=making.boards_of(LEAST_PLATE + making.job.limits.skin),
        )
        return
    taken = _Taken.of(making, hanging)
    levels = next((n for n in _tries(hanging, count) if taken.is_clear(n)), None) or taken.one_by_one(count)
    if levels is None:
        making.fault(
            "hinge-clash",
            hanging.bay.node.field,
            found=f"hinges of {hanging.panel.name} that hit a shelf, a runner or other hinges on {upright.name} "
            f"wherever they go",
            allowed="room for each hinge plate",
            do="Hang the door on its other side, move the shelves, or choose a thicker divider.",
            ways=tuple(WayOut(field=f"{hanging.bay.node.field}.hinged", value=side.value) for side in HingeSide),
        )
        return
    cups: list[Feature] = []
    plates: list[Feature] = []
    for i, z in enumerate(levels, start=1):
        cups += _bore_cup(making, hanging, i, z)
        plates += _bore_plate(making, hanging, i, z)
    _note(making, hanging, tuple(cups), tuple(plates), count)


def _tries(hanging: Hanging, count: int) -> Iterator[tuple[float, ...]]:
    """Yield heights of the hinges, from those wanted to those moved furthest toward the middle."""
    low, height = hanging.panel.box.low.z, hanging.panel.width
    for shift in SHIFTS:
        end = _from_end(hanging) + shift
        step = (height - 2 * end) / (count - 1)
        yield tuple(low + end + i * step for i in range(count))


def _from_end(hanging: Hanging) -> float:
    """Return how far the outer hinges stand from the door's ends: as their sheet says, or a quarter of a low door."""
    hinge, height = hanging.hinge, hanging.panel.width
    usual = height >= 2 * hinge.from_end + 2 * hinge.plate_pitch + hinge.cup_screws
    return hinge.from_end if usual else height / 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Taken:
    """What plates on the upright must keep clear of: the opening's ends, shelves, and cuts already there."""

    making: Making
    hanging: Hanging
    span: tuple[float, float]
    shelves: tuple[tuple[float, float], ...]
    near: tuple[Feature, ...]

    @classmethod
    def of(cls, making: Making, hanging: Hanging) -> _Taken:
        """Return what is taken beside the door."""
        v, half = hanging.y - hanging.upright.box.low.y, hanging.hinge.plate_screw
        return cls(
            making=making,
            hanging=hanging,
            span=hanging.bay.box.span(Axis.Z),
            shelves=_shelves(making, hanging),
            near=in_the_way(making, hanging.upright, v - half, v + half),
        )

    @property
    def reach(self) -> float:
        """How far a plate goes up and down from its middle."""
        return self.hanging.hinge.plate_pitch / 2 + PLATE_CLEAR

    def is_clear(self, levels: tuple[float, ...]) -> bool:
        """Return whether all hinges can stand at these heights, from the lowest up."""
        apart = all(b - a >= 2 * self.reach for a, b in pairwise(levels))
        return apart and all(self._is_free(z) for z in levels)

    def one_by_one(self, count: int) -> tuple[float, ...] | None:
        """Return heights near to those wanted, each hinge moved by itself; None where there is no room."""
        wanted = next(_tries(self.hanging, count))
        placed: list[float] = []
        most = int((wanted[1] - wanted[0]) / 2 / STEP)
        for i, z in enumerate(wanted):
            inward = -1 if 2 * i >= count else 1
            tries = (z + way * n * STEP for n in range(most + 1) for way in (inward, -inward))
            inside = (t for t in tries if i not in {0, count - 1} or (t - z) * inward >= 0)
            free = next((t for t in inside if self._is_free(t)), None)
            if free is None:
                return None
            placed.append(free)
        return tuple(placed) if self.is_clear(tuple(placed)) else None

    def _is_free(self, z: float) -> bool:
        low, high = self.span
        if z - self.reach < low or z + self.reach > high:
            return False
        if any(z + self.reach > s and z - self.reach < e for s, e in self.shelves):
            return False
        hanging = self.hanging
        return not any(
            meets(self.making, hanging.upright, _plate_bore(hanging, hole), self.near) for hole in hanging.screws(z)
        )


def _shelves(making: Making, hanging: Hanging) -> tuple[tuple[float, float], ...]:
    """Return the heights at which shelves behind the door end at the upright."""
    bay, upright = hanging.bay, hanging.upright
    return tuple(
        p.box.span(Axis.Z)
        for p in making.panels.values()
        if p.role is Role.SHELF
        and (p.opening == bay.id or p.opening.startswith(f"{bay.id}."))
        and (abs(p.box.low.x - upright.box.high.x) < EXACT or abs(p.box.high.x - upright.box.low.x) < EXACT)
    )


def _plate_bore(hanging: Hanging, z: float) -> Bore:
    hinge, upright = hanging.hinge, hanging.upright
    at = upright.frame.to_panel(Point(upright.box.low.x, hanging.y, z))
    return Bore(surface=hanging.surface, at=at, diameter=hinge.plate_screw, depth=hanging.plate_depth)


def _bore_cup(making: Making, hanging: Hanging, number: int, z: float) -> Iterator[Feature]:
    """Bore one hinge into the door's back: its cup, then its two screws."""
    hinge, door = hanging.hinge, hanging.panel
    inward, edge = (1, door.box.low.x) if hanging.hinged == "left" else (-1, door.box.high.x)
    why, pattern = f"hinge {number} of {door.name}", _pattern(hanging, number)
    x = edge + inward * hinge.cup_in
    cup = Hole(diameter=hinge.cup, depth=hinge.cup_depth)
    at = Point(x, 0.0, z)
    yield making.cut(door, f"cup-{number}", Surface.FAR_FACE, at, cup, why=why, item=hinge.code, pattern=pattern)
    depth = min(CUP_SCREW_DEPTH, door.thickness - making.job.limits.skin)
    screw = Hole(diameter=hinge.cup_screw_diameter, depth=depth)
    for j, up in enumerate((-hinge.cup_screws / 2, hinge.cup_screws / 2), start=1):
        at = Point(x + inward * hinge.cup_screw_in, 0.0, z + up)
        name = f"cup-{number}-screw-{j}"
        yield making.cut(door, name, Surface.FAR_FACE, at, screw, why=why, item=hinge.code, pattern=pattern)


def _pattern(hanging: Hanging, number: int) -> str:
    """Return the name of what a hinge's cuts keep their distances in, on door and upright alike."""
    return f"{hanging.panel.id}-hinge-{number}"


def _bore_plate(making: Making, hanging: Hanging, number: int, z: float) -> Iterator[Feature]:
    """Bore the two screws of one hinge's plate into the upright."""
    hinge, door = hanging.hinge, hanging.panel
    plate = Hole(diameter=hinge.plate_screw, depth=hanging.plate_depth)
    for j, level in enumerate(hanging.screws(z), start=1):
        name = f"{door.id.partition('.')[2]}-plate-{number}-{j}"
        at = Point(0.0, hanging.y, level)
        yield making.cut(
            hanging.upright,
            name,
            hanging.surface,
            at,
            plate,
            why=f"hinge {number} of {door.name}",
            item=hinge.code,
            pattern=_pattern(hanging, number),
        )


def _note(making: Making, hanging: Hanging, cups: tuple[Feature, ...], plates: tuple[Feature, ...], count: int) -> None:
    """Note the hinges of a door and their plates, to be fixed at these holes."""
    hinge, door, upright = hanging.hinge, hanging.panel, hanging.upright
    screws = tuple(f for f in cups if isinstance(f.shape, Hole) and f.shape.diameter != hinge.cup)
    cup = Driven(
        code=hinge.cup_fixed_with,
        count=len(screws),
        seat=hinge.cup_seat,
        sheet=hinge.cup_screw_length,
        board=door.thickness,
        room=door.thickness - making.job.limits.skin,
        place=f"{making.case.fronts.field}.board",
    )
    plate = Driven(
        code=hinge.plate_fixed_with,
        count=len(plates),
        seat=hinge.plate_seat,
        sheet=hinge.plate_screw_length,
        board=upright.thickness,
        room=hanging.plate_depth,
        place=making.path("board"),
        least=min(LEAST_HOLD_FRONT, hanging.plate_depth - hinge.plate_seat),
    )
    arm, high = "", ""
    if hanging.reach is not None:
        arm = f", {hanging.reach.arm.value}"
        high = f", {making.job.lengths.bought(hanging.reach.plate)} high"
    for kind, panel, name, cuts, driven in (
        (FixingKind.HINGE_CUP, door, f"{hinge.name}{arm}", screws, cup),
        (FixingKind.HINGE_PLATE, upright, f"plates of the {hinge.name}{high}", plates, plate),
    ):
        making.drafts.append(
            Draft(
                kind=kind,
                panel=panel,
                about=door.id,
                item=hinge.code,
                name=name,
                where=door.name,
                cause=hanging.bay.node.field,
                count=count,
                features=cuts,
                driven=driven,
            )
        )
