"""What stands in a case's way where it goes: a skirting board behind it. Lengths are millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from storyrod.model.written import Length, Told

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
        float, Length(0, 30), Told("What the notch leaves free over the skirting board and before it.")
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
