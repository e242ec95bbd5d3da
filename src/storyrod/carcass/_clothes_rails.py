"""Clothes rails: a tube between two sockets, each on two screws in the upright beside it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from storyrod.carcass._bores import Bore, in_the_way, meets
from storyrod.carcass._fixings import LEAST_HOLD_FRONT, Draft, Driven
from storyrod.carcass._inside import Bay, inner_front
from storyrod.carcass._making import Making, box_of
from storyrod.faults import WayOut
from storyrod.measure.space import Axis, PanelPoint, Point
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import RailPlace
from storyrod.model.feature import Feature, Hole
from storyrod.model.fitting import HANGER_DEPTH, SOCKET_SCREWS, UNDER_TOP, RailKind
from storyrod.model.fixing import FixingKind
from storyrod.model.opening import ClothesRail
from storyrod.model.panel import Panel

FROM_EDGE: Final = 8.0
"""A socket's screw stands at least so far from front and rear of its opening (mm); common practice, no source."""

PLAY: Final = 1.0
"""Room left over a tube while it comes in over its sockets (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hung:
    """One rail: where the middle of its tube lies, the kind, and what is asked of it."""

    bay: Bay
    asked: ClothesRail
    kind: RailKind
    number: int
    y: float
    z: float

    @property
    def name(self) -> str:
        return f"clothes rail {self.number}"

    @property
    def suffix(self) -> str:
        return f"clothes-rail-{self.number}"


def add_clothes_rails(making: Making, bays: tuple[Bay, ...]) -> None:
    """Put the clothes rails into their openings, and bore the uprights for their sockets."""
    number = 0
    for bay in bays:
        asked = bay.node.clothes_rail
        if asked is None or bay.children or bay.left.is_open or bay.right.is_open:
            continue
        kind = making.workshop.rail(asked.kind or making.workshop.default_rail)
        if kind is None:
            _tell_missing(making, asked)
            continue
        number += 1
        hung = _hung(making, bay, asked, kind, number)
        if _has_room(making, hung):
            _add(making, hung)


def _tell_missing(making: Making, asked: ClothesRail) -> None:
    known = [r.code for r in making.workshop.clothes_rails]
    making.fault(
        "missing-clothes-rail",
        f"{asked.field}.kind",
        found=f'"{asked.kind}"' if asked.kind else "a clothes rail, but no kind for it",
        allowed=f"the code of a clothes rail of the workshop: {', '.join(known)}"
        if known
        else "a kind of clothes rail",
        do="Choose one of these, or describe yours under [clothes_rails] in the workshop file.",
        ways=tuple(WayOut(field=f"{asked.field}.kind", value=code) for code in known[:3]),
    )


def _hung(making: Making, bay: Bay, asked: ClothesRail, kind: RailKind, number: int) -> _Hung:
    front, back = inner_front(making, bay), bay.box.high.y
    return _Hung(
        bay=bay,
        asked=asked,
        kind=kind,
        number=number,
        y=(front + back) / 2 if asked.from_front is None else front + asked.from_front,
        z=bay.box.high.z - UNDER_TOP if asked.height is None else bay.box.low.z + asked.height,
    )


def _has_room(making: Making, hung: _Hung) -> bool:
    """Return whether tube and sockets lie within the opening, and the tube can be let down into them."""
    bay, kind, half = hung.bay, hung.kind, hung.kind.diameter / 2
    over = half + kind.lift + PLAY
    least, most = half, bay.height - over
    up = hung.z - bay.box.low.z
    fits = True
    if not least - EXACT <= up <= most + EXACT:
        _tell_height(making, hung, up, least, most)
        fits = False
    beside = max(half, kind.screw_pitch / 2 + FROM_EDGE)
    front, depth = inner_front(making, bay), bay.box.high.y - inner_front(making, bay)
    if not beside - EXACT <= hung.y - front <= depth - beside + EXACT:
        making.fault(
            "clothes-rail-room",
            f"{hung.asked.field}.from_front",
            found=f"{making.mm(hung.y - front)} from the front of {bay.name}, {making.mm(depth)} deep",
            allowed=f"{making.least(beside)} to {making.most(depth - beside)}"
            if depth >= 2 * beside
            else f"an opening at least {making.least(2 * beside)} deep",
            do="Leave it out, and the tube lies in the middle of the depth.",
            ways=(WayOut(field=f"{hung.asked.field}.from_front", value=None),),
        )
        fits = False
    if bay.width < 2 * kind.end_gap + kind.diameter:
        making.fault(
            "clothes-rail-room",
            bay.width_field,
            found=f"{making.mm(bay.width)} between the uprights of {bay.name}",
            allowed=f"at least {making.least(2 * kind.end_gap + kind.diameter)} for a clothes rail",
            do="Make the opening wider, or leave the clothes rail out.",
        )
        fits = False
    return fits


def _tell_height(making: Making, hung: _Hung, up: float, least: float, most: float) -> None:
    bay, kind = hung.bay, hung.kind
    too_low = f"an opening at least {making.least(least + bay.height - most)} high"
    making.fault(
        "clothes-rail-room",
        f"{hung.asked.field}.height" if hung.asked.height is not None else bay.height_field,
        found=f"{making.mm(up)} from the floor of {bay.name}, {making.mm(bay.height)} high",
        allowed=f"{making.least(least)} to {making.most(most)}: the tube comes in {making.mm(kind.lift)} above its "
        f"sockets and drops into them"
        if most >= least
        else too_low,
        do="Set the rail lower, or make the opening higher.",
        ways=(making.at_most(most, f"{hung.asked.field}.height"),) if most >= least else (),
    )


def _add(making: Making, hung: _Hung) -> None:
    bay, kind = hung.bay, hung.kind
    uprights = [
        (making.panels[bound.panel], toward)
        for bound, toward in ((bay.left, "+x"), (bay.right, "-x"))
        if bound.panel is not None
    ]
    if len(uprights) < 2 or not all(_bore(making, hung, upright, toward) for upright, toward in uprights):
        return
    x, half = bay.box.span(Axis.X), kind.diameter / 2
    load = hung.asked.load_kg
    place = RailPlace(
        id=making.id_of(hung.suffix),
        name=hung.name,
        opening=bay.id,
        kind=kind.code,
        diameter=kind.diameter,
        wall=kind.wall,
        material=kind.material,
        box=box_of(
            (x[0] + kind.end_gap, x[1] - kind.end_gap),
            (hung.y - half, hung.y + half),
            (hung.z - half, hung.z + half),
        ),
        lift=kind.lift,
        front=inner_front(making, bay),
        uprights=(uprights[0][0].id, uprights[1][0].id),
        load_kg=making.job.use.loads.rail_kg_m * bay.width / 1000 if load is None else load,
        load_given=load is not None,
        cause=hung.asked.field,
    )
    making.rails.append(place)
    cut = making.mm(place.length)
    making.stock(kind.code, f"{kind.name}, tube cut to {cut}", 1, "piece", bay.name, hung.asked.field)


def _bore(making: Making, hung: _Hung, upright: Panel, toward: str) -> bool:
    """Bore one upright for a socket, or note why it cannot be."""
    kind, room = hung.kind, upright.thickness - making.job.limits.skin
    surface = upright.surface_toward(toward)
    screw = making.workshop.screw(kind.fixed_with)
    pilot = kind.screw_diameter or (screw.pilot if screw is not None else FROM_EDGE)  # no such screw is told later
    shape = Hole(diameter=pilot, depth=min(kind.screw_depth, room))
    places = [Point(upright.box.low.x, hung.y + by * kind.screw_pitch / 2, hung.z) for by in (-1, 1)]
    for place in places:
        at = upright.frame.to_panel(place)
        bore = Bore(surface=surface, at=PanelPoint(at.u, at.v, 0.0), diameter=shape.diameter, depth=shape.depth)
        near = in_the_way(making, upright, at.v - shape.diameter, at.v + shape.diameter)
        met = meets(making, upright, bore, tuple(f for f in near if not _is_settled(making, f, bore)))
        if met is not None:
            _tell_met(making, hung, upright, met)
            return False
    cuts = tuple(
        making.cut(
            upright,
            f"{hung.suffix}-socket-{i}",
            surface,
            place,
            shape,
            why=f"socket of {hung.name}",
            item=kind.code,
            pattern=making.id_of(f"{hung.suffix}-sockets"),
        )
        for i, place in enumerate(places, start=1)
    )
    _note(making, hung, upright, cuts, room)
    return True


def _is_settled(making: Making, feature: Feature, bore: Bore) -> bool:
    """Return whether it is a screw from the other face, which `settle_opposed` makes shorter."""
    shop = making.workshop
    screwed = shop.rail(feature.item) is not None or shop.runner(feature.item) is not None
    return screwed and feature.surface is not bore.surface


def _tell_met(making: Making, hung: _Hung, upright: Panel, met: Feature) -> None:
    making.fault(
        "clothes-rail-screws",
        f"{hung.asked.field}.height",
        found=f"a socket of {hung.name} on {upright.name}, where something is already cut: {met.why}",
        allowed="uncut board under both screws of a socket",
        do="Set the rail higher or lower, or move it with `from_front`.",
    )


def _note(making: Making, hung: _Hung, upright: Panel, cuts: tuple[Feature, ...], room: float) -> None:
    kind = hung.kind
    sheet = math.inf if kind.screw_length is None else kind.screw_length
    making.drafts.append(
        Draft(
            kind=FixingKind.RAIL_SOCKET,
            panel=upright,
            about=making.id_of(hung.suffix),
            item=kind.code,
            name=f"socket of {hung.name}",
            where=hung.bay.name,
            cause=hung.asked.field,
            features=cuts,
            driven=Driven(
                code=kind.fixed_with,
                count=SOCKET_SCREWS,
                seat=kind.screw_seat,
                sheet=sheet,
                board=upright.thickness,
                room=room,
                least=LEAST_HOLD_FRONT,
                place=f"{hung.asked.field}.kind",
            ),
        )
    )


def warn_of_rails(making: Making) -> None:
    """Note where hangers have too little depth, and where a tube spans further than its sheet allows."""
    rooms = {o.id: o.box for o in making.openings}
    for rail in making.rails:
        kind, room = making.workshop.rail(rail.kind), rooms[rail.opening]
        y = rail.box.centre.y
        deep = 2 * min(y - rail.front, room.high.y - y)
        if deep < HANGER_DEPTH - EXACT:
            making.caution(
                "clothes-rail-shallow",
                rail.name,
                f"Clothes on hangers are about {making.mm(HANGER_DEPTH)} deep; there is room for {making.mm(deep)}.",
                "Make the case deeper, or set the tube in the middle of the depth.",
                ids=rail.uprights,
            )
        width = room.size(Axis.X)
        if kind is not None and width > kind.span_max + EXACT:
            making.caution(
                "clothes-rail-unsupported",
                rail.name,
                f"It spans {making.mm(width)} with no support; its sheet allows {making.mm(kind.span_max)}.",
                "Divide the opening, or choose a stronger kind.",
                ids=rail.uprights,
            )
