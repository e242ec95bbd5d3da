"""Which method joins which panels, as a job chooses it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from storyrod.model.written import CODE, Names, Told


class JointClass(StrEnum):
    """The classes for which a maker chooses a joining method."""

    CORNER = "corner"
    MID_PANEL = "mid-panel"
    PLINTH = "plinth"
    BACK = "back"
    DRAWER_BOX = "drawer box"


class Spread(StrEnum):
    """How stations are spread along a joint."""

    LADDER = "ladder"
    EVEN = "even"
    SHARED = "shared"


@dataclass(frozen=True, slots=True, kw_only=True)
class MethodChoice:
    """Which method holds which class of joint, by the method's code; the workshop's own choice where none is said."""

    corner: Annotated[str | None, CODE, Told("Edge against face at the receiving panel's end.")] = None
    mid_panel: Annotated[str | None, CODE, Told("Edge against face elsewhere: dividers and shelves.")] = None
    plinth: Annotated[str | None, CODE, Told("The plinth's joints, and a hanging rail's.")] = None
    back: Annotated[str | None, CODE, Told("The back's joints.")] = None
    drawer_box: Annotated[str | None, CODE, Told("The joints of drawer boxes.")] = None
    field: str = "methods"

    def of(self, joint_class: JointClass) -> str | None:
        """Return the method chosen for a class of joint."""
        return {
            JointClass.CORNER: self.corner,
            JointClass.MID_PANEL: self.mid_panel,
            JointClass.PLINTH: self.plinth,
            JointClass.BACK: self.back,
            JointClass.DRAWER_BOX: self.drawer_box,
        }[joint_class]


@dataclass(frozen=True, slots=True, kw_only=True)
class JointOverride:
    """Another method, or another spread of stations, for one joint."""

    case: Annotated[str, CODE, Told("Code of the case.", example="A")]
    between: Annotated[
        tuple[str, str],
        Names(2, 2),
        Told("Names of the two panels, in either order, as the packet prints them.", example=["left side", "shelf 1"]),
    ]
    method: Annotated[str | None, CODE, Told("Code of the method; as for its class unless set.")] = None
    spread: Annotated[
        Spread | None,
        Told(
            "How the stations are spread; as for the job unless set. With `ladder` or `even` they stay where "
            "those rules put them, however other joints share theirs."
        ),
    ] = None
    field: str = ""
