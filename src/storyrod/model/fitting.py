"""What is bought and fixed: drawer runners, hinges, clothes rails, and their screws. Lengths are millimetres."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Final

from storyrod.measure.tolerance import EXACT
from storyrod.model.written import AMOUNT, CODE, KEY, Length, Lengths, Number, Text, Told


class RunnerMount(StrEnum):
    """Where a runner is fixed to the drawer."""

    SIDE = "side"
    UNDER = "under"


@dataclass(frozen=True, slots=True, kw_only=True)
class Runner:
    """A pair of drawer runners; every figure is that of its own sheet: measure yours. Its key is its code."""

    code: Annotated[str, KEY]
    name: Annotated[
        str, Text(0, 100), Told("What you call it; its code unless set.", title="what you call it", made=True)
    ]
    mount: Annotated[RunnerMount, Told("`side`: on the drawer's sides; `under`: hidden under it.", example="side")]
    lengths: Annotated[
        tuple[float, ...],
        Lengths(100, 1500, least=1, rising=True),
        Told("Lengths it is sold in, from the shortest.", example=[350]),
    ]
    room_each_side: Annotated[
        float, Length(0, 50), Told("Side-mounted: from the drawer box to the carcass, each side.")
    ] = 12.7
    inside_less: Annotated[
        float, Length(0, 200), Told("Under-mounted: opening width less the drawer's inside width.")
    ] = 42.0
    box_shorter: Annotated[float, Length(0, 100), Told("Runner length less the depth of the drawer box.")] = 0.0
    clear_behind: Annotated[float, Length(0, 200), Told("Least room behind the drawer box.")] = 5.0
    room_below: Annotated[float, Length(0, 200), Told("Least room between the opening's floor and the box.")] = 15.0
    room_above: Annotated[float, Length(0, 200), Told("Least room between the box and what is over it.")] = 10.0
    height: Annotated[float, Length(1, 200), Told("Height of the carcass part.")] = 45.0
    screw_up: Annotated[float, Length(0, 1500), Told("Its screw line above the opening's floor.")] = 37.0
    screw_diameter: Annotated[float, Length(0.5, 120), Told("Pilot hole of its screws.")] = 2.5
    screw_depth: Annotated[float, Length(1, 60), Told("Depth of the pilot holes.")] = 10.0
    screws: Annotated[
        tuple[float, ...],
        Lengths(0, 1500, least=2, rising=True),
        Told("Carcass screws from the runner's front; those beyond its length are left out."),
    ] = (37.0, 165.0, 261.0)
    drawer_screws: Annotated[
        tuple[float, ...], Lengths(0, 1500, least=2, rising=True), Told("Screws in the drawer's side from its front.")
    ] = (35.0, 163.0, 259.0)
    drawer_screw_up: Annotated[float | None, Length(0, 500), Told("Screw line above the drawer side's lower edge.")] = (
        None
    )
    fixed_with: Annotated[str, CODE, Told("Code of the screws it is fixed with.")] = "pan-head screw 3.5"
    screw_length: Annotated[
        float, Length(5, 60), Told("Length of screw its sheet calls for; a thin board gets a shorter one.")
    ] = 16.0
    screw_seat: Annotated[float, Length(0, 20), Told("Its metal between a screw's head and the board.")] = 1.5
    set_back: Annotated[
        float, Length(0, 100), Told("From the carcass's front edge, or an inset front's back, to the runner.")
    ] = 2.0
    load_kg: Annotated[
        float, Number(1, 500, "kg"), Told("What a pair carries, the drawer included (kg).", title="carries")
    ] = 30.0
    extension: Annotated[
        float, Number(0.3, 1.2, "of its length"), Told("Share of its length by which the drawer comes out.")
    ] = 1.0
    width_max: Annotated[float, Length(100, 3000), Told("Widest drawer on one pair.")] = 900.0
    price_cents: Annotated[int | None, AMOUNT, Told("Price of a pair.", name="price")] = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorStep:
    """How many hinges a door takes up to a height."""

    up_to: Annotated[float, Length(100, 4000), Told("Greatest height of the door.", example=900)]
    hinges: Annotated[int, Number(2, 12, whole=True), Told("How many hinges it takes.", example=2)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hinge:
    """A concealed hinge: a cup in the door, a plate on the carcass; measure yours. Its key is its code."""

    code: Annotated[str, KEY]
    name: Annotated[
        str, Text(0, 100), Told("What you call it; its code unless set.", title="what you call it", made=True)
    ]
    cup: Annotated[float, Length(10, 60), Told("Diameter of the cup.")] = 35.0
    cup_depth: Annotated[float, Length(5, 30), Told("Depth of the cup.")] = 13.0
    cup_in: Annotated[float, Length(8, 80), Told("From the door's edge to the cup's centre.")] = 22.5
    cup_screws: Annotated[
        float, Length(10, 120), Told("Distance of the cup's two screws from one another. Invented: measure yours.")
    ] = 46.0
    cup_screw_in: Annotated[
        float, Length(-30, 60), Told("From the cup's centre to its screws, further in. Invented: measure yours.")
    ] = 8.0
    cup_screw_diameter: Annotated[float, Length(0.5, 12), Told("Pilot hole of the cup's screws.")] = 2.5
    plate_in: Annotated[
        float,
        Length(5, 200),
        Told("From the carcass's front edge, or an inset door's inner face, to the plate's screw line."),
    ] = 37.0
    plate_pitch: Annotated[float, Length(5, 200), Told("Distance of the plate's two screws from one another.")] = 32.0
    plate_screw: Annotated[float, Length(0.5, 15), Told("Holes of the plate.")] = 5.0
    plate_depth: Annotated[float, Length(1, 40), Told("Depth of the plate's holes.")] = 12.0
    cup_fixed_with: Annotated[str, CODE, Told("Code of the cup's screws.")] = "countersunk screw 3.5"
    cup_screw_length: Annotated[
        float, Length(5, 60), Told("Length of the cup's screws by its sheet; a thin door gets shorter ones.")
    ] = 16.0
    cup_seat: Annotated[float, Length(0, 20), Told("The cup's flange between a screw's head and the door.")] = 1.0
    plate_fixed_with: Annotated[str, CODE, Told("Code of the plate's screws.")] = "system screw 6.3"
    plate_screw_length: Annotated[
        float, Length(5, 60), Told("Length of the plate's screws by its sheet; a thin board gets shorter ones.")
    ] = 13.0
    plate_seat: Annotated[float, Length(0, 20), Told("The plate's metal between a screw's head and the board.")] = 2.0
    from_end: Annotated[float, Length(40, 500), Told("From the door's ends to the first and last hinge.")] = 100.0
    per_door: Annotated[
        tuple[DoorStep, ...],
        Told("How many hinges a door takes up to which height, from the lowest.", title="hinges by door height"),
    ] = (
        DoorStep(up_to=900.0, hinges=2),
        DoorStep(up_to=1600.0, hinges=3),
        DoorStep(up_to=2000.0, hinges=4),
        DoorStep(up_to=2400.0, hinges=5),
    )
    carries_kg: Annotated[
        float,
        Number(0.5, 50, unit="kg"),
        Told("What one hinge carries of a door's weight (kg): a heavier door takes more of them than by its height."),
    ] = 4.0
    lap: Annotated[
        float,
        Length(5, 60),
        Told("How far a straight arm brings the door over the side, on a plate 0 high, with the cup where it is here."),
    ] = 18.0
    half_crank: Annotated[
        float, Length(2, 30), Told("How much less a half-cranked arm does, for two doors on one divider.")
    ] = 9.0
    crank: Annotated[float, Length(4, 60), Told("How much less a cranked arm does, for an inset door.")] = 18.0
    plates: Annotated[
        tuple[float, ...],
        Lengths(0, 30, least=1, rising=True),
        Told("Heights of the plates that it is sold with; each brings the door so much less over the side."),
    ] = (0.0, 2.0, 4.0, 6.0)
    adjusts: Annotated[float, Length(0, 10), Told("How far its screw moves the door either way, side to side.")] = 2.0
    price_cents: Annotated[int | None, AMOUNT, Told("Price of one hinge with its plate.", name="price")] = None
    field: str = ""


LEAST_DOOR: Final = 160.0
"""No door lower than this (mm) takes two hinges; common practice, no source."""


class RailMaterial(StrEnum):
    """What the tube of a clothes rail is made of."""

    STEEL = "steel"
    ALUMINIUM = "aluminium"
    HARDWOOD = "hardwood"


HANGER_DEPTH: Final = 560.0
"""Clothes on their hangers take about this depth (mm); common practice, no source."""

UNDER_TOP: Final = 60.0
"""The middle of a tube lies so far under the top of its opening (mm), where no height is written: room for the hooks
of hangers, and for a hand to lift them off; common practice, no source."""

SOCKET_SCREWS: Final = 2
"""Screws in each socket: one before the tube, one behind it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RailKind:
    """A kind of clothes rail: a round tube or rod in two open sockets; measure yours. Its key is its code."""

    code: Annotated[str, KEY]
    name: Annotated[
        str, Text(0, 100), Told("What you call it; its code unless set.", title="what you call it", made=True)
    ]
    diameter: Annotated[float, Length(8, 80), Told("Outside diameter of the tube.", example=25)]
    wall: Annotated[
        float | None, Length(0.4, 20), Told("Thickness of the tube's wall; a solid rod unless set.", example=1)
    ] = None
    material: Annotated[RailMaterial, Told("What it is made of.")] = RailMaterial.STEEL
    end_gap: Annotated[
        float, Length(0, 30), Told("From the upright to the end of the tube: the socket's plate, and some play.")
    ] = 2.0
    lift: Annotated[
        float, Length(0, 80), Told("How far over its place the tube comes in before it drops into its sockets.")
    ] = 15.0
    screw_pitch: Annotated[
        float,
        Length(8, 150),
        Told("Distance of a socket's two screws from one another: one before the tube, one behind it, level with it."),
    ] = 40.0
    screw_diameter: Annotated[
        float | None, Length(0.5, 12), Told("Pilot hole of its screws; that of their kind unless set.")
    ] = None
    screw_depth: Annotated[float, Length(1, 60), Told("Depth of the pilot holes.")] = 12.0
    fixed_with: Annotated[str, CODE, Told("Code of the screws its sockets are fixed with.")] = "pan-head screw 4"
    screw_length: Annotated[
        float | None,
        Length(5, 60),
        Told("Length of screw its sheet calls for; the longest that leaves the board's skin unless set."),
    ] = None
    screw_seat: Annotated[float, Length(0, 20), Told("The socket's metal between a screw's head and the board.")] = 2.0
    span_max: Annotated[
        float, Length(100, 4000), Told("Widest opening that its sheet allows without a support in the middle.")
    ] = 1000.0
    price_cents: Annotated[
        int | None, AMOUNT, Told("Price of a tube, cut to length, with its two sockets.", name="price")
    ] = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewKind:
    """A kind of screw that fittings are fixed with, in all its lengths. Its key is its code, kind and diameter."""

    code: Annotated[str, KEY]
    diameter: Annotated[float, Length(1, 12), Told("Outside diameter of the thread.", example=3.5)]
    lengths: Annotated[
        tuple[float, ...],
        Lengths(5, 200, least=1, rising=True),
        Told("Lengths that you keep or buy, from the shortest.", example=[13, 16]),
    ]
    pilot: Annotated[
        float, Length(0.5, 120), Told("Its pilot hole, where a fitting's own sheet gives none.", example=2.5)
    ]
    root: Annotated[
        float | None,
        Length(0.5, 12),
        Told("Diameter of its core, at the root of the thread; two thirds of the outside unless set. Measure yours."),
    ] = None
    field: str = ""

    def item(self, length: float) -> str:
        """Return the name of one size, as it is bought and priced: `pan-head screw 3.5 x 16`."""
        return f"{self.code} x {length:g}"

    def longest(self, bite: float, seat: float, sheet: float = math.inf) -> float | None:
        """Return the longest length kept that goes no deeper than `bite` under a seat, and is no longer than `sheet`.

        None where every length kept would go deeper.
        """
        fitting = [n for n in self.lengths if n - seat <= bite + EXACT and n <= sheet + EXACT]
        return max(fitting, default=None)
