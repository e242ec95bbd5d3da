"""A joining method is data: what it cuts in both panels, what it uses up, how the panel goes home.

A cut is written with respect to one station of a joint. Positions: `along` the joint line from the station;
`across` it from the middle of the entering board's thickness (or from its face side where `from_face_side`
is given), so that both halves share one axis.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from storyrod.model.joining import JointClass
from storyrod.model.written import KEY, Length, Names, Number, Text, Told

Figure = Annotated[float | None, Length(0.1, 500)]
Minutes = Annotated[float, Number(0, 600, "min")]


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
    """One cut of a method, in the receiving or the entering panel."""

    kind: Annotated[CutKind, Told("What is cut.", example="hole")]
    place: Annotated[
        CutPlace,
        Told("Where: at the joint itself, from the receiving panel's outside, or in the entering panel's face."),
    ] = CutPlace.JOINT
    diameter: Annotated[Figure, Told("Of a hole, a keyhole's entry or an angled pocket.")] = None
    length: Annotated[Figure, Told("Of a slot overall; of an angled pocket along its axis.")] = None
    width: Annotated[
        Figure, Told("Of a slot or segment pocket, a keyhole's neck, an undercut slot's mouth, a pocket's pilot.")
    ] = None
    depth: Annotated[Figure, Told("Below the surface that is worked.")] = None
    through: Annotated[bool, Told("Whether a hole goes through the board.")] = False
    countersink: Annotated[Figure, Told("Diameter of a 90 degree countersink at the surface.")] = None
    undercut_width: Annotated[Figure, Told("Of a keyhole or undercut slot, below its lip.")] = None
    lip: Annotated[Figure, Told("Board left above an undercut.")] = None
    travel: Annotated[Figure, Told("Of a keyhole, from the entry's centre to the lock's.")] = None
    disc: Annotated[Figure, Told("Diameter of the disc that cuts a segment pocket.")] = None
    angle_deg: Annotated[float | None, Number(5, 60, "degrees"), Told("Of an angled pocket to the face.")] = None
    inset: Annotated[
        Figure,
        Told("From the entering panel's edge to a cut in its face; worked out for an angled pocket unless set."),
    ] = None
    along: Annotated[float, Length(-500, 500), Told("From the station, along the joint.")] = 0.0
    across: Annotated[
        float, Length(-50, 50), Told("From the middle of the entering board, away from its face side.")
    ] = 0.0
    name: Annotated[str, Text(0, 60), Told("What the cut is for.", title="what you call it")] = ""


class FittedIn(StrEnum):
    """In which panel of a joint something is fitted before the joint is closed."""

    ENTERING = "entering"
    RECEIVING = "receiving"
    BOTH = "both"


@dataclass(frozen=True, slots=True, kw_only=True)
class Consumed:
    """Something a method uses up."""

    item: Annotated[str, Text(1, 100), Told("What it is called in the lists.", example="dowel 8 x 35")]
    each: Annotated[int, Number(0, 100, whole=True), Told("How many at every station.")] = 1
    per_joint: Annotated[int, Number(0, 100, whole=True), Told("How many once a joint.")] = 0
    turned: Annotated[bool, Told("Whether it locks only when it is turned, as a cam.")] = False
    fitted_in: Annotated[
        FittedIn,
        Told("In which panel it is fitted before the joint is closed; `both` where it has a half in each."),
    ] = FittedIn.ENTERING


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeForBoard:
    """The cuts and connectors for boards from `low` up to, but not including, `high`."""

    low: Annotated[float, Length(1, 100), Told("Thinnest measured board that it suits.", example=17)]
    high: Annotated[float, Length(1, 200), Told("Boards must be thinner than this.", example=18.5)]
    receiving: Annotated[tuple[Cut, ...], Told("Cuts in the receiving panel.")] = ()
    entering: Annotated[tuple[Cut, ...], Told("Cuts in the entering panel.")] = ()
    consumes: Annotated[tuple[Consumed, ...], Told("What is used up.")] = ()
    enters: Annotated[
        float, Length(0, 100), Told("How far the entering panel goes into the receiving one (housing, rebate).")
    ] = 0.0
    width_slack: Annotated[float, Length(0, 2), Told("How much wider than the measured board a housing is cut.")] = 0.0
    stop_short: Annotated[float, Length(0, 200), Told("How far short of the front edge a housing stops.")] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class StationRules:
    """Where along a joint the connectors may stand."""

    end: Annotated[float, Length(1, 1000), Told("From the joint's end to the first station.")]
    end_min: Annotated[float, Length(1, 1000), Told("The least distance of a station from an end.")]
    pitch: Annotated[float, Length(5, 2000), Told("The greatest distance from station to station.")]
    gap_min: Annotated[float, Length(1, 1000), Told("The least distance from station to station.")]
    least: Annotated[int, Number(1, 50, whole=True), Told("How many a joint must have.")] = 2
    single: Annotated[bool, Told("Whether one in the middle will do where there is no room for that many.")] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Minutes of one person."""

    setup_min: Annotated[Minutes, Told("To set up, once a run.")] = 0.0
    per_station_receiving_min: Annotated[Minutes, Told("To cut one station in the receiving panel.")] = 0.0
    per_station_entering_min: Annotated[Minutes, Told("To cut one station in the entering panel.")] = 0.0
    fit_min: Annotated[Minutes, Told("To fit one connector.")] = 0.0
    per_joint_min: Annotated[Minutes, Told("Once a joint: cutting it, glue, clamps.")] = 0.0
    close_min: Annotated[Minutes, Told("To close one joint at assembly.")] = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """How a joint is held. Its key is the code by which jobs choose it."""

    code: Annotated[str, KEY]
    name: Annotated[
        str, Text(0, 100), Told("What the packet calls it; its code unless set.", title="what you call it", made=True)
    ]
    motion: Annotated[Motion, Told("How the entering panel goes home.", example="straight")]
    classes: Annotated[tuple[JointClass, ...], Names(1, 5), Told("Classes of joint that it may hold.")]
    rules: Annotated[StationRules | None, Told("Where its stations stand; none where it has no stations.")] = None
    sizes: Annotated[tuple[SizeForBoard, ...], Told("Cuts and connectors by the board's thickness.")] = ()
    whole_line: Annotated[bool, Told("Whether it is cut along the whole joint and has no stations.")] = False
    slide_travel: Annotated[float, Length(0, 500), Told("How far the panel slides home.")] = 0.0
    glue: Annotated[bool, Told("Whether it needs glue.")] = False
    clamps: Annotated[bool, Told("Whether it needs clamps.")] = False
    undone: Annotated[bool, Told("Whether it can be undone.")] = False
    held_by_screws: Annotated[bool, Told("Whether screws alone hold it.")] = False
    shows: Annotated[str, Text(0, 200), Told("What can be seen of it.")] = ""
    strength_n: Annotated[
        float | None,
        Number(1, 1000000.0, "N"),
        Told("What one connector carries across the joint (N), where it is known."),
    ] = None
    strength_source: Annotated[str, Text(0, 300), Told("Where that figure comes from.")] = ""
    step_mm: Annotated[float, Length(0, 5), Told("Usual error across the joint (+-).")] = 0.2
    along_mm: Annotated[float, Length(0, 20), Told("Usual error along the joint (+-).")] = 0.5
    work: Annotated[Work, Told("Minutes.")] = field(default_factory=Work)
    needs: Annotated[tuple[str, ...], Names(0, 20), Told("Kinds of tool and cutter it needs.")] = ()
    note: Annotated[str, Text(0, 500), Told("What the maker should mind.")] = ""
    field: str = ""

    def size_for(self, thickness: float) -> SizeForBoard | None:
        """Return the size for the thinner board of a joint, or None where the method has none.

        The float dust of a difference does not count: a board of 15.5 mm that stands from 52.3875 to 67.8875 is one.
        """
        board = round(thickness, 9)
        return next((s for s in self.sizes if s.low <= board < s.high), None)
