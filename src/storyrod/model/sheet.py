"""Sheets: what is to be cut, from what, and the layout, cuts and offcuts that come of it.

Sheet frame: x along the sheet's length (the grain) from its left end, y across it from its lower long edge, in mm.
A *rip* is a cut along the length (its fence or rail setting is a width, in y), a *crosscut* a cut across it (its
setting is a length, in x). Money is in whole cents.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.panel import Grain, Surface
from storyrod.model.workshop import Handling, Saw


class Way(StrEnum):
    """Which way a cut runs over the sheet."""

    RIP = "rip"
    CROSSCUT = "crosscut"


class SawKind(StrEnum):
    """The saw that cuts the sheets."""

    TRACK = "track saw"
    TABLE = "table saw"


class Found(StrEnum):
    """What is known of a plan."""

    PROVED = "proved best"
    FOUND = "found"


class Engine(StrEnum):
    """Who found the layout that was taken."""

    OWN = "own engine"
    PACKING = "packing engine"


class StepKind(StrEnum):
    """What a step of the saw's list is for."""

    BREAK_DOWN = "break down"
    TRIM = "trim"
    RIP = "rip"
    CROSSCUT = "crosscut"


class PieceKind(StrEnum):
    """What a piece of a sheet is."""

    SHEET = "sheet"
    STRIP = "strip"
    PART = "part"
    OFFCUT = "offcut"
    WASTE = "waste"


_REST: Final = "rest of "


def rest_of(piece: str) -> str:
    """Return the id of what is left in hand of a piece after a cut."""
    return f"{_REST}{piece}"


def piece_of_rest(name: str) -> str | None:
    """Return the id of the piece that this is the rest of; None where it is a piece itself."""
    return name.removeprefix(_REST) if name.startswith(_REST) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """What is cut off along each edge of a sheet, kerf included: left and right are the ends of the length."""

    left: float = 0.0
    right: float = 0.0
    bottom: float = 0.0
    top: float = 0.0

    @classmethod
    def even(cls, width: float) -> Trim:
        """Return the same trim on all four edges."""
        return cls(left=width, right=width, bottom=width, top=width)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSheet:
    """A sheet to be bought, or an offcut on the rack; `length` runs along the grain.

    Attributes:
        id: unique among the stock.
        price_cents: of one; None for an offcut means that it is paid for already, and used first.
        copies: how many there are; None as many as wanted.
        trim: its own trim; None takes the rules'.
        offcut: whether it lies on the rack.
        mass_kg_m2: for saying what is too heavy; 0 where it is not known.
        field: where the maker wrote it.
    """

    id: str
    board: str
    length: float
    width: float
    name: str = ""
    price_cents: int | None = None
    copies: int | None = None
    trim: Trim | None = None
    offcut: bool = False
    mass_kg_m2: float = 0.0
    field: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeMark:
    """Edging on one edge of a part, for its label."""

    surface: Surface
    edging: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part at its cut size: finished size less edging, plus the allowance for machining.

    Attributes:
        id: unique among the parts.
        mark: short label, as `A1`.
        length: along the part's own length (mm); `width` across it.
        copies: how many are wanted.
        grain: how the sheet's grain lies in the part: along its length, across it, or free to turn.
        strip: parts with one strip name are cut beside each other from one strip, so that the figure runs through.
        strip_order: their order, from the sheet's lower left.
        end_to_end: whether the strip runs along the grain (part after part), not across it (side by side).
        finished: finished length and width, for the label; None is the same as the cut size.
        edges: which edges get edging.
        face_mark: which face shows, as `face: inside`.
        field: where the maker wrote it.
    """

    id: str
    board: str
    length: float
    width: float
    mark: str = ""
    name: str = ""
    copies: int = 1
    grain: Grain = Grain.ALONG
    strip: str = ""
    strip_order: int = 0
    end_to_end: bool = False
    finished: tuple[float, float] | None = None
    edges: tuple[EdgeMark, ...] = ()
    face_mark: str = ""
    field: str = ""


_SAW: Final = Saw()


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRules:
    """How this workshop cuts.

    Attributes:
        kerf: width that the saw turns to dust.
        trim: taken off each edge of a sheet that has no trim of its own.
        offcut_length, offcut_width: least sizes of an offcut worth keeping, either way round.
        one_person_kg: heavier pieces want two, or breaking down first.
        saw: the saw for which the list is written.
        lengths: how the job writes lengths.
    """

    kerf: float = _SAW.kerf
    trim: Trim = Trim.even(_SAW.trim)  # noqa: RUF009 - frozen, so one value may serve all
    offcut_length: float = _SAW.offcut_length
    offcut_width: float = _SAW.offcut_width
    one_person_kg: float = Handling().one_person_kg
    saw: SawKind = SawKind.TRACK
    lengths: LengthWriter = METRIC


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """One copy of a part on a sheet: its lower left corner, its extents along x and y, turned or not."""

    part: str
    copy: int
    x: float
    y: float
    length: float
    width: float
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One straight cut through the piece in hand.

    Attributes:
        number: from 1 on each sheet, in the order of cutting.
        piece: name of the piece in hand.
        way: rip or crosscut.
        at: where the kerf begins, x for a crosscut and y for a rip, in the sheet frame.
        start, end: from where to where it runs along the other axis.
        setting: distance from fence or stop to the blade: the size that comes off.
        gives: name of the piece that comes off at the setting.
        leaves: name of what is left in hand, empty where it is dust.
        piece_length, piece_width: size of the piece in hand before the cut, along x and y.
        trim: whether it trims the factory edge or an edge of the sheet.
    """

    number: int
    piece: str
    way: Way
    at: float
    start: float
    end: float
    setting: float
    gives: str
    leaves: str = ""
    piece_length: float = 0.0
    piece_width: float = 0.0
    trim: bool = False

    @property
    def length(self) -> float:
        """How far the saw runs (mm)."""
        return self.end - self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class CutNode:
    """A piece of the cutting tree: what it is, where it lay, and the pieces that its cuts make of it.

    `way` is the way of the cuts that take it apart, None for a piece that is not cut again.
    """

    name: str
    kind: PieceKind
    x: float
    y: float
    length: float
    width: float
    way: Way | None = None
    part: str = ""
    copy: int = 0
    children: tuple[CutNode, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """What is left of a sheet: `keep` when it meets the workshop's least size. `length` runs along the grain."""

    name: str
    board: str
    sheet: str
    x: float
    y: float
    length: float
    width: float
    keep: bool

    @property
    def area_m2(self) -> float:
        """Its area in square metres."""
        return self.length * self.width / 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """One sheet laid out.

    Attributes:
        name: as `ply18-1`, unique in the plan.
        stock: id of the stock sheet.
        placements: every part on it.
        tree: how it comes apart.
        cuts: the same as a list, in the order of cutting.
        same_as: name of an earlier sheet with the very same layout, which can be cut with it.
    """

    name: str
    stock: str
    board: str
    length: float
    width: float
    trim: Trim
    offcut: bool
    price_cents: int
    placements: tuple[Placement, ...]
    tree: CutNode
    cuts: tuple[Cut, ...]
    offcuts: tuple[Offcut, ...]
    same_as: str = ""

    @property
    def used_share(self) -> float:
        """Area of its parts over its area, 0 to 1."""
        return sum(p.length * p.width for p in self.placements) / (self.length * self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What a board's layout amounts to.

    Attributes:
        sheets: how many of each stock sheet are used, as (stock id, number).
        parts_m2, sheets_m2: area of the parts, and of the sheets used.
        yield_share: the one over the other, 0 to 1.
        cents: price of the sheets used.
        cuts: number of cuts, trimming included.
        cut_m: metres of cut.
        settings: fence or rail settings, told apart by rip and crosscut, sheet by sheet; sheets with the same
            layout are cut together and count once.
        settings_apart: different settings over all sheets of the board.
        kept_m2: area of the offcuts worth keeping.
        unpriced: ids of sheets used that have no price, so that `cents` leaves them out.
    """

    sheets: tuple[tuple[str, int], ...]
    parts_m2: float
    sheets_m2: float
    yield_share: float
    cents: int
    cuts: int
    cut_m: float
    settings: int
    settings_apart: int
    kept_m2: float
    unpriced: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardPlan:
    """The layout of one board's parts.

    Attributes:
        found: whether no cheaper plan can exist, or it is the best that was found.
        bound_cents: no plan costs less (in the weights used: see `weights`).
        bound_sheets: no plan uses fewer sheets than this.
        gap: how far above its bound the plan is, 0 when proved (a share).
        engine: who found it.
        weights: `cents`, or `area` where no sheet has a price, so that the least area was sought.
    """

    board: str
    sheets: tuple[SheetPlan, ...]
    figures: Figures
    found: Found
    bound_cents: int
    bound_sheets: int
    gap: float
    engine: Engine
    weights: str
    rounds: int

    @property
    def claim(self) -> str:
        """What is proved, in a sentence or two for the maker."""
        n, least = len(self.sheets), self.bound_sheets
        if n == least:
            return f"No layout can use fewer than {n} {'sheet' if n == 1 else 'sheets'}."
        is_money = self.weights == "cents" and not self.figures.unpriced
        if self.found is Found.PROVED:
            return "No layout can cost less." if is_money else "No layout can take less board."
        told = f"At least {least} of {n} sheets are needed"
        if not self.bound_cents:  # What lies on the rack may be enough, as far as is known: nothing to compare with.
            return f"{told}; more than that is not proven."
        what = "costs" if is_money else "takes"
        than = "the least cost" if is_money else "the least area"
        return f"{told}; this layout {what} at most {self.gap:.1%} more than {than} there can be."


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """All boards laid out.

    Attributes:
        boards: one plan a board, in the order of the parts.
        rules: how it was cut.
        seed: that the search was given.
        engines: which engines took part.
        notes: what the maker should know of how it was found, whole sentences.
    """

    boards: tuple[BoardPlan, ...]
    rules: CutRules
    seed: int
    engines: tuple[Engine, ...] = (Engine.OWN,)
    notes: tuple[str, ...] = ()

    @property
    def sheets(self) -> tuple[SheetPlan, ...]:
        """Every sheet of every board."""
        return tuple(s for b in self.boards for s in b.sheets)

    @property
    def cents(self) -> int:
        """Price of all sheets used."""
        return sum(b.figures.cents for b in self.boards)
