"""A wish: what must go in, where it stands, who uses it, how it shall look and what it may cost. Lengths are mm."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated, Final

from storyrod.measure.length import Unit
from storyrod.model.board import Board, Edging
from storyrod.model.joining import MethodChoice
from storyrod.model.written import AMOUNT, CODE, KEY, Length, Number, Text, Told

HAND_ROOM: Final = 20.0
"""Left free over what stands or lies on a shelf, so that a hand can take it out (mm); common practice, no source."""

DRAWER_ROOM: Final = 5.0
"""Left free over what is in a drawer box (mm); common practice, no source."""

HANG_ROOM: Final = 40.0
"""Left free under hanging clothes (mm); common practice, no source."""

MOST_OF_A_KIND: Final = 100_000
"""So many of one thing may be asked for: whether they go in is another question."""


class Way(StrEnum):
    """How a thing is kept."""

    STANDS = "stands"
    LIES = "lies"
    HANGS = "hangs"


class Reach(StrEnum):
    """How a thing is reached."""

    OPEN = "open"
    DOOR = "door"
    DRAWER = "drawer"
    HANGING = "hanging"


class Zone(StrEnum):
    """At what height a thing is wanted."""

    ANYWHERE = "anywhere"
    NEAR = "near the hand"
    LOW = "low"


class Bound(StrEnum):
    """Whether a size of the place is filled or only not passed."""

    EXACT = "exact"
    AT_MOST = "at most"


class Users(StrEnum):
    """Who reaches for the things."""

    STANDING = "standing"
    WHEELCHAIR = "wheelchair"
    CHILDREN = "children"


class Grows(StrEnum):
    """How drawers over each other grow from the top down."""

    EQUAL = "equal"
    DEEPER = "deeper"


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """A thing of the catalogue, as it is kept."""

    code: Annotated[str, KEY]
    name: Annotated[str, Text(1, 60), Told("What several of it are called.", example="folders")]
    group: Annotated[str, Text(1, 40), Told("The heading that it stands under.", example="paper and folders")]
    width: Annotated[float, Length(1, 2000), Told("What one takes of a shelf or rail.", example=80)]
    height: Annotated[float, Length(1, 2500), Told("Its height as it is kept.", example=315)]
    depth: Annotated[float, Length(1, 1500), Told("Its depth as it is kept.", example=285)]
    way: Annotated[Way, Told("How it is kept.")] = Way.STANDS
    stack: Annotated[int, Number(1, 500, whole=True), Told("How many lie on one another at the most.")] = 1
    kg: Annotated[float, Number(0, 200, "kg"), Told("What one weighs (kg).")] = 0.0
    source: Annotated[str, Text(1, 200), Told("Where its sizes are from.", example="common practice, no source")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Put:
    """Something that must go in: a thing of the catalogue, or one of your own with its sizes."""

    thing: Annotated[
        str, Text(0, 60), Told("Code of a thing in [the catalogue](things.md); leave it out to give sizes of your own.")
    ] = ""
    name: Annotated[str, Text(0, 60), Told("What you call it; the catalogue's name unless set.")] = ""
    count: Annotated[int, Number(1, MOST_OF_A_KIND, whole=True), Told("How many.", title="How many", example=1)]
    reach: Annotated[Reach, Told("How it is reached.")] = Reach.OPEN
    zone: Annotated[Zone, Told("At what height it is wanted.", name="at", title="At what height")] = Zone.ANYWHERE
    width: Annotated[
        float | None, Length(1, 2000), Told("What one takes of a shelf or rail; the catalogue's unless set.")
    ] = None
    height: Annotated[float | None, Length(1, 2500), Told("Its height as it is kept; the catalogue's unless set.")] = (
        None
    )
    depth: Annotated[float | None, Length(1, 1500), Told("Its depth as it is kept; the catalogue's unless set.")] = None
    way: Annotated[Way | None, Told("How it is kept; the catalogue's unless set, a thing of your own stands.")] = None
    stack: Annotated[
        int | None,
        Number(1, 500, whole=True),
        Told("How many lie on one another at the most; the catalogue's unless set."),
    ] = None
    kg: Annotated[float | None, Number(0, 200, "kg"), Told("What one weighs (kg); the catalogue's unless set.")] = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where it stands."""

    width: Annotated[float, Length(1, 6000), Told("Width of the place.", example=900)]
    width_is: Annotated[Bound, Told("Whether the case fills the width or only stays within it.")] = Bound.AT_MOST
    height: Annotated[float, Length(1, 4000), Told("Height of the place.", example=1000)]
    height_is: Annotated[Bound, Told("The same of the height.")] = Bound.AT_MOST
    depth: Annotated[float, Length(1, 2000), Told("Depth of the place, fronts included.", example=400)]
    depth_is: Annotated[Bound, Told("The same of the depth.")] = Bound.AT_MOST
    clearance: Annotated[
        float, Length(0, 200), Told("Left free of the width, both sides together, so that the case goes in.")
    ] = 0.0
    skirting: Annotated[
        float, Length(0, 100), Told("How thick the skirting board is: the case stands so far off the wall.")
    ] = 0.0
    slope_low: Annotated[
        float | None,
        Length(1, 4000),
        Told("Under a slope that rises from side to side: the height at its low side; none unless set."),
    ] = None
    plinth: Annotated[float, Length(0, 500), Told("Height of the plinth; 0 for none.")] = 80.0
    field: str = "place"


@dataclass(frozen=True, slots=True, kw_only=True)
class LookWish:
    """How it shall look."""

    symmetric: Annotated[bool, Told("Whether left and right mirror each other.")] = False
    lines: Annotated[bool, Told("Whether shelf lines run through from column to column.")] = False
    columns: Annotated[int | None, Number(1, 4, whole=True), Told("How many columns; as many as suit unless set.")] = (
        None
    )
    drawers: Annotated[
        Grows, Told("Whether drawers over each other are `equal`, or each `deeper` than the one over it.")
    ] = Grows.EQUAL
    step: Annotated[
        float, Length(1, 200), Told("How much deeper each drawer is.", only=("drawers", (Grows.DEEPER,)))
    ] = 15.0
    weighed: Annotated[bool, Told("Whether the measure of look counts when proposals are weighed.")] = True
    field: str = "look"


@dataclass(frozen=True, slots=True, kw_only=True)
class WishLimits:
    """What it may take."""

    money: Annotated[int | None, AMOUNT, Told("The most it may cost.")] = None
    minutes: Annotated[
        int | None, Number(1, 1_000_000, "min", whole=True), Told("The most minutes it may take to make.")
    ] = None
    sheets: Annotated[int | None, Number(1, 1000, whole=True), Told("The most sheets that are bought.")] = None
    jigs_owned: Annotated[bool, Told("Only proposals that need no jig made first.")] = False
    door_width: Annotated[
        float | None, Length(300, 5000), Told("Width of the narrowest door that a case is carried through.")
    ] = None
    door_height: Annotated[float | None, Length(300, 5000), Told("Height of that door.")] = None
    field: str = "limits"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """A wish file: what must go in, where it stands, what it may cost."""

    title: Annotated[str, Text(0, 100), Told("Title; the file's name unless set.", made=True)]
    workshop: Annotated[
        str, Text(0, 300), Told("Name of the workshop file, beside the wish file; the built-in workshop unless set.")
    ] = ""
    currency: Annotated[str, Text(0, 8), Told("Currency of the prices, shown beside sums.")] = ""
    unit: Annotated[Unit, Told("Unit of bare numbers, and of the job that comes of it.", name="units")] = Unit.MM
    users: Annotated[Users, Told("Who reaches for the things.")] = Users.STANDING
    board: Annotated[
        str, Text(0, 60), Told("Board of the carcass and the fronts, one of `boards`; the first of them unless set.")
    ] = ""
    back_board: Annotated[
        str, Text(0, 60), Told("Board of the back and of drawer bottoms; the carcass board unless set.")
    ] = ""
    drawer_board: Annotated[str, Text(0, 60), Told("Board of drawer boxes; the carcass board unless set.")] = ""
    runner: Annotated[str | None, CODE, Told("Code of the runner; the workshop's own choice unless set.")] = None
    place: Annotated[Place, Told("Where it stands.", example={"width": 900, "height": 1000, "depth": 400}, made=True)]
    things: Annotated[
        tuple[Put, ...], Told("What goes in, each in a `[[things]]` table.", example=[{"thing": "folder", "count": 10}])
    ] = ()
    look: Annotated[LookWish, Told("How it shall look.")] = field(default_factory=LookWish)
    limits: Annotated[WishLimits, Told("What it may take.")] = field(default_factory=WishLimits)
    boards: Annotated[
        tuple[Board, ...],
        Told(
            "Boards by code, as in [a job file](job-file.md).",
            example={"board": {"kind": "plywood", "thickness": 18}},
        ),
    ]
    edgings: Annotated[tuple[Edging, ...], Told("Edgings by code, as in a job file.")] = ()
    methods: Annotated[MethodChoice, Told("Joining method of each class of joint, as in a job file.")] = field(
        default_factory=MethodChoice
    )


# --- What travels on from it ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Goods:
    """Things of one kind that must go in, with the sizes that hold for them."""

    name: str
    count: int
    reach: Reach
    zone: Zone
    width: float
    height: float
    depth: float
    way: Way
    stack: int
    kg: float
    field: str


class MadeBy(StrEnum):
    """What made a size what it is."""

    THINGS = "things"
    RUNNER = "runner"
    PLACE = "place"
    REST = "rest"
    ROWS = "rows"
    ALIKE = "alike"


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """One outside size of a proposal and what made it so.

    Attributes:
        size: "width", "height" or "depth"; `mm` how much it is.
        goods: the things that it comes of, from 0; -1 where it comes of none.
        runner: length of the runner that it comes of (mm); 0 where it comes of none.
    """

    size: str
    mm: float
    by: MadeBy
    goods: int = -1
    runner: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """So many things of one kind in one opening.

    Attributes:
        case: code of the case, and `opening` the path of the opening in the job.
        goods: which of the wish's things, from 0.
        room: so many would go in.
        height, width: clear sizes of the opening, each row of loose shelves by itself; `_by` what made them so (mm).
        turned: whether they stand turned by a quarter.
        layers: how many lie on one another.
    """

    case: str
    opening: str
    goods: int
    count: int
    room: int
    height: float
    height_by: MadeBy
    width: float
    width_by: MadeBy
    turned: bool = False
    layers: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Misfit:
    """A wish that a planned job does not keep, found by the checker.

    Attributes:
        code: which rule: "count", "reach", "zone", "size", "collision", "place".
        goods: which of the things, from 0; -1 for the place.
        where: the opening or the size that it is about.
        wanted, found: figures of it, in the rule's own unit.
    """

    code: str
    goods: int
    where: str
    wanted: float
    found: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How calm a front looks, in four plain measures from 0 to 1, of the openings as planned.

    Attributes:
        lines: share of the shelf lines at a divider that run on beyond it.
        sizes: how few different sizes the openings have: 1 where all are alike.
        progression: share of neighbours over each other where the lower is at least as high as the upper.
        symmetry: share of the openings whose mirror image is an opening as well.
    """

    lines: float
    sizes: float
    progression: float
    symmetry: float

    @property
    def total(self) -> float:
        """Their mean."""
        return (self.lines + self.sizes + self.progression + self.symmetry) / 4


LOOK_SOURCES: Final = {
    "lines": "alignment and economy: Ngo, Teo and Byrne, Modelling interface aesthetics, Information Sciences 152 "
    "(2003); from memory; that lines run through is common practice",
    "sizes": "economy, one over the number of sizes: the same paper; from memory",
    "progression": "rows grow from the top down, by equal steps or a ratio: textbook practice of drawer fronts",
    "symmetry": "symmetry about the vertical axis: the same paper; from memory",
}
"""Where each measure of look comes from."""


class Broken(StrEnum):
    """A wish that can quarrel with others."""

    COUNT = "count"
    ZONE = "zone"
    WIDTH = "width"
    HEIGHT = "height"
    DEPTH = "depth"
    SLOPE = "slope"
    DOOR = "door"
    USERS = "users"
    LOOK = "look"
    MONEY = "money"
    MINUTES = "minutes"
    SHEETS = "sheets"
    JIGS = "jigs"


@dataclass(frozen=True, slots=True, kw_only=True)
class Quarrel:
    """One of the wishes that cannot all be met, and what of it alone would make peace.

    Attributes:
        what: which wish; `goods` of which things, from 0; -1 where it is of none.
        field: where the file says it.
        asked: what it asks, `enough` the nearest that can be had with all others kept (mm, a count, cents or minutes);
            None where it must be left out altogether, or nothing of it helps.
        helps: whether changing it alone makes peace.
    """

    what: Broken
    field: str
    goods: int = -1
    asked: float | None = None
    enough: float | None = None
    helps: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class WhyNot:
    """Why a wish cannot be met: the smallest set of wishes that quarrel.

    Attributes:
        proven: whether it is proven that they cannot be met together; else no way was found within the work allowed.
    """

    quarrels: tuple[Quarrel, ...]
    proven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ReachHeights:
    """Between which heights over the floor a hand reaches, and what counts as near and as low (mm)."""

    lowest: float
    highest: float
    near_from: float
    near_to: float
    low_to: float
    source: str


REACH_HEIGHTS: Final = {
    Users.STANDING: ReachHeights(
        lowest=0.0,
        highest=1900.0,
        near_from=600.0,
        near_to=1500.0,
        low_to=800.0,
        source="common practice, no source",
    ),
    Users.WHEELCHAIR: ReachHeights(
        lowest=380.0,
        highest=1220.0,
        near_from=600.0,
        near_to=1120.0,
        low_to=760.0,
        source="2010 ADA Standards, 308: 15 to 48 in; near and low are common practice; from memory",
    ),
    Users.CHILDREN: ReachHeights(
        lowest=460.0,
        highest=1015.0,
        near_from=460.0,
        near_to=915.0,
        low_to=700.0,
        source="2010 ADA Standards, advisory 308.1, children of 5 to 8: 18 to 40 in; from memory",
    ),
}
"""What a hand reaches; the edge of a shelf counts. From memory where the row says so; ask those who will use it."""
