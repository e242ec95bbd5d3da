"""The inside of a case: a tree of openings, what each holds, and the hand holds of its fronts. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from storyrod.model.written import CODE, Length, Number, Text, Told


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


class HingeSide(StrEnum):
    """The side on which a door is hung."""

    LEFT = "left"
    RIGHT = "right"


class FrontKind(StrEnum):
    """How drawer fronts and doors lie: between the carcass's edges or over them."""

    INSET = "inset"
    OVERLAY = "overlay"


class GraduatedBy(StrEnum):
    """How the fronts of rows over each other grow from the top down."""

    EQUAL = "equal"
    STEP = "step"
    RATIO = "ratio"


class HandHoldKind(StrEnum):
    """How a front is pulled open."""

    NONE = "none"
    ROUND = "round hole"
    SLOT = "slot"
    SCOOP = "scoop"


@dataclass(frozen=True, slots=True, kw_only=True)
class HandHold:
    """A hand hold cut in a front. A word alone, such as `hand_hold = "slot"`, stands for a table with that kind."""

    kind: Annotated[HandHoldKind, Told("What is cut.", example="slot", alone=True)]
    length: Annotated[
        float,
        Length(15, 1000),
        Told(
            "Across the front; the diameter of a round hole.",
            only=("kind", (HandHoldKind.ROUND, HandHoldKind.SLOT, HandHoldKind.SCOOP)),
        ),
    ] = 100.0
    height: Annotated[
        float,
        Length(5, 300),
        Told("Height of a slot, depth of a scoop.", only=("kind", (HandHoldKind.SLOT, HandHoldKind.SCOOP))),
    ] = 25.0
    down: Annotated[
        float,
        Length(0, 1000),
        Told(
            "From a drawer front's top edge, or a door's closing edge, to the middle of the cut-out; a scoop "
            "starts at the edge.",
            only=("kind", (HandHoldKind.ROUND, HandHoldKind.SLOT)),
        ),
    ] = 40.0
    corner: Annotated[
        float, Length(0, 150), Told("Radius of a scoop's corners.", only=("kind", (HandHoldKind.SCOOP,)))
    ] = 12.5
    field: str = "hand_hold"


@dataclass(frozen=True, slots=True, kw_only=True)
class Graduation:
    """How high the fronts of rows are made, from the top down. A word alone stands for a table with it."""

    by: Annotated[
        GraduatedBy,
        Told(
            "`equal`: all fronts as high; `step`: each so much higher than the one over it; `ratio`: each so many "
            "times as high.",
            title="Fronts of the rows",
            example="equal",
            alone=True,
        ),
    ]
    step: Annotated[
        float,
        Length(0.5, 500),
        Told("How much higher each front is than the one over it.", only=("by", (GraduatedBy.STEP,))),
    ] = 20.0
    ratio: Annotated[
        float,
        Number(1.01, 3),
        Told("How many times as high each front is as the one over it.", only=("by", (GraduatedBy.RATIO,))),
    ] = 1.2
    field: str = "graduated"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothesRail:
    """A clothes rail across an opening. A kind alone, such as `clothes_rail = "rail 25"`, stands for a table of it."""

    kind: Annotated[
        str | None,
        CODE,
        Told("Code of its kind; the workshop's own choice unless set.", title="Kind of rail", alone=True),
    ] = None
    height: Annotated[
        float | None,
        Length(20, 3000),
        Told("From the opening's floor to the middle of the tube; 60 mm under the top of the opening unless set."),
    ] = None
    from_front: Annotated[
        float | None,
        Length(20, 1500),
        Told("From the front of the opening to the middle of the tube; half its depth unless set."),
    ] = None
    load_kg: Annotated[
        float | None,
        Number(0, 500, "kg"),
        Told("What hangs on it (kg); so much a metre as `use.loads` says unless set.", title="Load (kg)"),
    ] = None
    field: str = "clothes_rail"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """An opening of the inside, left whole or cut into rows (from the top down) or columns (from the left).

    Attributes:
        size: clear height of a row or width of a column in mm, or None.
        parts: share of what the sized neighbours leave, where `size` is None; 1 unless set.
        split: whether it is cut further, and how.
        inside: the openings it is cut into.
    """

    holds: Annotated[
        Holds,
        Told(
            "What it holds; open unless set. An opening that is cut further may still stand behind a door or a "
            "pair of doors.",
            title="What it holds",
            made=True,
        ),
    ] = Holds.OPEN
    loose_shelves: Annotated[int, Number(0, 30, whole=True), Told("How many loose shelves rest in it, on pins.")] = 0
    parted: Annotated[
        bool,
        Told(
            "Whether a panel parts it from the next one: below a row, to the right of a column.",
            title="Divider after this one",
        ),
    ] = True
    divider_board: Annotated[
        str | None,
        CODE,
        Told("Board of the panels that part the openings inside it; the case's unless set.", name="board"),
    ] = None
    set_back: Annotated[
        float,
        Length(0, 1500),
        Told(
            "How far behind the front the shelves stand that part its rows.",
            title="Shelves set back",
        ),
    ] = 0.0
    shelf_at: Annotated[
        float | None,
        Length(20, 5000),
        Told(
            "Upper face of the shelf below a row, above the floor; above the underside of a case that hangs. The rows "
            "over it that have no height share what that leaves.",
            title="Shelf below it, above the floor",
        ),
    ] = None
    front_height: Annotated[
        float | None,
        Length(20, 5000),
        Told(
            "Height of the front before a row; the row's own height follows from it.",
            title="Height of its front",
        ),
    ] = None
    graduated: Annotated[
        Graduation | None,
        Told("How the fronts of its rows grow from the top down, where they have no height of their own."),
    ] = None
    hinged: Annotated[HingeSide, Told("Side on which a single door is hung.", title="Hinges on the")] = HingeSide.LEFT
    front_kind: Annotated[
        FrontKind | None,
        Told(
            "Whether its front is `inset` between the panels or `overlay` over their edges; as for the case's fronts "
            "unless set. Behind a door fronts are inset.",
            title="Its front is",
        ),
    ] = None
    hand_hold: Annotated[HandHold | None, Told("Hand hold of its front; as for the case's fronts unless set.")] = None
    clothes_rail: Annotated[ClothesRail | None, Told("A clothes rail across it, between two uprights.")] = None
    load_kg: Annotated[
        float | None,
        Number(0, 1000, "kg"),
        Told(
            "What it is meant to carry (kg), its loose shelves and its floor together; the usual load of its "
            "`contents` unless set. What hangs on a clothes rail is the rail's own.",
            title="Load (kg)",
        ),
    ] = None
    contents: Annotated[
        Contents | None,
        Told("What goes in it, which sets its usual load; books unless set, light things under a clothes rail."),
    ] = None
    name: Annotated[str, Text(0, 60), Told("What you call it.")] = ""
    size: float | None = None
    parts: float = 1.0
    split: Split | None = None
    inside: tuple[Opening, ...] = ()
    field: str = "inside"
