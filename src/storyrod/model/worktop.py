"""A worktop: a top of its own that lies on a case, with overhangs, and is screwed on from below. Lengths are mm."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from storyrod.model.panel import PanelId
from storyrod.model.written import CODE, Length, Told


@dataclass(frozen=True, slots=True, kw_only=True)
class Worktop:
    """A worktop of its own that lies on a case and is screwed on from below, through its top or its flat rails. The
    case's own sizes are without it; a place that it must fit counts it in.
    """

    front: Annotated[
        float,
        Length(0, 600),
        Told("How far it stands out over the front edges of the sides.", title="Overhang in front", example=30),
    ]
    back: Annotated[float, Length(0, 400), Told("How far it stands out behind the case.", title="Overhang behind")] = (
        0.0
    )
    left: Annotated[
        float, Length(0, 1000), Told("How far it stands out over the left side.", title="Overhang on the left")
    ] = 0.0
    right: Annotated[
        float, Length(0, 1000), Told("How far it stands out over the right side.", title="Overhang on the right")
    ] = 0.0
    board: Annotated[
        str | None,
        CODE,
        Told("Its board; the case's unless set. One that is bought to size has that as its sheet.", title="Its board"),
    ] = None
    edged_back: Annotated[
        bool,
        Told("Whether its rear edge gets edging or lipping as well as front and ends.", title="Rear edge covered"),
    ] = False
    fixed_with: Annotated[
        str | None, CODE, Told("Code of the screws it is fixed with; those of drawer fronts unless set.")
    ] = None
    field: str = "worktop"

    def adds(self, size: str, thickness: float) -> float:
        """Return what it adds to a case's `width`, `height` or `depth` in the place that both must fit (mm)."""
        return {"width": self.left + self.right, "depth": self.front + self.back, "height": thickness}[size]


class Side(StrEnum):
    """The four sides over which a worktop may stand out."""

    FRONT = "front"
    BACK = "back"
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True, kw_only=True)
class Overhang:
    """What one overhang of a worktop makes of a person who sits or leans on it.

    Attributes:
        reach: how far it stands out (mm).
        force_n: the person, `at` so far from the case (mm).
        sag: how far its edge goes down (mm), and `limit` what is allowed; None where the stiffness is not known.
        stress_n_mm2: bending stress where it leaves the case; `usable_n_mm2` what may be used of the board's strength.
        screw_n: what pulls at one screw; `holds_n` what one holds by tests; None where no formula covers it.
        ratio: for the left and right, what keeps the empty case standing over what turns it sideways; None elsewhere.
    """

    panel: PanelId
    side: Side
    reach: float
    force_n: float
    at: float
    sag: float | None
    limit: float
    stress_n_mm2: float
    usable_n_mm2: float | None
    screw: str
    screw_n: float
    holds_n: float | None
    ratio: float | None
    source: str

    @property
    def bends_too_much(self) -> bool:
        """Whether its edge goes down by more than is allowed, or the board is bent harder than it may be."""
        too_far = self.sag is not None and self.sag > self.limit + 1e-9
        return too_far or (self.usable_n_mm2 is not None and self.stress_n_mm2 > self.usable_n_mm2)

    @property
    def pulls_out(self) -> bool:
        """Whether a screw is asked for more than a third of what it holds by tests."""
        return self.holds_n is not None and self.screw_n > self.holds_n / 3
