"""How much room a driver, its bit and the hand that holds it take before a screw or a cam.

The figures of common tools, measured from the head of the screw along its axis; common practice, no source. The planner
and its checker each work out the room from them by themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Driver(StrEnum):
    """What a screw is driven, or a cam turned, with."""

    DRILL = "drill-driver"
    SHORT = "right-angle driver"


@dataclass(frozen=True, slots=True)
class Room:
    """A piece of the room that a driver takes: `near` to `far` from the head of the screw, `half` to each side (mm)."""

    near: float
    far: float
    half: float


ROOM: Final = {
    Driver.DRILL: (Room(near=0.0, far=60.0, half=15.0), Room(near=60.0, far=250.0, half=30.0)),
    Driver.SHORT: (Room(near=0.0, far=110.0, half=20.0),),
}
"""The bit and chuck of a drill-driver, then its body with the hand; a right-angle driver, or a stubby screwdriver for a
cam; common practice, no source."""

TALL: Final = 1200.0
"""A panel that reaches higher than this over the bench or floor falls on somebody (mm); common practice, no source."""

AT_TOP: Final = 100.0
"""What holds a tall panel's top meets it no more than this below whatever meets it highest (mm); common practice."""
