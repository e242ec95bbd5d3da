"""What the maker asks for: boards, cases and how they are to be joined.

Lengths are millimetres. Every part keeps `field`, the path at which the maker wrote it, so that a fault found
much later still points to the line that caused it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from storyrod.measure.length import FINEST, MM_PER_INCH, Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.board import Board, BoardKind, Edging, SheetSize
from storyrod.model.case import (
    REBATED_CLEARANCE,
    Back,
    BackKind,
    BetweenOrOver,
    BottomKind,
    Case,
    Drawers,
    Fits,
    Fronts,
    LooseShelves,
    OuterSide,
    Plinth,
    RailsStand,
)
from storyrod.model.feet import Feet
from storyrod.model.glue_time import Gluing
from storyrod.model.hung import Hung, HungBy, WallKind
from storyrod.model.joining import JointClass, JointOverride, MethodChoice, Spread
from storyrod.model.obstacles import Fillers, PipeCutOut, PipedPanel, Scribe, Skirting
from storyrod.model.opening import (
    ClothesRail,
    Contents,
    FrontKind,
    GraduatedBy,
    Graduation,
    HandHold,
    HandHoldKind,
    HingeSide,
    Holds,
    Opening,
    Split,
)
from storyrod.model.quoting import Finish
from storyrod.model.use import Climate, Floor, Limits, Loads, Use
from storyrod.model.worktop import Worktop
from storyrod.model.written import Length, OneOf, Text, Told

__all__ = [
    "REBATED_CLEARANCE",
    "Back",
    "BackKind",
    "BetweenOrOver",
    "Board",
    "BoardKind",
    "BottomKind",
    "Case",
    "Climate",
    "ClothesRail",
    "Contents",
    "Drawers",
    "Edging",
    "Feet",
    "Fillers",
    "Finish",
    "Fits",
    "Floor",
    "FrontKind",
    "Fronts",
    "Gluing",
    "GraduatedBy",
    "Graduation",
    "HandHold",
    "HandHoldKind",
    "HingeSide",
    "Holds",
    "Hung",
    "HungBy",
    "Job",
    "JointClass",
    "JointOverride",
    "Limits",
    "Loads",
    "LooseShelves",
    "MethodChoice",
    "Opening",
    "OuterSide",
    "Paper",
    "PipeCutOut",
    "PipedPanel",
    "Plinth",
    "RailsStand",
    "Scribe",
    "SheetSize",
    "Skirting",
    "Split",
    "Spread",
    "Use",
    "WallKind",
    "Worktop",
]


class Paper(StrEnum):
    """Paper sizes the packet is printed on."""

    A4 = "A4"
    A3 = "A3"
    LETTER = "Letter"


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A job file: boards, cases and how they are joined."""

    title: Annotated[str, Text(0, 100), Told("Title; the file's name unless set.", made=True)]
    maker: Annotated[str, Text(0, 100), Told("Who makes it.")] = ""
    customer: Annotated[str, Text(0, 100), Told("Who it is for.")] = ""
    customer_address: Annotated[
        str, Text(0, 400, lines=True), Told("The customer's address, for the quotation.", title="Their address")
    ] = ""
    number: Annotated[
        str, Text(0, 40), Told("Number of the quotation; one made from the plan unless set.", title="Quotation number")
    ] = ""
    description: Annotated[
        str,
        Text(0, 2000, lines=True),
        Told("What it is, in words for the customer; a quotation says it above the price.", title="For the quotation"),
    ] = ""
    finish: Annotated[Finish | None, Told("What bare boards are finished with; nothing unless set.")] = None
    note: Annotated[str, Text(0, 2000, lines=True), Told("Anything to be printed on the cover.")] = ""
    currency: Annotated[str, Text(0, 8), Told("Currency of the prices, shown beside sums.")] = ""
    paper: Annotated[Paper, Told("Paper the packet is printed on.")] = Paper.A4
    unit: Annotated[
        Unit,
        Told(
            "Unit of bare numbers, and of what is shown and printed. Any length may be written with its own unit.",
            name="units",
            title="Unit",
        ),
    ] = Unit.MM
    fraction: Annotated[
        int,
        OneOf((8, 16, 32, 64)),
        Told(
            "In inches: marks are made to this part of an inch; figures between its lines are shown in decimals.",
            title="Inches to",
        ),
    ] = 32
    mark_to: Annotated[
        float,
        Length(0.05, 5),
        Told(
            "Step to which marks are rounded, once, and alike on both mating panels; in inches the `fraction`, "
            "unless this is a line of a rule itself.",
            title="Round marks to",
        ),
    ] = 0.5
    spread: Annotated[
        Spread,
        Told(
            "How stations are spread: a `ladder` of fixed steps from the face edge, so that one set of stops "
            "serves every joint; `even`; or `shared`: a ladder whose stations are then moved within the "
            "method's rules where fewer stations of a jig serve all joints that way."
        ),
    ] = Spread.LADDER
    limits: Annotated[Limits, Told("How thin the board may get.")] = field(default_factory=Limits)
    gluing: Annotated[Gluing, Told("Who glues up, and in how many goes.")] = field(default_factory=Gluing)
    use: Annotated[Use, Told("How the pieces will stand and be used.")] = field(default_factory=Use)
    boards: Annotated[
        tuple[Board, ...],
        Told(
            "Boards by code, each in its own table such as `[boards.birch18]`.",
            example={"board": {"kind": "plywood", "thickness": 18}},
        ),
    ]
    edgings: Annotated[tuple[Edging, ...], Told("Edgings by code, each in its own table such as `[edgings.oak]`.")] = ()
    methods: Annotated[MethodChoice, Told("Joining method of each class of joint.")] = field(
        default_factory=MethodChoice
    )
    overrides: Annotated[
        tuple[JointOverride, ...], Told("Single joints made another way, each in a `[[joints]]` table.", name="joints")
    ] = ()
    cases: Annotated[
        tuple[Case, ...],
        Told("Cases, each in a `[[cases]]` table.", example=[{"code": "A", "width": 600, "height": 720, "depth": 400}]),
    ]

    @property
    def lengths(self) -> LengthWriter:
        """How every length of this job is written, in words and on pages."""
        return LengthWriter(self.unit, self.fraction)

    @property
    def mark_step(self) -> float:
        """The step to which marks are rounded (mm): `mark_to`, in an inch job the fraction of its rule.

        An inch job may say a `mark_to` of its own where that is a line of a rule, a whole number of 1/64 in.
        """
        if self.unit is Unit.MM:
            return self.mark_to
        finest = MM_PER_INCH / FINEST
        is_on_rule = abs(self.mark_to / finest - round(self.mark_to / finest)) < 1e-6
        return self.mark_to if is_on_rule else MM_PER_INCH / self.fraction

    def board(self, code: str) -> Board:
        """Return the board with this code; reading has made sure that it is there."""
        return next(b for b in self.boards if b.code == code)

    def edging(self, code: str) -> Edging:
        """Return the edging with this code; reading has made sure that it is there."""
        return next(e for e in self.edgings if e.code == code)
