"""What the maker asks for: boards, cases and how they are to be joined.

Lengths are millimetres. Every part keeps `field`, the path at which the maker wrote it, so that a fault found
much later still points to the line that caused it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from storyrod.measure.length import FINEST, MM_PER_INCH, Unit
from storyrod.measure.writing import LengthWriter


class BoardKind(StrEnum):
    """What a sheet is made of, as far as joints and strength care."""

    CHIPBOARD = "chipboard"
    FACED_CHIPBOARD = "faced chipboard"
    MDF = "mdf"
    PLYWOOD = "plywood"
    BLOCKBOARD = "blockboard"
    HARDBOARD = "hardboard"
    SOLID = "solid wood"
    OTHER = "other"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSize:
    """A size in which a board is bought; `length` runs along the grain. `price_cents` is of one sheet."""

    length: float
    width: float
    price_cents: int | None = None
    copies: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Edging:
    """A strip put on an edge: tape, or a solid lipping (then `solid` is true)."""

    code: str
    name: str
    thickness: float
    price_cents_per_m: int | None = None
    solid: bool = False
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One kind of sheet as it lies in the workshop.

    Attributes:
        thickness: nominal, the name it goes by.
        measured: what the callipers say; every size is worked out from it.
        measured_given: whether the maker measured it; if not, `measured` is the nominal figure.
        spread: half the range of the measured thickness over the sheet (+-).
        grain: whether the faces have a grain that matters.
        density_kg_m3: its mass for its volume.
        stiffness_n_mm2: bending modulus along the grain; None where it is not known.
        stiffness_across_n_mm2: the same across the grain.
        named_figures: which of density and stiffness are defaults of the board's kind, not the maker's.
    """

    code: str
    name: str
    kind: BoardKind
    thickness: float
    measured: float
    measured_given: bool
    spread: float
    sheets: tuple[SheetSize, ...]
    grain: bool
    density_kg_m3: float
    stiffness_n_mm2: float | None
    stiffness_across_n_mm2: float | None
    edging: str | None = None
    named_figures: tuple[str, ...] = ()
    field: str = ""


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
    """The joining method for each class of joint, by the method's code; None means the workshop's own."""

    corner: str | None = None
    mid_panel: str | None = None
    plinth: str | None = None
    back: str | None = None
    drawer_box: str | None = None
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
    """Another method, or another spread of stations, for one joint.

    The joint is named by the case and the names of its two panels in either order, as the packet prints them.
    """

    case: str
    between: tuple[str, str]
    method: str | None = None
    spread: Spread | None = None
    field: str = ""


class BetweenOrOver(StrEnum):
    """How a top or base meets the sides."""

    BETWEEN_SIDES = "between sides"
    OVER_SIDES = "over sides"
    UNDER_SIDES = "under sides"
    RAILS = "rails"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class Plinth:
    """The recessed base: a board between the sides, `setback` behind the carcass front."""

    height: float
    setback: float
    board: str | None = None
    back_rail: bool = False
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
    """The back of a case.

    `inset` is how far a grooved or between back's rear face lies in front of the carcass's rear edge.
    `in_top` and `in_base` say whether the rebate or groove runs in the top and base as well as in the sides.
    `clearance` is how much smaller a rebated back is than the room between its rebates, in all, half of it at each.
    """

    kind: BackKind
    board: str | None = None
    inset: float = 0.0
    in_top: bool = True
    in_base: bool = True
    clearance: float = REBATED_CLEARANCE
    field: str = "back"


class Holds(StrEnum):
    """What an opening holds."""

    OPEN = "open"
    DRAWER = "drawer"
    DOOR = "door"
    PAIR_OF_DOORS = "pair of doors"
    LOOSE_SHELVES = "loose shelves"


class Contents(StrEnum):
    """What stands in an opening, where no load is said: sets its usual load."""

    BOOKS = "books"
    CROCKERY = "crockery"
    TOOLS = "tools"
    CLOTHES = "clothes"
    LIGHT = "light things"


class Split(StrEnum):
    """How an opening is cut: into rows from the top down, or columns from the left."""

    ROWS = "rows"
    COLUMNS = "columns"


class HandHoldKind(StrEnum):
    """How a front is pulled open."""

    NONE = "none"
    ROUND = "round hole"
    SLOT = "slot"
    SCOOP = "scoop"


@dataclass(frozen=True, slots=True, kw_only=True)
class HandHold:
    """A hand hold cut in a front.

    `length` across the front (the diameter of a round hole), `height` of the opening, `down` from the
    front's top edge to the middle of the cut-out (a scoop starts at the edge), `corner` radius.
    """

    kind: HandHoldKind
    length: float = 100.0
    height: float = 25.0
    down: float = 40.0
    corner: float = 12.5
    field: str = "hand_hold"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One node of the inside tree.

    Attributes:
        size: clear height of a row or width of a column in mm, or None.
        parts: share of what the sized neighbours leave, where `size` is None; 1 unless said.
        split: whether it is cut further, and how.
        parts_inside: the openings it is cut into.
        parted: whether a panel parts it from the next one (below it, or to its right).
        holds: what it holds; an opening that is cut further may still hold a door or pair of doors before it.
        loose_shelves: how many loose shelves rest in it.
        divider_board: board of the panels that part the openings inside it.
        hinged: side of a single door that carries the hinges.
        load_kg: what it is meant to carry, or None for the default of its kind.
        contents: what stands in it, which sets the usual load; None is reckoned as books.
    """

    size: float | None = None
    parts: float = 1.0
    split: Split | None = None
    inside: tuple[Opening, ...] = ()
    parted: bool = True
    holds: Holds = Holds.OPEN
    loose_shelves: int = 0
    divider_board: str | None = None
    hinged: str = "left"
    hand_hold: HandHold | None = None
    load_kg: float | None = None
    contents: Contents | None = None
    name: str = ""
    field: str = "inside"


class FrontKind(StrEnum):
    """How drawer fronts and doors lie: between the carcass's edges or over them."""

    INSET = "inset"
    OVERLAY = "overlay"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fronts:
    """How the fronts of a case are made.

    `gap` is the clear gap all round an inset front, and between neighbouring overlay fronts; `reveal` is the
    strip left showing at the carcass's outside by overlay fronts; `back` is how far inset fronts stand
    behind the carcass's front edge.
    """

    kind: FrontKind = FrontKind.OVERLAY
    board: str | None = None
    gap: float = 3.0
    reveal: float = 1.5
    back: float = 0.0
    hand_hold: HandHold = field(default_factory=lambda: HandHold(kind=HandHoldKind.NONE))
    matching_grain: bool = False
    field: str = "fronts"


class BottomKind(StrEnum):
    """How a drawer's bottom is held."""

    GROOVED = "grooved"
    APPLIED = "applied"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawers:
    """How the drawer boxes of a case are made.

    `room_above` and `room_below` are left free between the box and its opening; `bottom_up` is from the lower
    edge of the sides to the underside of a grooved bottom; None takes the runner's own figure.
    """

    runner: str | None = None
    board: str | None = None
    bottom_board: str | None = None
    bottom: BottomKind = BottomKind.GROOVED
    room_above: float | None = None
    room_below: float | None = None
    bottom_up: float = 10.0
    field: str = "drawers"


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseShelves:
    """How loose shelves and their rows of pin holes are made (32 mm system).

    `from_front` is from the front edge to the first column of holes; rows start `margin` from either end of
    the opening at the least; `slack` is left at each end of a shelf; `behind` in front of the back.
    """

    board: str | None = None
    hole: float = 5.0
    hole_depth: float = 12.0
    pitch: float = 32.0
    from_front: float = 37.0
    from_back: float = 37.0
    margin: float = 64.0
    slack: float = 1.0
    set_back: float = 10.0
    behind: float = 5.0
    field: str = "loose_shelves"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fits:
    """The place a case must go into, and the clearance to be left in each direction in all."""

    width: float | None = None
    height: float | None = None
    depth: float | None = None
    clearance: float = 0.0
    field: str = "fits"


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One carcass, made `count` times. Sizes are of the carcass's outside with an applied back."""

    code: str
    name: str
    count: int
    width: float
    height: float
    depth: float
    board: str
    top: BetweenOrOver = BetweenOrOver.BETWEEN_SIDES
    base: BetweenOrOver = BetweenOrOver.BETWEEN_SIDES
    rail_width: float = 100.0
    plinth: Plinth | None = None
    back: Back = field(default_factory=lambda: Back(kind=BackKind.NONE))
    fits: Fits | None = None
    inside: Opening = field(default_factory=Opening)
    fronts: Fronts = field(default_factory=Fronts)
    drawers: Drawers = field(default_factory=Drawers)
    loose_shelves: LooseShelves = field(default_factory=LooseShelves)
    edged: bool = True
    methods: MethodChoice | None = None
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """How thin the board may become: under a blind cut (`skin`), and beside a bore in an edge (`wall`)."""

    skin: float = 3.0
    wall: float = 2.0
    field: str = "limits"


class Climate(StrEnum):
    """The air a piece stands in: service classes 1, 2 and 3 of EN 1995-1-1."""

    DRY = "dry"
    HUMID = "humid"
    WET = "wet"


class Floor(StrEnum):
    """What a piece stands on."""

    HARD = "hard"
    CARPET = "carpet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Loads:
    """What is reckoned with where a job says no load; None for the usual figure of its kind.

    `books_kg_m` is on a metre of shelf; crockery, tools, clothes, light things and what is put on top are on a
    square decimetre (`THRESHOLD_SOURCES` says why so much); `drawers_kg_m3` fills drawers: 8.5 lb per cubic foot of
    their inside, Clothing Storage Units business guidance, US Consumer Product Safety Commission, on 87 FR 72598
    (2022).
    """

    books_kg_m: float | None = None
    crockery_kg_dm2: float | None = None
    tools_kg_dm2: float | None = None
    clothes_kg_dm2: float | None = None
    light_kg_dm2: float | None = None
    top_kg_dm2: float = 0.65
    drawers_kg_m3: float = 136.157


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """How the pieces will stand and be used, as far as it bears on sag, tipping and movement.

    `sag_limit`: a plank may sag by its span over this in the long run. `tip_margin`: steadying over tipping
    moment below which a case is to be fixed. `child_kg` hangs on an open drawer's front, `pull_n` pulls outward at
    a hand hold, and a case higher than `fix_above` is to be fixed whatever its margin. `step_shows`: a step from
    which on a finger feels it; `front_gap`: the least gap of an inset front in damp weather. `humidity_low` and
    `humidity_high` are the lowest and highest relative humidity (%) of the room over the year.
    """

    sag_limit: float = 240.0
    tip_margin: float = 1.25
    child_kg: float = 27.2
    pull_n: float = 44.5
    fix_above: float = 600.0
    step_shows: float = 0.3
    front_gap: float = 0.5
    floor: Floor = Floor.CARPET
    fixed_to_wall: bool = False
    climate: Climate = Climate.DRY
    humidity_low: float = 35.0
    humidity_high: float = 65.0
    loads: Loads = field(default_factory=Loads)
    field: str = "use"


class Paper(StrEnum):
    """Paper sizes the packet is printed on."""

    A4 = "A4"
    A3 = "A3"
    LETTER = "Letter"


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A whole job, read and checked."""

    title: str
    unit: Unit = Unit.MM
    fraction: int = 32
    mark_to: float = 0.5
    boards: tuple[Board, ...]
    edgings: tuple[Edging, ...] = ()
    methods: MethodChoice = field(default_factory=MethodChoice)
    spread: Spread = Spread.LADDER
    overrides: tuple[JointOverride, ...] = ()
    cases: tuple[Case, ...]
    limits: Limits = field(default_factory=Limits)
    use: Use = field(default_factory=Use)
    paper: Paper = Paper.A4
    maker: str = ""
    customer: str = ""
    note: str = ""
    currency: str = ""

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
