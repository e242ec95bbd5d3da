"""What a case meets where it goes: a skirting board behind it, walls that are not straight. Lengths are millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Final

from storyrod.model.written import CODE, Length, Told

SKIRTING: Final = "skirting"
"""The item of the notches that go over a skirting board."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Skirting:
    """A skirting board on the wall behind a case: the lower rear corners of its sides are notched for it. Where the
    notch is higher than the base, back and base stand clear of it too.
    """

    height: Annotated[
        float, Length(10, 500), Told("From the floor to the top of the skirting board, at its highest.", example=95)
    ]
    depth: Annotated[float, Length(3, 150), Told("How far it stands out from the wall, at its thickest.", example=18)]
    clearance: Annotated[
        float, Length(0, 30), Told("What the notch leaves clear above the skirting board and in front of it.")
    ] = 3.0
    field: str = "skirting"

    @property
    def top(self) -> float:
        """How high above the floor its notch ends (mm)."""
        return self.height + self.clearance

    @property
    def out(self) -> float:
        """How far before the wall its notch ends (mm)."""
        return self.depth + self.clearance


@dataclass(frozen=True, slots=True, kw_only=True)
class Scribe:
    """How much deeper the sides are made than the case, to be scribed to a wall behind it that is not straight."""

    left: Annotated[float, Length(0, 60), Told("At the rear edge of the left side.", title="Left side")] = 0.0
    right: Annotated[float, Length(0, 60), Told("At the rear edge of the right side.", title="Right side")] = 0.0
    field: str = "scribe"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fillers:
    """Filler strips between a case and the walls beside it: scribed to the wall, screwed on through the sides from
    inside. A place that the case must fit counts their gaps in.
    """

    left: Annotated[
        float | None, Length(20, 400), Told("Gap between the left side and the wall, at its widest.", title="Left gap")
    ] = None
    right: Annotated[
        float | None,
        Length(20, 400),
        Told("Gap between the right side and the wall, at its widest.", title="Right gap"),
    ] = None
    scribe: Annotated[
        float, Length(0, 60), Told("How much wider than its gap a filler is made, to be scribed to the wall.")
    ] = 10.0
    back: Annotated[
        float, Length(0, 15), Told("How far its face stands behind the front edges of the sides.", title="Set back by")
    ] = 0.0
    board: Annotated[str | None, CODE, Told("Board; the case's unless set.")] = None
    fixed_with: Annotated[str, CODE, Told("Code of the screws they are fixed with.")] = "countersunk screw 4"
    field: str = "fillers"

    @property
    def gaps(self) -> float:
        """What they add to the case's width in its place (mm)."""
        return (self.left or 0.0) + (self.right or 0.0)


PIPE: Final = "pipe or cable"
"""The item of the cut-outs that pipes and cables pass."""


class PipedPanel(StrEnum):
    """The panels that a pipe or cable may pass, as a paper names them."""

    BACK = "back"
    LEFT = "left side"
    RIGHT = "right side"


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeCutOut:
    """A cut-out in a back or side for a pipe, a cable or a socket: round, or with round ends."""

    panel: Annotated[PipedPanel, Told("Which panel it is cut in.", title="In the", example="back")]
    across: Annotated[
        float,
        Length(0, 5000),
        Told("From the outside of the left side, or in a side from the front of the case, to its middle.", example=200),
    ]
    up: Annotated[
        float,
        Length(0, 4000),
        Told("From the floor to its middle; from the underside of a case that hangs.", example=150),
    ]
    width: Annotated[
        float,
        Length(15, 1000),
        Told("How wide it is, clearance round the pipe included; its diameter if it is round.", example=60),
    ]
    height: Annotated[float | None, Length(15, 1000), Told("How high it is; round unless set.")] = None
    field: str = "cut_outs[0]"
