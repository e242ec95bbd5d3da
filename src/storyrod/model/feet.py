"""Levelling feet under a case, and the plinth board that is clipped on them. Lengths are millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from storyrod.model.panel import PanelId
from storyrod.model.written import AMOUNT, CODE, KEY, Length, Number, Text, Told


@dataclass(frozen=True, slots=True, kw_only=True)
class FootKind:
    """A kind of levelling foot: a plate under the base, a stem that is turned up and down, a clip for a plinth board;
    measure yours. Its key is its code.
    """

    code: Annotated[str, KEY]
    name: Annotated[
        str, Text(0, 100), Told("What you call it; its code unless set.", title="what you call it", made=True)
    ]
    least: Annotated[float, Length(10, 500), Told("The lowest it adjusts to.", title="lowest", example=90)]
    most: Annotated[float, Length(10, 500), Told("The highest it adjusts to.", title="highest", example=130)]
    load_kg: Annotated[float, Number(5, 1000, "kg"), Told("What one carries (kg).", title="carries")] = 100.0
    plate: Annotated[float, Length(20, 200), Told("Width of its plate.")] = 70.0
    screws_apart: Annotated[
        float, Length(8, 150), Told("Distance of its two screws from one another, from front to back.")
    ] = 40.0
    pilot: Annotated[
        float | None, Length(0.5, 12), Told("Pilot hole of its screws; that of their kind unless set.")
    ] = None
    pilot_depth: Annotated[float, Length(1, 60), Told("Depth of the pilot holes.")] = 10.0
    fixed_with: Annotated[str, CODE, Told("Code of the screws its plate and clip are fixed with.")] = "pan-head screw 4"
    screw_seat: Annotated[float, Length(0, 20), Told("The plate's or clip's thickness under a screw's head.")] = 2.0
    clip_to_face: Annotated[
        float, Length(5, 150), Told("From the foot's middle to the back of a plinth board that is clipped on it.")
    ] = 30.0
    clip_pitch: Annotated[
        float, Length(8, 150), Told("Distance of the clip's two screws from one another, side by side.")
    ] = 30.0
    price_cents: Annotated[int | None, AMOUNT, Told("Price of one foot.", name="price")] = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Feet:
    """Levelling feet under a case, in place of a plinth: its sides end at the base. A plinth board is clipped on the
    front ones.
    """

    height: Annotated[
        float,
        Length(10, 500),
        Told("From the floor to the underside of the case, as planned.", title="They stand so high", example=100),
    ]
    kind: Annotated[str | None, CODE, Told("Kind of foot; the workshop's own choice unless set.")] = None
    apart: Annotated[
        float, Length(150, 1500), Told("Greatest distance from foot to foot.", title="No farther apart than")
    ] = 600.0
    plinth: Annotated[
        bool, Told("Whether a plinth board is clipped on the front feet.", title="Plinth board clipped on")
    ] = True
    setback: Annotated[
        float,
        Length(0, 300),
        Told("How far the plinth board's face stands behind the carcass front; the feet stand behind it."),
    ] = 50.0
    board: Annotated[
        str | None,
        CODE,
        Told("Board of the plinth board; the case's unless set.", title="Its board"),
    ] = None
    floor_gap: Annotated[
        float,
        Length(0, 30),
        Told("What is left free between the plinth board and the floor."),
    ] = 3.0
    field: str = "feet"


@dataclass(frozen=True, slots=True, kw_only=True)
class FootPlace:
    """One foot: the middle of its plate in the case frame (mm)."""

    id: str
    kind: str
    x: float
    y: float
    plate: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FeetLoad:
    """What the feet of a case carry.

    Attributes:
        kg: the case with all that it holds and what is put on it; `count` how many feet share it.
        each_kg: on an uneven floor half of them are taken to carry it all.
        may_kg: what one carries by its sheet.
        enough: how many would do.
    """

    panel: PanelId
    kind: str
    kg: float
    count: int
    each_kg: float
    may_kg: float
    enough: int

    @property
    def overloaded(self) -> bool:
        """Whether a foot is asked for more than it carries."""
        return self.each_kg > self.may_kg + 1e-9
