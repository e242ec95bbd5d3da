"""What cuts are made with: cutters, bushes, tools, jigs, and ways of using them. Lengths are millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Final

from storyrod.model.written import AMOUNT, KEY, Length, Lengths, Names, Number, Text, Told


class CutterKind(StrEnum):
    """The shape of a cutter."""

    DRILL = "drill"
    STRAIGHT = "straight"
    DISC = "disc"
    KEYHOLE = "keyhole"
    UNDERCUT = "undercut"
    COUNTERSINK = "countersink"
    STEPPED = "stepped drill"
    SAW_BLADE = "saw blade"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """A cutter, drill or blade. Its key is its code."""

    code: Annotated[str, KEY]
    kind: Annotated[CutterKind, Told("Its shape.", example="drill")]
    diameter: Annotated[float, Length(0.5, 400), Told("Cutting diameter.", example=5)]
    reach: Annotated[float, Length(1, 300), Told("How deep it cuts below its collet or chuck.", example=40)]
    width: Annotated[
        float | None, Length(0.5, 60), Told("Kerf of a disc or blade; head height of a keyhole or undercut cutter.")
    ] = None
    neck: Annotated[float | None, Length(0.5, 60), Told("Diameter of the neck of a keyhole or undercut cutter.")] = None
    max_rpm: Annotated[
        int | None,
        Number(100, 60000, "a minute", whole=True),
        Told("Highest speed marked on it (turns a minute).", title="highest speed"),
    ] = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bush:
    """A guide bush."""

    diameter: Annotated[float, Length(3, 80), Told("Outside diameter, which runs in the template.", example=17)]
    bore: Annotated[
        float | None, Length(2, 78), Told("Bore that a cutter passes through; diameter less 2 mm unless set.")
    ] = None
    length: Annotated[float, Length(1, 40), Told("How far it projects below the base plate.")] = 8.0
    field: str = ""


class ToolKind(StrEnum):
    """The ways of making a feature."""

    ROUTER = "router"
    ROUTER_TABLE = "router table"
    DISC_CUTTER = "disc cutter"
    LOOSE_TENON_CUTTER = "loose-tenon cutter"
    UNDERCUT_CUTTER = "undercut slot cutter"
    HAND_DRILL = "hand drill"
    DRILL_PRESS = "drill press"
    DRILL_JIG = "drill jig"
    POCKET_JIG = "pocket jig"
    TABLE_SAW = "table saw"
    TRACK_SAW = "track saw"
    HAND_SAW = "hand saw"
    JIGSAW = "jigsaw"
    NC_ROUTER = "numerically controlled router"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A tool. Its key is its code."""

    code: Annotated[str, KEY]
    kind: Annotated[ToolKind, Told("What it is.", example="router")]
    name: Annotated[
        str, Text(0, 100), Told("What you call it; its kind unless set.", title="what you call it", made=True)
    ]
    base_to_centre: Annotated[
        float | None, Length(0, 300), Told("From its flat base to the cutter's centre; measure yours.")
    ] = None
    base_half: Annotated[
        float | None, Length(0, 300), Told("From the cutter's centre to the straight side of its base.")
    ] = None
    error: Annotated[float | None, Length(0, 5), Told("Usual error of its registration (+-).")] = None
    noise_db: Annotated[
        float | None,
        Number(40, 140, "dB(A)"),
        Told(
            "How loud it is at your ear while it cuts (dB(A)): its manual's figure, or your meter's. Without it the "
            "noise of a day is not worked out.",
            title="noise at your ear",
        ),
    ] = None
    owned: Annotated[bool, Told("Whether you own it; false for one you are thinking of buying.")] = True
    price_cents: Annotated[int | None, AMOUNT, Told("What it cost, or would cost.", name="price")] = None
    field: str = ""


BEHIND_STOP: Final = 30.0
"""A jig's template goes on so far behind its stop, unless set (mm); common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Jig:
    """A jig already owned. Its key is its code."""

    code: Annotated[str, KEY]
    name: Annotated[
        str, Text(0, 100), Told("What you call it; its code unless set.", title="what you call it", made=True)
    ]
    stations: Annotated[
        tuple[float, ...],
        Lengths(0, 3000, least=1, rising=True),
        Told("Distances of its openings' centres from the stop.", example=[50, 210]),
    ]
    opening_width: Annotated[float, Length(0.5, 120), Told("Width of an opening, across the joint.", example=17)]
    opening_length: Annotated[float, Length(0.5, 500), Told("Length of an opening, along the joint.", example=17)]
    length: Annotated[
        float, Length(20, 4000), Told("Length of its template from the stop to its far end.", example=600)
    ]
    thickness: Annotated[float, Length(1, 60), Told("Thickness of its template.", example=9)]
    behind_stop: Annotated[
        float, Length(0, 500), Told("How far its template goes on behind the stop, away from its stations.")
    ] = BEHIND_STOP
    near: Annotated[
        float | None,
        Length(1, 500),
        Told("From the middle of its openings to the long edge where you clamp it; a jig for a router needs it."),
    ] = None
    far: Annotated[
        float | None,
        Length(1, 500),
        Told("From the middle of its openings to the long edge at fence or line; a jig for a router needs it."),
    ] = None
    for_mid_panel: Annotated[bool, Told("Whether it serves mid-panel joints.", title="for mid-panel joints")] = False
    field: str = ""


class Registration(StrEnum):
    """Where a tool is placed from, across the line of the cuts."""

    FENCE = "fence or jig on the reference face"
    BASE = "tool's base on the reference face"
    EDGE = "fence against an edge"
    LINE = "straight edge on a line"
    MARK = "centre marks"
    MATE = "through the mate"
    PROGRAM = "program"


class Along(StrEnum):
    """How the places along a line of cuts are found."""

    JIG = "stations of a jig"
    MARKS = "marks"
    RUN = "run along"
    PROGRAM = "program"


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way of making a kind of feature. Its key is its code."""

    code: Annotated[str, KEY]
    name: Annotated[
        str, Text(0, 100), Told("What you call it; its code unless set.", title="what you call it", made=True)
    ]
    tool: Annotated[ToolKind, Told("Kind of tool it takes.", example="router")]
    cutter: Annotated[CutterKind | None, Told("Kind of cutter in it; none where the tool has its own.")] = None
    makes: Annotated[
        tuple[str, ...],
        Names(1, 20),
        Told("Kinds of feature it makes, by the names that the set-out uses.", example=["hole"]),
    ]
    on_edges: Annotated[bool, Told("Whether it works on edges and ends.")] = False
    on_faces: Annotated[bool, Told("Whether it works on faces.")] = False
    registration: Annotated[
        Registration, Told("Where the tool is placed from, across the line of the cuts.", example="centre marks")
    ]
    along: Annotated[Along, Told("How the places along the line are found.", example="marks")]
    bush: Annotated[bool, Told("Whether a guide bush runs in a template.")] = False
    jig_thickness: Annotated[
        float | None,
        Length(3, 80),
        Told("Thickness of the jig the cutter reaches through; `template_thickness` unless set."),
    ] = None
    stopped: Annotated[bool, Told("Whether it can stop a groove or housing within the panel.")] = True
    from_edge: Annotated[
        float | None, Length(1, 3000), Told("How far from an edge or end it reaches; everywhere unless set.")
    ] = None
    error_across: Annotated[
        float | None, Length(0, 5), Told("Usual error of a cut across its line (+-); the tool's own unless set.")
    ] = None
    error_along: Annotated[
        float | None, Length(0, 5), Told("Usual error of a cut along its line (+-); the tool's own unless set.")
    ] = None
    place_act: Annotated[str, Text(0, 100), Told("Act of `times` for placing it once; nothing unless set.")] = ""
    cut_act: Annotated[str, Text(0, 100), Told("Act of `times` for one cut; nothing unless set.")] = ""
    per_metre: Annotated[bool, Told("Whether the act is told per metre of cut.")] = False
    field: str = ""
