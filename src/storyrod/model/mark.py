"""What is marked on a panel: figures rounded once, the same for both mates."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from storyrod.model.carcass import OpeningPlace
from storyrod.model.feature import Feature
from storyrod.model.joint import JointId
from storyrod.model.panel import Panel, PanelId, Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One mark on one panel.

    Attributes:
        number: its number on the panel, from 1, by surface and place.
        label: panel mark and number, as `A3.12`, by which its mate names it.
        what: size and depth as the trade writes it, `hole 8, 13 deep`.
        u, v, w: where the feature's axis or middle lies, running from datum end, face edge and face side, rounded to
            the job's `mark_step`, or carried exactly from what is; across the thickness of an edge or end, to its
            last printed digit.
        mate: label of the mate's mark, or "".
        joint: number of the joint, or "".
    """

    number: int
    label: str
    panel: PanelId
    surface: Surface
    feature: Feature
    what: str
    u: float
    v: float
    w: float
    mate: str = ""
    joint: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointLine:
    """Where a mating panel stands on a face: the lines of its two faces, running from the datum.

    `across_length` is true where the line runs across the panel (then `near` and `far` are distances from the
    datum end), false where it runs along it (distances from the face edge). `start`..`end` is its extent along itself.
    `face_side_line` is whichever of `near` and `far` lies toward the mate's face side. `face_side_on_line` is whether
    the face side itself stands there: not so where the mate is rebated on its far face, as a top for a back.
    """

    joint: JointId
    number: str
    panel: PanelId
    surface: Surface
    mate: PanelId
    mate_mark: str
    mate_surface: Surface
    across_length: bool
    near: float
    far: float
    face_side_line: float
    face_side_on_line: bool = True
    start: float
    end: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelSetOut:
    """All marks and joint lines of one panel."""

    panel: Panel
    marks: tuple[Mark, ...]
    lines: tuple[JointLine, ...]


class Hand(StrEnum):
    """Whether the panels of a gang are alike or mirrored."""

    SAME = "same"
    MIRRORED = "mirrored"


@dataclass(frozen=True, slots=True, kw_only=True)
class Gang:
    """Panels that can be laid together and marked in one go."""

    id: str
    name: str
    panels: tuple[PanelId, ...]
    hand: Hand
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RodTick:
    """One line on a rod: its distance from the datum end of the rod, and what it stands for."""

    at: float
    label: str
    is_band_start: bool = False
    band_to: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rod:
    """A full-size strip: positions along the length on one edge, across the width on the other."""

    gang: str
    name: str
    length: float
    lengths: tuple[RodTick, ...]
    widths: tuple[RodTick, ...]
    width_length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseSetOut:
    """One case, set out; `openings` are the clear rooms between the lines as marked."""

    case: str
    panels: tuple[PanelSetOut, ...]
    openings: tuple[OpeningPlace, ...]

    def of(self, panel_id: PanelId) -> PanelSetOut:
        """Return the set-out of one panel."""
        return next(p for p in self.panels if p.panel.id == panel_id)


@dataclass(frozen=True, slots=True, kw_only=True)
class SetOut:
    """The whole job, set out; `mark_to` is the step (mm) to which marks were rounded.

    Gangs and rods run over all cases, since panels of two cases may well be marked together.
    """

    mark_to: float
    cases: tuple[CaseSetOut, ...]
    gangs: tuple[Gang, ...]
    rods: tuple[Rod, ...]

    def of(self, panel_id: PanelId) -> PanelSetOut:
        """Return the set-out of one panel of any case."""
        return next(p for c in self.cases for p in c.panels if p.panel.id == panel_id)
