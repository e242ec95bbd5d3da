"""How a case hangs on a wall: by what, how high, and what the wall is. Lengths are millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Final

from storyrod.model.panel import PanelId
from storyrod.model.written import CODE, Length, Told

RAIL_WIDTH: Final = 100.0
"""Rails are so wide unless the job says otherwise (mm): common practice, no source."""


class HungBy(StrEnum):
    """What holds a case to the wall: a rail that is screwed to it, or a pair of cleats that hook into each other."""

    RAIL = "rail"
    CLEATS = "cleats"


class WallKind(StrEnum):
    """What the screws go into."""

    STUDS = "timber studs"
    MASONRY = "masonry"
    PLASTERBOARD = "plasterboard"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hung:
    """A case that hangs on a wall and never stands on a floor: by a rail behind its back that is screwed to the wall,
    or by a pair of cleats bevelled at 45 degrees, one on the case and one on the wall. The back is set in for them.
    """

    top_at: Annotated[
        float,
        Length(200, 4000),
        Told("From the floor to the top of the case.", title="Its top above the floor", example=2100),
    ]
    wall: Annotated[
        WallKind,
        Told(
            "What the screws go into: `timber studs` or `masonry`. `plasterboard` alone carries no case.",
            title="The wall",
            example="timber studs",
        ),
    ]
    by: Annotated[
        HungBy,
        Told(
            "`rail`: a rail of the case, screwed to the wall through the back; `cleats`: a bevelled one on the case "
            "that hooks over one on the wall.",
            title="It hangs by",
        ),
    ] = HungBy.RAIL
    stud_spacing: Annotated[
        float,
        Length(50, 1200),
        Told("From the middle of one stud to the next.", only=("wall", (WallKind.STUDS,)), title="Stud to stud"),
    ] = 400.0
    first_stud: Annotated[
        float | None,
        Length(0, 5000),
        Told(
            "From the outside of the left side to the middle of the first stud behind the case; studs are taken as "
            "evenly spaced about its middle unless set.",
            only=("wall", (WallKind.STUDS,)),
        ),
    ] = None
    lining: Annotated[
        float,
        Length(0, 60),
        Told("Thickness of plasterboard or plaster before what the screws hold in.", title="Lining before it"),
    ] = 12.5
    rail_width: Annotated[
        float, Length(40, 300), Told("Width of the rail, or of each cleat on its wider face, upright behind the back.")
    ] = RAIL_WIDTH
    board: Annotated[str | None, CODE, Told("Board of the rail or cleats; the case's unless set.")] = None
    field: str = "hung"


@dataclass(frozen=True, slots=True, kw_only=True)
class HungPlace:
    """Where a case hangs, and where its fixings go; their heights are in the case frame, `underside` is of the floor.

    Attributes:
        rail: the rail of the case, or its cleat.
        cleat: the cleat on the wall, which the screws pass; None where they pass the rail.
        underside: of the case, above the floor; `top` the same of its top.
        places: where along the wall there are fixings, from the outside of the left side.
        heights: of the fixings at each place, above the case's underside.
    """

    rail: PanelId
    cleat: PanelId | None = None
    underside: float
    top: float
    places: tuple[float, ...]
    heights: tuple[float, ...]

    @property
    def count(self) -> int:
        """How many fixings there are."""
        return len(self.places) * len(self.heights)


@dataclass(frozen=True, slots=True, kw_only=True)
class WallScrew:
    """A wood screw in a stud: its size, how deep it goes into the stud, and what it may carry (N)."""

    diameter: float
    length: float
    bite: float
    may_pull_n: float
    may_across_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """What pulls at the fixings of a case that hangs, and what each must hold.

    Attributes:
        kg: of the case with all that it holds; `lever` from the wall to the middle of it, all open (mm).
        arm: from its lower edge, about which it turns, to the fixings (mm).
        pull_n: all that pulls it off the wall at the fixings; `down_n` all that pulls it down.
        floor_n: no fixing is asked to hold less of a pull; `floor_from` says where the figure comes from.
        each_pull_n, each_down_n: what each fixing must hold at once; those at two places are taken to carry it all.
        seat: back, rail and lining that a screw passes before it holds (mm).
        screw: into a stud; None where a plug's own sheet says what holds.
        used: how much of the screw is used; None without one.
        persons: who lift it to the wall.
    """

    place: HungPlace
    wall: WallKind
    kg: float
    lever: float
    arm: float
    pull_n: float
    down_n: float
    floor_n: float
    floor_from: str
    each_pull_n: float
    each_down_n: float
    seat: float
    screw: WallScrew | None
    used: float | None
    persons: int
