"""A joining method is data: what it cuts in both panels, what it uses up, how the panel goes home.

A cut is written with respect to one station of a joint. Positions: `along` the joint line from the station;
`across` it from the middle of the entering board's thickness (or from its face side where `from_face_side`
is given), so that both halves share one axis.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from storyrod.model.job import JointClass


class Motion(StrEnum):
    """How the entering panel goes home."""

    STRAIGHT = "straight"
    STRAIGHT_THEN_SLIDE = "straight then slide"
    SLIDE = "slide"
    FREE = "free"


class CutKind(StrEnum):
    """What a method may cut at a station, or along the whole joint."""

    HOLE = "hole"
    SLOT = "slot"
    KEYHOLE = "keyhole"
    SEGMENT_POCKET = "segment pocket"
    UNDERCUT_SLOT = "undercut slot"
    ANGLED_POCKET = "angled pocket"
    HOUSING = "housing"
    REBATE = "rebate"
    GROOVE = "groove"


class CutPlace(StrEnum):
    """Where a cut is made.

    `joint` is the receiving face under the joint line, or the entering edge itself. `outside` is the
    receiving panel's other face, driven through to the joint. `face side` and `far face` are the entering
    panel's faces, `inset` from its edge.
    """

    JOINT = "joint"
    OUTSIDE = "outside"
    FACE_SIDE = "face side"
    FAR_FACE = "far face"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One cut of a method. Which figures count depends on the kind; the others stay None.

    Attributes:
        diameter: of a hole, of a keyhole's entry, of an angled pocket.
        length: overall, of a slot or undercut slot.
        width: of a slot (its cutter), of a keyhole's neck run, of an undercut slot's mouth, of a segment
            pocket (its cutter's thickness).
        depth: from the surface; None for a hole means through.
        countersink: diameter at the surface.
        undercut_width: of a keyhole or undercut slot below the lip.
        lip: board left above the undercut.
        travel: of a keyhole, from entry centre to lock centre.
        disc: diameter of a segment pocket's disc cutter.
        angle_deg: of an angled pocket to the face.
        inset: from the entering panel's edge to the cut's centre, where it is made in a face.
        along: offset from the station along the joint.
        across: offset from the middle of the entering board; +ve away from its face side.
        alternate: "" at every station, "odd" or "even" at every other one only.
    """

    kind: CutKind
    place: CutPlace = CutPlace.JOINT
    diameter: float | None = None
    length: float | None = None
    width: float | None = None
    depth: float | None = None
    through: bool = False
    countersink: float | None = None
    undercut_width: float | None = None
    lip: float | None = None
    travel: float | None = None
    disc: float | None = None
    angle_deg: float | None = None
    inset: float | None = None
    along: float = 0.0
    across: float = 0.0
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumed:
    """Something a method uses up: `each` at every station, `per_joint` once a joint line.

    `turned` says that it locks only when it is turned, as a cam.
    """

    item: str
    each: int = 1
    per_joint: int = 0
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeForBoard:
    """The cuts and connectors for boards of a measured thickness in `low` <= t < `high`.

    The thinner of the two boards decides. `enters` is how far the entering panel goes into the receiving one
    (housing, rebate), which makes it longer by as much.
    """

    low: float
    high: float
    receiving: tuple[Cut, ...] = ()
    entering: tuple[Cut, ...] = ()
    consumes: tuple[Consumed, ...] = ()
    enters: float = 0.0
    width_slack: float = 0.0
    stop_short: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StationRules:
    """Where along a joint the connectors may stand (mm); design: `docs/method-files.md`.

    Attributes:
        end: from the end of the joint to the first station.
        end_min: the least distance a station may have from an end.
        pitch: the greatest distance from station to station.
        gap_min: the least distance from station to station.
        least: how many a joint must have.
        single: whether one station in the middle will do where `least` do not fit.
    """

    end: float
    end_min: float
    pitch: float
    gap_min: float
    least: int = 2
    single: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Minutes of one person by the method; rules of thumb until the maker's own log replaces them."""

    setup_min: float = 0.0
    per_station_receiving_min: float = 0.0
    per_station_entering_min: float = 0.0
    fit_min: float = 0.0
    per_joint_min: float = 0.0
    close_min: float = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """How a joint is held.

    Attributes:
        whole_line: the joint is cut along its whole length and has no stations (housing, rebate, groove, butt).
        slide_travel: how far the entering panel slides after going straight in.
        strength_n: what one connector carries across the joint, where it is known, with its source.
        step_mm: usual error across the joint (+-), which shows as a step.
    """

    code: str
    name: str
    motion: Motion
    classes: tuple[JointClass, ...]
    rules: StationRules | None = None
    sizes: tuple[SizeForBoard, ...] = ()
    whole_line: bool = False
    slide_travel: float = 0.0
    glue: bool = False
    clamps: bool = False
    undone: bool = False
    held_by_screws: bool = False
    shows: str = ""
    strength_n: float | None = None
    strength_source: str = ""
    step_mm: float = 0.2
    along_mm: float = 0.5
    work: Work = field(default_factory=Work)
    needs: tuple[str, ...] = ()
    note: str = ""
    field: str = ""

    def size_for(self, thickness: float) -> SizeForBoard | None:
        """Return the size for the thinner board of a joint, or None where the method has none.

        The float dust of a difference does not count: a board of 15.5 mm that stands from 52.3875 to 67.8875 is one.
        """
        board = round(thickness, 9)
        return next((s for s in self.sizes if s.low <= board < s.high), None)
