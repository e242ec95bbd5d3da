"""Hinges: cups and their screws in the door's back, plates on the upright, moved until they meet nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from storyrod.carcass._bores import Bore, in_the_way, meets
from storyrod.carcass._inside import Bay
from storyrod.carcass._making import Making
from storyrod.measure.space import Axis, Point
from storyrod.measure.tolerance import EXACT
from storyrod.model.feature import Hole
from storyrod.model.panel import Panel, Role, Surface
from storyrod.model.workshop import Hinge

SHIFTS = (0.0, 16.0, 8.0, 24.0, 32.0, 40.0, 48.0)
"""How far hinges are moved toward the door's middle (mm) until their plates meet nothing: half steps of 32 first."""

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

    @property
    def surface(self) -> Surface:
        """The upright's surface that carries the plates."""
        return self.upright.surface_toward("+x" if self.hinged == "left" else "-x")

    def screws(self, level: float) -> tuple[float, float]:
        """Return the heights of a plate's two screws."""
        half = self.hinge.plate_pitch / 2
        return level - half, level + half


def hinges_for(hinge: Hinge, height: float) -> int:
    """Return how many hinges a door of this height hangs on, two at the least."""
    return max(2, next((n for limit, n in sorted(hinge.per_door) if height <= limit + EXACT), 0))


def bore_hinges(making: Making, hanging: Hanging, count: int) -> None:
    """Bore the door and the upright for the hinges, or note why they can not stand anywhere."""
    hinge, upright, skin = hanging.hinge, hanging.upright, making.job.limits.skin
    if hinge.plate_depth > upright.thickness - skin + EXACT:
        making.fault(
            "hinge-plate",
            making.path("board"),
            found=f"{upright.name} of {making.mm(upright.thickness)}, plate holes {making.mm(hinge.plate_depth)} deep",
            allowed=f"at least {making.mm(hinge.plate_depth + skin)}",
            do="Choose a thicker board, or a hinge whose plate needs less.",
        )
        return
    levels = next((n for n in _tries(hanging, count) if _is_clear(making, hanging, n)), None)
    if levels is None:
        making.fault(
            "hinge-clash",
            hanging.bay.node.field,
            found=f"hinges of {hanging.panel.name} that meet a shelf, a runner or other hinges on {upright.name} "
            "wherever they stand",
            allowed="room for each hinge plate",
            do="Hang the door on its other side, move the shelves, or choose a thicker divider.",
        )
        return
    for i, z in enumerate(levels, start=1):
        _bore(making, hanging, i, z)


def _tries(hanging: Hanging, count: int) -> Iterator[tuple[float, ...]]:
    """Yield heights of the hinges, from those wanted to those moved furthest toward the middle."""
    hinge, low, height = hanging.hinge, hanging.panel.box.low.z, hanging.panel.width
    usual = height >= 2 * hinge.from_end + 2 * hinge.plate_pitch + hinge.cup_screws
    for shift in SHIFTS:
        end = (hinge.from_end if usual else height / 4) + shift
        step = (height - 2 * end) / (count - 1)
        yield tuple(low + end + i * step for i in range(count))


def _is_clear(making: Making, hanging: Hanging, levels: tuple[float, ...]) -> bool:
    hinge, upright, bay = hanging.hinge, hanging.upright, hanging.bay
    reach = hinge.plate_pitch / 2 + PLATE_CLEAR
    if any(b - a < 2 * reach for a, b in pairwise(levels)):
        return False
    taken = [bay.box.span(Axis.Z), *_shelves(making, hanging)]
    low, high = taken[0]
    if levels[0] - reach < low or levels[-1] + reach > high:
        return False
    if any(z + reach > s and z - reach < e for z in levels for s, e in taken[1:]):
        return False
    v = hanging.y - upright.box.low.y
    near = in_the_way(making, upright, v - hinge.plate_screw, v + hinge.plate_screw)
    return not any(
        meets(making, upright, _plate_bore(hanging, hole), near) for z in levels for hole in hanging.screws(z)
    )


def _shelves(making: Making, hanging: Hanging) -> list[tuple[float, float]]:
    """Return the heights at which shelves behind the door end at the upright."""
    bay, upright = hanging.bay, hanging.upright
    return [
        p.box.span(Axis.Z)
        for p in making.panels.values()
        if p.role is Role.SHELF
        and (p.opening == bay.id or p.opening.startswith(f"{bay.id}."))
        and (abs(p.box.low.x - upright.box.high.x) < EXACT or abs(p.box.high.x - upright.box.low.x) < EXACT)
    ]


def _plate_bore(hanging: Hanging, z: float) -> Bore:
    hinge, upright = hanging.hinge, hanging.upright
    at = upright.frame.to_panel(Point(upright.box.low.x, hanging.y, z))
    return Bore(surface=hanging.surface, at=at, diameter=hinge.plate_screw, depth=hinge.plate_depth)


def _bore(making: Making, hanging: Hanging, number: int, z: float) -> None:
    """Bore one hinge: the cup and its screws in the door's back, the plate's screws in the upright."""
    hinge, door, upright = hanging.hinge, hanging.panel, hanging.upright
    inward, edge = (1, door.box.low.x) if hanging.hinged == "left" else (-1, door.box.high.x)
    why = f"hinge {number} of {door.name}"
    x = edge + inward * hinge.cup_in
    cup = Hole(diameter=hinge.cup, depth=hinge.cup_depth)
    making.cut(door, f"cup-{number}", Surface.FAR_FACE, Point(x, 0.0, z), cup, why=why, item=hinge.code)
    depth = min(CUP_SCREW_DEPTH, door.thickness - making.job.limits.skin)
    screw = Hole(diameter=hinge.cup_screw_diameter, depth=depth)
    for j, up in enumerate((-hinge.cup_screws / 2, hinge.cup_screws / 2), start=1):
        at = Point(x + inward * hinge.cup_screw_in, 0.0, z + up)
        making.cut(door, f"cup-{number}-screw-{j}", Surface.FAR_FACE, at, screw, why=why, item=hinge.code)
    plate = Hole(diameter=hinge.plate_screw, depth=hinge.plate_depth)
    for j, level in enumerate(hanging.screws(z), start=1):
        name = f"{door.id.partition('.')[2]}-plate-{number}-{j}"
        making.cut(upright, name, hanging.surface, Point(0.0, hanging.y, level), plate, why=why, item=hinge.code)
