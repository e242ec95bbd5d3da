"""A case: its sizes, its back and plinth, its fronts, drawers and loose shelves. Lengths are millimetres."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated, Final

from storyrod.model.feet import Feet
from storyrod.model.hung import RAIL_WIDTH, Hung
from storyrod.model.joining import MethodChoice
from storyrod.model.obstacles import Fillers, PipeCutOut, Scribe, Skirting
from storyrod.model.opening import FrontKind, HandHold, HandHoldKind, Opening
from storyrod.model.worktop import Worktop
from storyrod.model.written import CODE, CaseCode, Choice, Length, Number, OneOf, Text, Told


class BetweenOrOver(StrEnum):
    """How a top or base meets the sides."""

    BETWEEN_SIDES = "between sides"
    OVER_SIDES = "over sides"
    UNDER_SIDES = "under sides"
    RAILS = "rails"
    NONE = "none"


class RailsStand(StrEnum):
    """How the rails in place of a top lie: flat, or on their edges."""

    FLAT = "flat"
    UPRIGHT = "upright"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plinth:
    """The plinth (toe kick): a board between the sides under the base, set back."""

    height: Annotated[float, Length(20, 500), Told("From the floor to the base's underside.", example=80)]
    setback: Annotated[float, Length(0, 500), Told("How far its face stands behind the carcass front.")] = 40.0
    board: Annotated[str | None, CODE, Told("Board; the case's unless set.")] = None
    back_rail: Annotated[
        bool, Told("Whether a second board stands under the base at the rear.", title="Rear board as well")
    ] = False
    field: str = "plinth"


class BackKind(StrEnum):
    """The four kinds of back, and none."""

    APPLIED = "applied"
    REBATED = "rebated"
    GROOVED = "grooved"
    BETWEEN = "between"
    NONE = "none"


REBATED_CLEARANCE: Final = 1.0
"""How much smaller a rebated back is than its rebates, in all, unless the job says otherwise (mm): it drops in with
rebates and edges as they come from the tools; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Back:
    """The back. A word alone, such as `back = "none"`, stands for a table with that kind."""

    kind: Annotated[
        BackKind,
        Told(
            "`applied` over the rear edges, `rebated` into a step in them, `grooved` into a groove, `between` "
            "the panels, or `none`.",
            example="applied",
            alone=True,
        ),
    ]
    board: Annotated[
        str | None,
        CODE,
        Told(
            "Board of the back; the case's unless set.",
            only=("kind", (BackKind.APPLIED, BackKind.REBATED, BackKind.GROOVED, BackKind.BETWEEN)),
        ),
    ] = None
    inset: Annotated[
        float,
        Length(0, 300),
        Told(
            "How far a grooved or between back's rear face lies in front of the carcass's rear edge; in a case that "
            "hangs on a wall, what its rail needs unless set.",
            only=("kind", (BackKind.GROOVED, BackKind.BETWEEN)),
        ),
    ] = 0.0
    in_top: Annotated[
        bool,
        Told(
            "Whether the rebate or groove runs in the top as well; if not, the back runs past it.",
            title="Runs in the top",
            only=("kind", (BackKind.GROOVED, BackKind.REBATED)),
        ),
    ] = True
    in_base: Annotated[
        bool,
        Told(
            "Whether the rebate or groove runs in the base as well; if not, the back runs past it.",
            title="Runs in the base",
            only=("kind", (BackKind.GROOVED, BackKind.REBATED)),
        ),
    ] = True
    clearance: Annotated[
        float,
        Length(0, 4),
        Told(
            "How much smaller a rebated back is than the room between its rebates, in all; so it drops in.",
            only=("kind", (BackKind.REBATED,)),
        ),
    ] = REBATED_CLEARANCE
    field: str = "back"


class OuterSide(StrEnum):
    """A side of the case that fronts end at, by the field that says how."""

    TOP = "at_top"
    BOTTOM = "at_bottom"
    LEFT = "at_left"
    RIGHT = "at_right"


LEAST_FRONT_GAP: Final = 0.5
"""Least gap that is written for a front (mm); common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fronts:
    """How the drawer fronts and doors of the case are made."""

    kind: Annotated[FrontKind, Told("`inset` between the carcass's edges, or `overlay` over them.")] = FrontKind.OVERLAY
    board: Annotated[str | None, CODE, Told("Board; the case's unless set.")] = None
    gap: Annotated[
        float,
        Length(LEAST_FRONT_GAP, 30),
        Told("Clear gap all round an inset front, and between neighbouring overlay fronts."),
    ] = 3.0
    reveal: Annotated[
        float,
        Length(0, 60),
        Told("Strip of carcass that overlay fronts leave showing at the outside.", only=("kind", (FrontKind.OVERLAY,))),
    ] = 1.5
    at_top: Annotated[
        float | None,
        Length(0, 60),
        Told(
            "The same under the case's top: the strip overlay fronts leave showing, the gap of inset ones; `reveal` "
            "or `gap` "
            "unless set.",
            title="At the case's top",
        ),
    ] = None
    at_bottom: Annotated[
        float | None, Length(0, 60), Told("The same over the case's base.", title="At the case's base")
    ] = None
    at_left: Annotated[
        float | None, Length(0, 60), Told("The same at the case's left side.", title="At the case's left")
    ] = None
    at_right: Annotated[
        float | None, Length(0, 60), Told("The same at the case's right side.", title="At the case's right")
    ] = None
    back: Annotated[
        float,
        Length(0, 100),
        Told("How far inset fronts stand behind the carcass's front edge.", only=("kind", (FrontKind.INSET,))),
    ] = 0.0
    hand_hold: Annotated[HandHold, Told("Hand hold of every front; none unless set.")] = field(
        default_factory=lambda: HandHold(kind=HandHoldKind.NONE)
    )
    matching_grain: Annotated[bool, Told("Whether fronts above one another are cut from one run of grain.")] = False
    field: str = "fronts"

    def outer(self, side: OuterSide, *, inset: bool) -> float:
        """Return what a front leaves at one side of the case: the strip that shows, or the gap of an inset one (mm)."""
        own = {
            OuterSide.TOP: self.at_top,
            OuterSide.BOTTOM: self.at_bottom,
            OuterSide.LEFT: self.at_left,
            OuterSide.RIGHT: self.at_right,
        }[side]
        if own is not None:
            return own
        return self.gap if inset else self.reveal


class BottomKind(StrEnum):
    """How a drawer's bottom is held."""

    GROOVED = "grooved"
    APPLIED = "applied"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawers:
    """How the drawer boxes of the case are made."""

    runner: Annotated[str | None, CODE, Told("Code of the runner; the workshop's own choice unless set.")] = None
    board: Annotated[str | None, CODE, Told("Board of sides, box front and back; the case's unless set.")] = None
    bottom_board: Annotated[
        str | None,
        CODE,
        Told("Board of the bottom; the back's, else the box's, unless set.", title="Board of the bottom"),
    ] = None
    bottom: Annotated[BottomKind, Told("`grooved` into the box, or `applied` under it.")] = BottomKind.GROOVED
    bottom_up: Annotated[
        float,
        Length(3, 60),
        Told("From the lower edge of the sides to the underside of a grooved bottom.", title="Bottom up by"),
    ] = 10.0
    room_above: Annotated[
        float | None, Length(0, 300), Told("Left free above the box in its opening; the runner's figure unless set.")
    ] = None
    room_below: Annotated[
        float | None, Length(0, 300), Told("Left free below the box in its opening; the runner's figure unless set.")
    ] = None
    field: str = "drawers"


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseShelves:
    """How loose shelves and their rows of pin holes are made: the 32 mm system unless set."""

    board: Annotated[str | None, CODE, Told("Board; the case's unless set.")] = None
    set_back: Annotated[
        float, Length(0, 300), Told("How far the shelf's front stands behind the front edge of what carries it.")
    ] = 10.0
    slack: Annotated[float, Length(0, 10), Told("Left free at each end of a shelf.")] = 1.0
    behind: Annotated[float, Length(0, 300), Told("Left free between shelf and back.")] = 5.0
    hole: Annotated[float, Length(2, 15), Told("Diameter of the pin holes.")] = 5.0
    hole_depth: Annotated[float, Length(3, 40), Told("Depth of the pin holes.")] = 12.0
    pitch: Annotated[float, Length(8, 300), Told("From hole to hole.")] = 32.0
    from_front: Annotated[
        float, Length(8, 500), Told("From the front edge of side or divider to the first column of holes.")
    ] = 37.0
    from_back: Annotated[
        float, Length(8, 500), Told("From the rear edge of side or divider to the last column of holes.")
    ] = 37.0
    margin: Annotated[
        float, Length(8, 1000), Told("Least distance of the first and last hole from the ends of the opening.")
    ] = 64.0
    rows_each_way: Annotated[
        int | None,
        Number(0, 60, whole=True),
        Told(
            "How many rows of holes are bored above and below the one under each shelf; all that there is room for "
            "unless set.",
            title="Rows above and below a shelf",
        ),
    ] = None
    field: str = "loose_shelves"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fits:
    """The place the case must go into. A size that the case leaves out follows from it, less the clearance."""

    width: Annotated[float | None, Length(50, 6000), Told("Width of the place.")] = None
    height: Annotated[float | None, Length(50, 6000), Told("Height of the place.")] = None
    depth: Annotated[float | None, Length(50, 3000), Told("Depth of the place.")] = None
    clearance: Annotated[float, Length(0, 200), Told("What is left free in each direction, both sides together.")] = 0.0
    field: str = "fits"


TOPS: Final = (BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.OVER_SIDES, BetweenOrOver.RAILS, BetweenOrOver.NONE)
BASES: Final = (BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.UNDER_SIDES, BetweenOrOver.NONE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One carcass. Sizes are of its outside, with an applied back and without overlay fronts."""

    code: Annotated[str, CaseCode(12), Told("Short code, the first part of every panel's mark.", example="A")]
    name: Annotated[str, Text(0, 100), Told("What you call it; the code unless set.", made=True)]
    count: Annotated[int, Number(1, 1000, whole=True), Told("How many are made alike.", title="How many alike")] = 1
    width: Annotated[float, Length(80, 5000), Told("Outside width; may be left out where `fits` gives it.", made=True)]
    height: Annotated[
        float,
        Length(60, 4000),
        Told("Outside height with the plinth; may be left out where `fits` gives it.", made=True),
    ]
    depth: Annotated[
        float,
        Length(60, 2000),
        Told("Outside depth without overlay fronts; may be left out where `fits` gives it.", made=True),
    ]
    board: Annotated[
        str,
        CODE,
        Told("Code of the carcass board; may be left out where the job has one board only.", made=True),
    ]
    top: Annotated[
        BetweenOrOver, Choice(BetweenOrOver, TOPS), Told("How the top meets the sides, or what there is instead of it.")
    ] = BetweenOrOver.BETWEEN_SIDES
    rail_width: Annotated[
        float,
        Length(30, 600),
        Told("Width of the rails used instead of a top.", only=("top", (BetweenOrOver.RAILS,))),
    ] = RAIL_WIDTH
    rail_count: Annotated[
        int,
        OneOf((2, 3)),
        Told(
            "How many rails there are instead of a top: front and back, or one in the middle as well.",
            only=("top", (BetweenOrOver.RAILS,)),
        ),
    ] = 2
    rails_stand: Annotated[
        RailsStand,
        Told(
            "`flat` under a worktop, or `upright` on their edges: then all that is inside ends below them, and the "
            "back one is screwed to the wall.",
            only=("top", (BetweenOrOver.RAILS,)),
        ),
    ] = RailsStand.FLAT
    back_rail: Annotated[
        float | None,
        Length(40, 300),
        Told(
            "Width of a rail under the top, behind a set-in back, by which a case that stands is screwed to its "
            "wall (a nailing strip); none unless set."
        ),
    ] = None
    base: Annotated[BetweenOrOver, Choice(BetweenOrOver, BASES), Told("How the base meets the sides.")] = (
        BetweenOrOver.BETWEEN_SIDES
    )
    edged: Annotated[bool, Told("Whether visible edges get the edging of their board.", title="Edges covered")] = True
    edged_ends: Annotated[
        bool,
        Told(
            "Whether the ends of the sides get it as well where they show: the top ends where there is no top, the "
            "bottom ends of a case that hangs.",
            title="Ends of sides covered",
        ),
    ] = False
    plinth: Annotated[Plinth | None, Told("Plinth under the base; none unless set.")] = None
    feet: Annotated[Feet | None, Told("Levelling feet instead of a plinth; none unless set.")] = None
    hung: Annotated[Hung | None, Told("How it hangs on a wall; it stands on the floor unless set.")] = None
    worktop: Annotated[Worktop | None, Told("A worktop of its own that lies on it; none unless set.")] = None
    skirting: Annotated[
        Skirting | None, Told("A skirting board on the wall behind it, which its sides are notched for.")
    ] = None
    scribe: Annotated[
        Scribe | None, Told("Sides made deeper than the case, to be scribed to the wall behind it; none unless set.")
    ] = None
    fillers: Annotated[
        Fillers | None, Told("Filler strips between the case and the walls beside it; none unless set.")
    ] = None
    cut_outs: Annotated[
        tuple[PipeCutOut, ...], Told("Cut-outs for pipes and cables, each in a `[[cases.cut_outs]]` table.")
    ] = ()
    back: Annotated[Back, Told("Back; none unless set.")] = field(default_factory=lambda: Back(kind=BackKind.NONE))
    fits: Annotated[Fits | None, Told("The place it must fit.")] = None
    inside: Annotated[Opening, Told("What is inside, as a tree of openings.")] = field(default_factory=Opening)
    fronts: Annotated[Fronts, Told("Drawer fronts and doors.")] = field(default_factory=Fronts)
    drawers: Annotated[Drawers, Told("Drawer boxes.")] = field(default_factory=Drawers)
    loose_shelves: Annotated[LooseShelves, Told("Loose shelves and pin holes.")] = field(default_factory=LooseShelves)
    methods: Annotated[MethodChoice | None, Told("Joining methods of this case, where they differ from the job's.")] = (
        None
    )
    field: str = ""

    @property
    def raised(self) -> float:
        """How high above the floor its sides end where it stands on feet (mm); 0 where they run to the floor."""
        return self.feet.height if self.feet is not None else 0.0

    @property
    def clear_of_wall(self) -> float:
        """How far before its rear a skirting board reaches, with the notch's clearance (mm); 0 without one."""
        if self.skirting is None:
            return 0.0
        return max(0.0, self.skirting.out - (self.worktop.back if self.worktop is not None else 0.0))
