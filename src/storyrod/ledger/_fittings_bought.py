"""The fittings that one case takes, as they are bought: runners, hinges by their kind, rails, screws, handles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from storyrod.measure.tolerance import EXACT
from storyrod.measure.writing import LengthWriter
from storyrod.model.buying import (
    BRACKET,
    BRACKET_SCREW_MM,
    CLEAT_SCREW,
    HANDLE,
    HANGING_PLUG,
    HANGING_SCREW,
    WALL_SCREW,
    BuyKind,
)
from storyrod.model.carcass import BuiltCase, DoorPlace, Hardware
from storyrod.model.hung import Hanging
from storyrod.model.panel import Role
from storyrod.model.wall import WallFixing
from storyrod.model.workshop import Workshop


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """One thing that is bought for a case.

    Attributes:
        is_priced_by_item: whether its price stands among the workshop's prices; else at its runner, hinge or rail.
        has_spares: whether some more of it are bought than are used, as of small screws.
    """

    kind: BuyKind
    item: str
    name: str
    unit: str
    where: str = ""
    is_priced_by_item: bool = True
    has_spares: bool = False


def fittings_of(
    built: BuiltCase, workshop: Workshop, lengths: LengthWriter, wall: WallFixing | Hanging | None
) -> Iterator[tuple[Fitting, int]]:
    """Yield every fitting of one case with how many of it are used."""
    for thing in built.hardware:
        if workshop.hinge(thing.item) is not None:
            yield from _hinges(built, thing, lengths)
        else:
            yield _plain(thing, workshop), thing.count
    handles = len(built.fronts_to_handle)
    if handles:
        name = "handle or knob of your choice, with its screws"
        where = "doors and drawer fronts"
        yield Fitting(kind=BuyKind.HANDLES, item=HANDLE, name=name, unit="pieces", where=where), handles
    if isinstance(wall, Hanging):
        yield _hung(wall, lengths), wall.place.count
        yield from _stop(built, wall, workshop, lengths)
    elif wall is not None:
        yield from _wall(wall, workshop, lengths)


def _plain(thing: Hardware, workshop: Workshop) -> Fitting:
    rail = workshop.rail(thing.item) is not None
    by_item = workshop.runner(thing.item) is None and not rail
    return Fitting(
        kind=BuyKind.FITTINGS,
        item=thing.item,
        name=thing.name,
        unit=f"{thing.unit}s",
        where="" if by_item else "clothes rails" if rail else "drawers",
        is_priced_by_item=by_item,
        has_spares=by_item,
    )


def _hinges(built: BuiltCase, thing: Hardware, lengths: LengthWriter) -> Iterator[tuple[Fitting, int]]:
    """Yield the hinges of each kind: for inset doors, and for each width of upright that overlay doors cover."""
    for door in built.doors:
        if door.hinge != thing.item:
            continue
        covered = covers(built, door)
        kind = f"for a door {lengths.told_seen_size(covered)} over the side" if covered > EXACT else "for an inset door"
        fitting = Fitting(
            kind=BuyKind.FITTINGS,
            item=thing.item,
            name=f"{thing.name}, {kind}, {_arm_and_plate(door, lengths)}",
            unit=f"{thing.unit}s",
            where="doors",
            is_priced_by_item=False,
        )
        yield fitting, door.hinges


def _arm_and_plate(door: DoorPlace, lengths: LengthWriter) -> str:
    if door.plate is None:
        return "with its plate"
    return f"{door.arm}, with its plate {lengths.bought(door.plate)} high"


def covers(built: BuiltCase, door: DoorPlace) -> float:
    """Return how far a door lies over the upright that it hangs on (mm); 0 or less for one between the uprights."""
    box = next(p.box for p in built.panels if p.id == door.panel)
    opening = next(o.box for o in built.openings if o.id == door.opening)
    return opening.low.x - box.low.x if door.hinged == "left" else box.high.x - opening.high.x


def _hung(hanging: Hanging, lengths: LengthWriter) -> Fitting:
    """Return the screws, or the plugs with theirs, by which a case hangs."""
    screw, item = hanging.screw, hung_item(hanging)
    each = f"{hanging.each_pull_n:,.0f} N out and {hanging.each_down_n:,.0f} N down"
    name = f"plug and screw for your wall, each to hold {each}"
    if screw is not None:
        size = f"{lengths.bought(screw.diameter)} x {lengths.bought(screw.length)}"
        name = f"wood screw {size}, countersunk, to hang a case by"
    return Fitting(kind=BuyKind.WALL, item=item, name=name, unit="pieces", where="wall")


def _stop(
    built: BuiltCase, hanging: Hanging, workshop: Workshop, lengths: LengthWriter
) -> Iterator[tuple[Fitting, int]]:
    """Yield the one screw through the back into the wall's cleat, by which a case cannot be lifted off."""
    back = next((p for p in built.panels if p.role is Role.BACK), None)
    if hanging.place.cleat is None or back is None:
        return
    longest = float(int(back.thickness + built.panel(hanging.place.cleat).thickness))
    screw = _pan_head(longest, workshop)
    size = screw or f"screw {lengths.bought(BRACKET_SCREW_MM)}, no longer than {lengths.bought(longest)}"
    name = f"{size}, that stops a case lifting off its cleat"
    yield Fitting(kind=BuyKind.WALL, item=CLEAT_SCREW, name=name, unit="pieces", where="wall"), 1


def hung_item(hanging: Hanging) -> str:
    """Return what hangs a case is called among a workshop's prices."""
    screw = hanging.screw
    return HANGING_PLUG if screw is None else f"{HANGING_SCREW} {screw.diameter:g} x {screw.length:g}"


def _wall(wall: WallFixing, workshop: Workshop, lengths: LengthWriter) -> Iterator[tuple[Fitting, int]]:
    places = len(wall.places)
    if not wall.straight:
        yield from _brackets(wall, workshop, lengths)
    name = f"plug and screw for your wall, each to hold {wall.each_n:,.0f} N"
    yield Fitting(kind=BuyKind.WALL, item=WALL_SCREW, name=name, unit="pieces", where="wall"), places


def _brackets(wall: WallFixing, workshop: Workshop, lengths: LengthWriter) -> Iterator[tuple[Fitting, int]]:
    places = len(wall.places)
    yield Fitting(kind=BuyKind.WALL, item=BRACKET, name="steel angle bracket", unit="pieces", where="wall"), places
    screw, longest = bracket_screw(wall, workshop), lengths.bought(float(int(wall.screw_most)))
    name = screw or f"screw {lengths.bought(BRACKET_SCREW_MM)}, no longer than {longest}"
    item = screw or "bracket screw"
    yield Fitting(kind=BuyKind.WALL, item=item, name=name, unit="pieces", where="wall", has_spares=True), 2 * places


def bracket_screw(wall: WallFixing, workshop: Workshop) -> str:
    """Return the longest screw of the workshop that a bracket takes and that stays in its panel; "" for none."""
    return _pan_head(wall.screw_most, workshop)


def _pan_head(longest: float, workshop: Workshop) -> str:
    found = [
        (length, kind.item(length))
        for kind in workshop.screws
        if abs(kind.diameter - BRACKET_SCREW_MM) < EXACT and kind.code.startswith("pan-head")
        for length in kind.lengths
        if length <= longest
    ]
    return max(found)[1] if found else ""
