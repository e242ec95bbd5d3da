"""How long glue waits for its clamp, and the rules of thumb by which it is counted.

Planner and checker count by these figures, each by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from storyrod.model.joint import JointId
from storyrod.model.written import Number, OneOf, Told

CONNECTOR_S: Final = 20.0
"""Seconds to glue one connector, or one plain joint: 15 to 25, common practice, no source."""

CLAMP_S: Final = 60.0
"""Seconds to set one clamp: common practice, no source."""

SCREW_S: Final = 36.0
"""Seconds to drill for one screw and drive it: 0.6 min, common practice, no source."""

BRING_S: Final = 30.0
"""Seconds to take up a part and bring it home: common practice, no source."""

TURN_S: Final = 60.0
"""Seconds to turn the work: common practice, no source."""


MOST_GOES: Final = 4
"""Goes offered at the most: each lies in clamps until its glue has set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gluing:
    """How the job is glued up, where one pair of hands is too slow for the glue."""

    people: Annotated[int, OneOf((1, 2)), Told("How many people spread glue and set clamps.", title="People")] = 1
    goes: Annotated[
        int,
        Number(1, MOST_GOES, whole=True),
        Told(
            "In how many goes a body may be glued up where one takes longer than the glue stays open: joints of a "
            "later go are put together dry, clamped with the rest, and taken apart again once the glue has set.",
            title="Goes at most",
        ),
    ] = 1
    field: str = "gluing"


@dataclass(frozen=True, slots=True, kw_only=True)
class GlueTime:
    """How long one glued joint waits: from the first glue spread on it to the clamp (or screw) that closes it.

    Attributes:
        spread_at: number of the step in which it is glued.
        clamped_at: number of the step in which it is clamped, or screwed.
        minutes: from the one to the other, over all steps between, with as many people and goes as the job says.
        open_min: how long the glue stays open.
        two_people_min: the same in one go where two spread and clamp.
        goes: in how many goes its body can be glued in time by as many people as the job says, joints of later goes
            put together dry; None where no number of goes will do.
        two_people_goes: the same for two people.
        go: the go in which it is glued.
    """

    joint: JointId
    spread_at: int
    clamped_at: int
    minutes: float
    open_min: float
    two_people_min: float
    goes: int | None
    two_people_goes: int | None = None
    go: int = 1

    @property
    def over_min(self) -> float:
        """By how many minutes it is beyond the glue's open time; 0 where it is in time."""
        return max(0.0, self.minutes - self.open_min)
