"""The job file as it is written: every table and field, with its meaning, unit and default.

The reference in `docs/job-file.md` and the JSON Schema for editors are made from these classes.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Any

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from storyrod.adapters.files._fields import (
    Amount,
    CaseCode,
    Choice,
    Flag,
    Length,
    Names,
    Number,
    OneOf,
    Share,
    Size,
    Table,
    Text,
)
from storyrod.measure.length import Unit
from storyrod.model.job import (
    REBATED_CLEARANCE,
    BackKind,
    BetweenOrOver,
    BoardKind,
    BottomKind,
    Climate,
    Contents,
    Floor,
    FrontKind,
    HandHoldKind,
    Holds,
    Paper,
    Spread,
)

FORMAT = 1
"""The format of the files that this version writes."""


class Side(StrEnum):
    """The side on which a door is hung."""

    LEFT = "left"
    RIGHT = "right"


Code = Annotated[str, Text(1, 60)]
MaybeCode = Annotated[str | None, Text(1, 60)]
Panel = Annotated[float, Length(2, 60, "Give the board's thickness.")]


def _kind_alone(table: object) -> object:
    """Return `{kind = word}` for a word written in place of a table."""
    return {"kind": table} if isinstance(table, str) else table


def _word_or_table(words: tuple[str, ...], table: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [{"type": "string", "enum": list(words)}, table]}


class SheetTable(Table):
    """A size in which a board is bought."""

    length: Annotated[float, Length(200, 6000)] = Field(
        description="Length of the sheet, along the grain.", examples=[2440]
    )
    width: Annotated[float, Length(100, 3000)] = Field(
        description="Width of the sheet, across the grain.", examples=[1220]
    )
    price: Annotated[int | None, Amount()] = Field(default=None, description="Price of one sheet.")
    copies: Annotated[int | None, Number(0, 10_000, whole=True)] = Field(
        default=None, description="How many sheets of this size can be had; as many as needed unless said."
    )


class BoardTable(Table):
    """One kind of sheet as it lies in the workshop. Its key is the code that cases use."""

    name: Annotated[str, Text(0, 100)] = Field(
        default="", description="What you call it; made from kind and thickness unless said."
    )
    kind: Annotated[BoardKind, Choice(BoardKind)] = Field(
        description="What the sheet is made of.", examples=["plywood"]
    )
    thickness: Panel = Field(description="Nominal thickness, the one it is sold by.", examples=[18])
    measured: Annotated[float | None, Length(2, 60)] = Field(
        default=None,
        description="What your callipers say: the mean of eight places, 50 mm in from the edges. "
        "Every size is worked out from it; the nominal thickness is taken, and you are told, where it is missing.",
    )
    spread: Annotated[float | None, Length(0, 3)] = Field(
        default=None,
        description="Half the range of the measured thickness (+-); the usual one of the kind unless said.",
    )
    grain: Annotated[bool | None, Flag()] = Field(
        default=None,
        description="Whether the faces have a grain that matters; true for plywood, blockboard and solid wood unless "
        "said.",
    )
    density_kg_m3: Annotated[float | None, Number(100, 1500, "kg/m3", do="Weigh a piece and divide by its volume.")] = (
        Field(default=None, description="Mass for its volume (kg/m3); the usual one of the kind unless said.")
    )
    stiffness_n_mm2: Annotated[float | None, Number(100, 30_000, "N/mm2", do="See the board's data sheet.")] = Field(
        default=None, description="Bending stiffness along the grain (N/mm2); a cautious one of the kind unless said."
    )
    stiffness_across_n_mm2: Annotated[float | None, Number(100, 30_000, "N/mm2", do="See the board's data sheet.")] = (
        Field(default=None, description="Bending stiffness across the grain (N/mm2).")
    )
    edging: MaybeCode = Field(
        default=None, description="Code of the edging put on its showing edges, one of `edgings`."
    )
    sheets: list[SheetTable] = Field(
        default_factory=list, description="Sizes in which it is bought; one of 2440 x 1220 mm unless said."
    )


class EdgingTable(Table):
    """A strip put on edges: tape, or a solid lipping. Its key is the code that boards use."""

    name: Annotated[str, Text(0, 100)] = Field(default="", description="What you call it.")
    thickness: Annotated[float, Length(0.1, 30)] = Field(
        description="Thickness; finished sizes include it, so it is taken off the panel before cutting.", examples=[1]
    )
    price_per_m: Annotated[int | None, Amount()] = Field(default=None, description="Price of one metre.")
    solid: Annotated[bool, Flag()] = Field(
        default=False, description="Whether it is a solid lipping rather than a tape."
    )


class MethodsTable(Table):
    """Which method holds which class of joint, by the method's code; the workshop's own choice where none is said."""

    corner: MaybeCode = Field(default=None, description="Edge against face at the receiving panel's end.")
    mid_panel: MaybeCode = Field(default=None, description="Edge against face elsewhere: dividers and shelves.")
    plinth: MaybeCode = Field(default=None, description="The plinth's joints.")
    back: MaybeCode = Field(default=None, description="The back's joints.")
    drawer_box: MaybeCode = Field(default=None, description="The joints of drawer boxes.")


class JointTable(Table):
    """Another method, or another spread of stations, for one joint."""

    case: Code = Field(description="Code of the case.", examples=["A"])
    between: Annotated[tuple[str, str], Names(2, 2)] = Field(
        description="Names of the two panels, in either order, as the packet prints them.",
        examples=[["left side", "shelf 1"]],
    )
    method: MaybeCode = Field(default=None, description="Code of the method; as for its class unless said.")
    spread: Annotated[Spread | None, Choice(Spread)] = Field(
        default=None,
        description="How the stations are spread; as for the job unless said. With `ladder` or `even` they stay where "
        "those rules put them, however other joints share theirs.",
    )


class LimitsTable(Table):
    """How thin the board may become."""

    skin: Annotated[float, Length(0, 20)] = Field(default=3.0, description="Least board left under a blind cut.")
    wall: Annotated[float, Length(0, 20)] = Field(default=2.0, description="Least board left beside a bore in an edge.")


class LoadsTable(Table):
    """What is reckoned to lie in openings and drawers for which you write no `load_kg`."""

    books_kg_m: Annotated[float | None, Number(1, 200, "kg")] = Field(
        default=None, description="Books and paper, on a metre of shelf; 29.8 (20 lb a foot) unless said."
    )
    crockery_kg_dm2: Annotated[float | None, Number(0.01, 20, "kg")] = Field(
        default=None, description="Crockery, on a square decimetre; 1.0 unless said."
    )
    tools_kg_dm2: Annotated[float | None, Number(0.01, 20, "kg")] = Field(
        default=None, description="Tools, on a square decimetre; 2.0 unless said."
    )
    clothes_kg_dm2: Annotated[float | None, Number(0.01, 20, "kg")] = Field(
        default=None, description="Clothes, on a square decimetre; 0.65 unless said."
    )
    light_kg_dm2: Annotated[float | None, Number(0.01, 20, "kg")] = Field(
        default=None, description="Light things, on a square decimetre; 0.3 unless said."
    )
    top_kg_dm2: Annotated[float, Number(0, 20, "kg")] = Field(
        default=0.65, description="What is put on top of a case, on a square decimetre."
    )
    drawers_kg_m3: Annotated[float, Number(1, 2000, "kg")] = Field(
        default=136.157, description="What drawers are filled with, in a cubic metre of their inside."
    )


class UseTable(Table):
    """How the pieces will stand and be used, as far as it bears on sag, tipping and movement."""

    sag_limit: Annotated[float, Number(50, 2000)] = Field(
        default=240.0, description="A plank may sag, in the long run, by its span divided by this."
    )
    tip_margin: Annotated[float, Number(1, 5)] = Field(
        default=1.25, description="A case is to be fixed to the wall below this steadying over tipping moment."
    )
    child_kg: Annotated[float, Number(5, 150, "kg")] = Field(
        default=27.2, description="What hangs on the front of an open drawer when tipping is reckoned (kg)."
    )
    pull_n: Annotated[float, Number(10, 500, "N")] = Field(
        default=44.5, description="Outward pull at a hand hold when tipping is reckoned (N)."
    )
    fix_above: Annotated[float, Length(200, 4000)] = Field(
        default=600.0, description="A case higher than this is to be fixed to the wall, whatever its margin."
    )
    step_shows: Annotated[float, Length(0.05, 3)] = Field(
        default=0.3, description="A step at a joint shows from this on."
    )
    front_gap: Annotated[float, Length(0.1, 5)] = Field(
        default=0.5, description="Least gap that an inset front must keep in damp weather."
    )
    floor: Annotated[Floor, Choice(Floor)] = Field(
        default=Floor.CARPET, description="What it stands on; a carpet makes it lean forward."
    )
    fixed_to_wall: Annotated[bool, Flag()] = Field(
        default=False, description="Whether every case will be fixed to a wall before it is used."
    )
    climate: Annotated[Climate, Choice(Climate)] = Field(
        default=Climate.DRY,
        description="`dry` for heated rooms, `humid` for unheated ones, `wet` where rain or steam reaches.",
    )
    humidity_low: Annotated[float, Number(20, 80, "%")] = Field(
        default=35.0, description="Lowest relative humidity of the room over the year (%)."
    )
    humidity_high: Annotated[float, Number(20, 80, "%")] = Field(
        default=65.0, description="Highest relative humidity of the room over the year (%)."
    )
    loads: LoadsTable = Field(default_factory=LoadsTable, description="Loads where no `load_kg` is written.")


class PlinthTable(Table):
    """The plinth (toe kick): a board between the sides under the base, set back."""

    height: Annotated[float, Length(20, 500)] = Field(
        description="From the floor to the base's underside.", examples=[80]
    )
    setback: Annotated[float, Length(0, 500)] = Field(
        default=40.0, description="How far its face stands behind the carcass front."
    )
    board: MaybeCode = Field(default=None, description="Board; the case's unless said.")
    back_rail: Annotated[bool, Flag()] = Field(
        default=False, description="Whether a second board stands under the base at the rear."
    )


class BackTable(Table):
    """The back. A word alone, such as `back = "none"`, stands for a table with that kind."""

    kind: Annotated[BackKind, Choice(BackKind)] = Field(
        description="`applied` over the rear edges, `rebated` into a step in them, `grooved` into a groove, "
        "`between` the panels, or `none`.",
        examples=["applied"],
    )
    board: MaybeCode = Field(default=None, description="Board of the back; the case's unless said.")
    inset: Annotated[float, Length(0, 300)] = Field(
        default=0.0,
        description="How far a grooved or between back's rear face lies in front of the carcass's rear edge.",
    )
    in_top: Annotated[bool, Flag()] = Field(
        default=True, description="Whether the rebate or groove runs in the top as well; if not, the back runs past it."
    )
    in_base: Annotated[bool, Flag()] = Field(
        default=True,
        description="Whether the rebate or groove runs in the base as well; if not, the back runs past it.",
    )
    clearance: Annotated[float, Length(0, 4)] = Field(
        default=REBATED_CLEARANCE,
        description="How much smaller a rebated back is than the room between its rebates, in all; so it drops in.",
    )

    @model_validator(mode="before")
    @classmethod
    def _word(cls, table: object) -> object:
        return _kind_alone(table)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return _word_or_table(tuple(k.value for k in BackKind), handler(schema))


class HandHoldTable(Table):
    """A hand hold cut in a front. A word alone, such as `hand_hold = "slot"`, stands for a table with that kind."""

    kind: Annotated[HandHoldKind, Choice(HandHoldKind)] = Field(description="What is cut.", examples=["slot"])
    length: Annotated[float, Length(15, 1000)] = Field(
        default=100.0, description="Across the front; the diameter of a round hole."
    )
    height: Annotated[float, Length(5, 300)] = Field(default=25.0, description="Height of a slot, depth of a scoop.")
    down: Annotated[float, Length(0, 1000)] = Field(
        default=40.0,
        description="From a drawer front's top edge, or a door's closing edge, to the middle of the cut-out; a scoop "
        "starts at the edge.",
    )
    corner: Annotated[float, Length(0, 150)] = Field(default=12.5, description="Radius of a scoop's corners.")

    @model_validator(mode="before")
    @classmethod
    def _word(cls, table: object) -> object:
        return _kind_alone(table)

    @classmethod
    def __get_pydantic_json_schema__(cls, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return _word_or_table(tuple(k.value for k in HandHoldKind), handler(schema))


class FitsTable(Table):
    """The place the case must go into. A size that the case leaves out follows from it, less the clearance."""

    width: Annotated[float | None, Length(50, 6000)] = Field(default=None, description="Width of the place.")
    height: Annotated[float | None, Length(50, 6000)] = Field(default=None, description="Height of the place.")
    depth: Annotated[float | None, Length(50, 3000)] = Field(default=None, description="Depth of the place.")
    clearance: Annotated[float, Length(0, 200)] = Field(
        default=0.0, description="What is left free in each direction, both sides together."
    )


class OpeningTable(Table):
    """An opening of the inside, left whole or cut into rows (from the top down) or columns (from the left)."""

    height: Annotated[Share | None, Size()] = Field(
        default=None, description="Clear height of a row, or its share of the rest; an equal share unless said."
    )
    width: Annotated[Share | None, Size()] = Field(
        default=None, description="Clear width of a column, or its share of the rest; an equal share unless said."
    )
    holds: Annotated[Holds | None, Choice(Holds)] = Field(
        default=None,
        description="What it holds; open unless said. An opening that is cut further may still stand behind a door or "
        "a pair of doors.",
    )
    loose_shelves: Annotated[int, Number(0, 30, whole=True)] = Field(
        default=0, description="How many loose shelves rest in it, on pins."
    )
    parted: Annotated[bool, Flag()] = Field(
        default=True, description="Whether a panel parts it from the next one: below a row, to the right of a column."
    )
    board: MaybeCode = Field(
        default=None, description="Board of the panels that part the openings inside it; the case's unless said."
    )
    hinged: Annotated[Side, Choice(Side)] = Field(default=Side.LEFT, description="Side on which a single door is hung.")
    hand_hold: HandHoldTable | None = Field(
        default=None, description="Hand hold of its front; as for the case's fronts unless said."
    )
    load_kg: Annotated[float | None, Number(0, 1000, "kg")] = Field(
        default=None,
        description="What it is meant to carry (kg), its loose shelves and its floor together; the usual load of its "
        "`contents` unless said.",
    )
    contents: Annotated[Contents | None, Choice(Contents)] = Field(
        default=None, description="What stands in it, which sets its usual load; reckoned as books unless said."
    )
    name: Annotated[str, Text(0, 60)] = Field(default="", description="What you call it.")
    rows: list[OpeningTable] = Field(
        default_factory=list, description="Openings one below the other, from the top down."
    )
    columns: list[OpeningTable] = Field(default_factory=list, description="Openings side by side, from the left.")


class FrontsTable(Table):
    """How the drawer fronts and doors of the case are made."""

    kind: Annotated[FrontKind, Choice(FrontKind)] = Field(
        default=FrontKind.OVERLAY, description="`inset` between the carcass's edges, or `overlay` over them."
    )
    board: MaybeCode = Field(default=None, description="Board; the case's unless said.")
    gap: Annotated[float, Length(0.5, 30)] = Field(
        default=3.0, description="Clear gap all round an inset front, and between neighbouring overlay fronts."
    )
    reveal: Annotated[float, Length(0, 60)] = Field(
        default=1.5, description="Strip of carcass left showing at the outside by overlay fronts."
    )
    back: Annotated[float, Length(0, 100)] = Field(
        default=0.0, description="How far inset fronts stand behind the carcass's front edge."
    )
    hand_hold: HandHoldTable | None = Field(default=None, description="Hand hold of every front; none unless said.")
    matching_grain: Annotated[bool, Flag()] = Field(
        default=False, description="Whether the fronts above one another are cut in one piece of grain."
    )


class DrawersTable(Table):
    """How the drawer boxes of the case are made."""

    runner: MaybeCode = Field(default=None, description="Code of the runner; the workshop's own choice unless said.")
    board: MaybeCode = Field(default=None, description="Board of sides, box front and back; the case's unless said.")
    bottom_board: MaybeCode = Field(
        default=None, description="Board of the bottom; the back's, else the box's, unless said."
    )
    bottom: Annotated[BottomKind, Choice(BottomKind)] = Field(
        default=BottomKind.GROOVED, description="`grooved` into the box, or `applied` under it."
    )
    room_above: Annotated[float | None, Length(0, 300)] = Field(
        default=None, description="Left free above the box in its opening; the runner's figure unless said."
    )
    room_below: Annotated[float | None, Length(0, 300)] = Field(
        default=None, description="Left free below the box in its opening; the runner's figure unless said."
    )
    bottom_up: Annotated[float, Length(3, 60)] = Field(
        default=10.0, description="From the lower edge of the sides to the underside of a grooved bottom."
    )


class LooseShelvesTable(Table):
    """How loose shelves and their rows of pin holes are made: the 32 mm system unless said."""

    board: MaybeCode = Field(default=None, description="Board; the case's unless said.")
    hole: Annotated[float, Length(2, 15)] = Field(default=5.0, description="Diameter of the pin holes.")
    hole_depth: Annotated[float, Length(3, 40)] = Field(default=12.0, description="Depth of the pin holes.")
    pitch: Annotated[float, Length(8, 300)] = Field(default=32.0, description="From hole to hole.")
    from_front: Annotated[float, Length(8, 500)] = Field(
        default=37.0, description="From the front edge of side or divider to the first column of holes."
    )
    from_back: Annotated[float, Length(8, 500)] = Field(
        default=37.0, description="From the rear edge of side or divider to the last column of holes."
    )
    margin: Annotated[float, Length(8, 1000)] = Field(
        default=64.0, description="Least distance of the first and last hole from the ends of the opening."
    )
    slack: Annotated[float, Length(0, 10)] = Field(default=1.0, description="Left free at each end of a shelf.")
    set_back: Annotated[float, Length(0, 300)] = Field(
        default=10.0, description="How far the shelf's front stands behind the front edge of what carries it."
    )
    behind: Annotated[float, Length(0, 300)] = Field(default=5.0, description="Left free between shelf and back.")


TOPS = (BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.OVER_SIDES, BetweenOrOver.RAILS, BetweenOrOver.NONE)
BASES = (BetweenOrOver.BETWEEN_SIDES, BetweenOrOver.UNDER_SIDES, BetweenOrOver.NONE)


class CaseTable(Table):
    """One carcass. Sizes are of its outside, with an applied back and without overlay fronts."""

    code: Annotated[str, CaseCode(12)] = Field(
        description="Short code, the first part of every panel's mark.", examples=["A"]
    )
    name: Annotated[str, Text(0, 100)] = Field(default="", description="What you call it; the code unless said.")
    count: Annotated[int, Number(1, 1000, whole=True)] = Field(default=1, description="How many are made alike.")
    width: Annotated[float | None, Length(80, 5000)] = Field(
        default=None, description="Outside width; may be left out where `fits` gives it."
    )
    height: Annotated[float | None, Length(60, 4000)] = Field(
        default=None, description="Outside height with the plinth; may be left out where `fits` gives it."
    )
    depth: Annotated[float | None, Length(60, 2000)] = Field(
        default=None, description="Outside depth without overlay fronts; may be left out where `fits` gives it."
    )
    board: MaybeCode = Field(
        default=None, description="Code of the carcass board; may be left out where the job has one board only."
    )
    top: Annotated[BetweenOrOver, Choice(BetweenOrOver, TOPS)] = Field(
        default=BetweenOrOver.BETWEEN_SIDES, description="How the top meets the sides, or what is there in its place."
    )
    base: Annotated[BetweenOrOver, Choice(BetweenOrOver, BASES)] = Field(
        default=BetweenOrOver.BETWEEN_SIDES, description="How the base meets the sides."
    )
    rail_width: Annotated[float, Length(30, 600)] = Field(
        default=100.0, description="Width of the rails that stand in place of a top."
    )
    edged: Annotated[bool, Flag()] = Field(
        default=True, description="Whether showing edges get the edging of their board."
    )
    plinth: PlinthTable | None = Field(default=None, description="Plinth under the base; none unless said.")
    back: BackTable | None = Field(default=None, description="Back; none unless said.")
    fits: FitsTable | None = Field(default=None, description="The place it must go into.")
    inside: OpeningTable = Field(default_factory=OpeningTable, description="What is inside, as a tree of openings.")
    fronts: FrontsTable = Field(default_factory=FrontsTable, description="Drawer fronts and doors.")
    drawers: DrawersTable = Field(default_factory=DrawersTable, description="Drawer boxes.")
    loose_shelves: LooseShelvesTable = Field(
        default_factory=LooseShelvesTable, description="Loose shelves and pin holes."
    )
    methods: MethodsTable | None = Field(
        default=None, description="Joining methods of this case, where they differ from the job's."
    )


class JobTable(Table):
    """A job file: boards, cases and how they are joined."""

    format: Annotated[int, OneOf((FORMAT,))] = Field(default=FORMAT, description="Format of the file.")
    title: Annotated[str, Text(0, 100)] = Field(default="", description="Title; the file's name unless said.")
    maker: Annotated[str, Text(0, 100)] = Field(default="", description="Who makes it.")
    customer: Annotated[str, Text(0, 100)] = Field(default="", description="Whom it is for.")
    note: Annotated[str, Text(0, 2000, lines=True)] = Field(
        default="", description="Anything to be printed on the cover."
    )
    currency: Annotated[str, Text(0, 8)] = Field(default="", description="Currency of the prices, shown beside sums.")
    paper: Annotated[Paper, Choice(Paper)] = Field(default=Paper.A4, description="Paper the packet is printed on.")
    units: Annotated[Unit, Choice(Unit)] = Field(
        default=Unit.MM,
        description="Unit of bare numbers, and of what is shown and printed. Any length may be written with its own "
        "unit.",
    )
    fraction: Annotated[int, OneOf((8, 16, 32, 64))] = Field(
        default=32,
        description="In inches: marks are made to this part of an inch; figures between "
        "its lines are shown in thousandths.",
    )
    mark_to: Annotated[float, Length(0.05, 5)] = Field(
        default=0.5,
        description="Step to which marks are rounded, once, and alike on both mating panels; "
        "in inches the `fraction`, unless this is a line of a rule itself.",
    )
    workshop: Annotated[str | None, Text(1, 300)] = Field(
        default=None,
        description="Name of the workshop file, beside the job file; the plain packaged workshop unless said.",
    )
    spread: Annotated[Spread, Choice(Spread)] = Field(
        default=Spread.LADDER,
        description="How stations are spread: a `ladder` of fixed steps from the face edge, so that one set of stops "
        "serves every joint; `even`; or `shared`: a ladder whose stations are then moved within the method's rules "
        "where fewer stations of a jig serve all joints that way.",
    )
    limits: LimitsTable = Field(default_factory=LimitsTable, description="How thin the board may become.")
    use: UseTable = Field(default_factory=UseTable, description="How the pieces will stand and be used.")
    boards: dict[str, BoardTable] = Field(
        description="Boards by code, each in its own table such as `[boards.birch18]`.",
        examples=[{"board": {"kind": "plywood", "thickness": 18}}],
    )
    edgings: dict[str, EdgingTable] = Field(
        default_factory=dict, description="Edgings by code, each in its own table such as `[edgings.oak]`."
    )
    methods: MethodsTable = Field(default_factory=MethodsTable, description="Joining method of each class of joint.")
    joints: list[JointTable] = Field(
        default_factory=list, description="Single joints made otherwise, each in a `[[joints]]` table."
    )
    cases: list[CaseTable] = Field(
        description="Cases, each in a `[[cases]]` table.",
        examples=[[{"code": "A", "width": 600, "height": 720, "depth": 400}]],
    )
