"""How thin the board may become, and how the pieces will stand and be used. Lengths are millimetres."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from storyrod.model.written import Length, Number, Told


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How thin the board may get."""

    skin: Annotated[
        float, Length(0, 20), Told("Least board left under a blind cut.", title="Board left under a blind cut")
    ] = 3.0
    wall: Annotated[
        float, Length(0, 20), Told("Least board left beside a bore in an edge.", title="Board left beside a bore")
    ] = 2.0
    field: str = "limits"


class Climate(StrEnum):
    """The air a piece stands in: service classes 1, 2 and 3 of EN 1995-1-1."""

    DRY = "dry"
    HUMID = "humid"
    WET = "wet"


class Floor(StrEnum):
    """What a piece stands on."""

    HARD = "hard"
    CARPET = "carpet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Loads:
    """What is reckoned to lie in openings and drawers for which you write no `load_kg`."""

    # `THRESHOLD_SOURCES` says why so much. Drawers: 8.5 lb per cubic foot of their inside, Clothing Storage Units
    # business guidance, US Consumer Product Safety Commission, on 87 FR 72598 (2022).

    # A clothes rail: 4 kg a decimetre, as EN 14749 asks of storage furniture, from memory.

    books_kg_m: Annotated[
        float | None,
        Number(1, 200, "kg"),
        Told("Books and paper, on a metre of shelf; 29.8 (20 lb a foot) unless set.", title="Books (kg a metre)"),
    ] = None
    crockery_kg_dm2: Annotated[
        float | None,
        Number(0.01, 20, "kg"),
        Told("Crockery, on a square decimetre; 1.0 unless set.", title="Crockery (kg/dm²)"),
    ] = None
    tools_kg_dm2: Annotated[
        float | None,
        Number(0.01, 20, "kg"),
        Told("Tools, on a square decimetre; 2.0 unless set.", title="Tools (kg/dm²)"),
    ] = None
    clothes_kg_dm2: Annotated[
        float | None,
        Number(0.01, 20, "kg"),
        Told("Clothes, on a square decimetre; 0.65 unless set.", title="Clothes (kg/dm²)"),
    ] = None
    light_kg_dm2: Annotated[
        float | None,
        Number(0.01, 20, "kg"),
        Told("Light things, on a square decimetre; 0.3 unless set.", title="Light things (kg/dm²)"),
    ] = None
    rail_kg_m: Annotated[
        float,
        Number(1, 200, "kg"),
        Told("What hangs on a metre of clothes rail.", title="On a clothes rail (kg a metre)"),
    ] = 40.0
    top_kg_dm2: Annotated[
        float,
        Number(0, 20, "kg"),
        Told("What is put on top of a case, on a square decimetre.", title="On top of a case (kg/dm²)"),
    ] = 0.65
    drawers_kg_m3: Annotated[
        float,
        Number(1, 2000, "kg"),
        Told("What drawers are filled with, in a cubic metre of their inside.", title="In drawers (kg/m³)"),
    ] = 136.157


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """How the pieces will stand and be used, as far as it bears on sag, tipping and movement."""

    sag_limit: Annotated[
        float,
        Number(50, 2000),
        Told("A plank may sag, in the long run, by its span divided by this.", title="Sag: span over", seldom=True),
    ] = 240.0
    tip_margin: Annotated[
        float,
        Number(1, 5),
        Told(
            "A case is to be fixed to the wall below this steadying over tipping moment.",
            title="Fix below this steadiness",
            seldom=True,
        ),
    ] = 1.25
    fix_above: Annotated[
        float,
        Length(200, 4000),
        Told(
            "A case higher than this is to be fixed to the wall, whatever its margin.",
            title="Fix what is higher than",
            seldom=True,
        ),
    ] = 600.0
    child_kg: Annotated[
        float,
        Number(5, 150, "kg"),
        Told(
            "What hangs on the front of an open drawer when tipping is worked out (kg).",
            title="Weight on an open drawer (kg)",
            seldom=True,
        ),
    ] = 27.2
    pull_n: Annotated[
        float,
        Number(10, 500, "N"),
        Told(
            "Outward pull at a hand hold when tipping is worked out (N).", title="Pull at a hand hold (N)", seldom=True
        ),
    ] = 44.5
    step_shows: Annotated[
        float,
        Length(0.05, 3),
        Told("A step at a joint shows from this size up.", title="A step shows from", seldom=True),
    ] = 0.3
    front_gap: Annotated[
        float,
        Length(0.1, 5),
        Told(
            "Least gap that an inset front must keep in damp weather.", title="Least gap of an inset front", seldom=True
        ),
    ] = 0.5
    floor: Annotated[Floor, Told("What it stands on; a carpet makes it lean forward.")] = Floor.CARPET
    fixed_to_wall: Annotated[
        bool, Told("Whether every case will be fixed to a wall before it is used.", title="Fixed to a wall")
    ] = False
    climate: Annotated[
        Climate, Told("`dry` for heated rooms, `humid` for unheated ones, `wet` where rain or steam reaches.")
    ] = Climate.DRY
    humidity_low: Annotated[
        float,
        Number(20, 80, "%"),
        Told("Lowest relative humidity of the room over the year (%).", title="Humidity, low (%)"),
    ] = 35.0
    humidity_high: Annotated[
        float,
        Number(20, 80, "%"),
        Told("Highest relative humidity of the room over the year (%).", title="Humidity, high (%)"),
    ] = 65.0
    loads: Annotated[Loads, Told("Loads used where no `load_kg` is set.")] = field(default_factory=Loads)
    field: str = "use"
