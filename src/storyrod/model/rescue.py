"""Pieces as they lie on the bench, and the ways out of a slip: moves with what each costs, and what comes of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NewType

from storyrod.measure.space import PanelPoint
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Feature, FeatureId
from storyrod.model.joint import JointId
from storyrod.model.panel import PanelId, Surface

PieceId = NewType("PieceId", str)

Signs = tuple[int, int, int]
"""Which way a piece's own u, v and w run in its place: 1 as marked, -1 turned about."""

AS_MARKED: Signs = (1, 1, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Damage:
    """A place that is damaged, `size` mm across."""

    surface: Surface
    at: PanelPoint
    size: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Weakness:
    """What sags, bears or stands less well than it may, and did not as planned; an estimate.

    Attributes:
        key: by which it is known, the same for the same thing of the same panel or joint.
        panel: the panel that it is told of.
        found: what there is, in words; `allowed` what there should be.
        can_be_left: whether a maker may choose to live with it; what may break is never left.
    """

    key: str
    panel: PanelId
    found: str
    allowed: str
    can_be_left: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece of board as it lies on the bench, in the frame of the panel that it was marked for.

    Attributes:
        meant_for: the panel it was marked for.
        is_mirrored: whether that panel's frame is left-handed, as of one of two twins.
        length, width, thickness: what it measures (mm).
        out_of_square: by how much its diagonals differ (mm).
        cuts: everything that is cut in it, where it is.
        edged: surfaces that have edging.
        glued: joints at which it is glued in.
        off: how far it is glued off its lines, along its thickness in the case (mm).
        is_new: whether it is still to be sawn: it has no cut yet.
    """

    id: PieceId
    meant_for: PanelId
    board: str
    is_mirrored: bool
    length: float
    width: float
    thickness: float
    out_of_square: float = 0.0
    cuts: tuple[Feature, ...] = ()
    damage: tuple[Damage, ...] = ()
    edged: tuple[Surface, ...] = ()
    glued: frozenset[JointId] = frozenset()
    off: float = 0.0
    is_lost: bool = False
    is_new: bool = False

    @property
    def sizes(self) -> tuple[float, float, float]:
        """Length, width and thickness."""
        return self.length, self.width, self.thickness


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """Which piece stands in a panel's place, and how it is turned there."""

    piece: PieceId
    signs: Signs = AS_MARKED


class BreakKind(StrEnum):
    """What a slip breaks."""

    JOINT = "joint"
    CUT = "cut"
    SIZE = "size"
    FIT = "fit"
    PLACE = "place"
    DAMAGE = "damage"
    LOST = "lost"
    PROOF = "proof"
    SOUND = "soundness"


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """One thing that no longer holds, with things as they are.

    Attributes:
        key: by which it is known among the breaks of one state.
        found: what there is, in words; `allowed` what there should be.
        off: by how much, in mm; None where nothing is measured.
    """

    kind: BreakKind
    key: str
    panel: PanelId
    found: str
    allowed: str
    off: float | None = None


class MoveKind(StrEnum):
    """What can be done about a slip; the values begin the codes of moves, which are kept in files."""

    MATES = "move mates"
    CLEAR = "move clear"
    SHIFT = "shift"
    FIT = "shift and fit"
    TURN = "turn"
    SWAP = "swap"
    PLUG = "plug"
    METHOD = "method"
    LEAVE_OUT = "leave out"
    PACK = "pack"
    TRIM = "trim"
    PLANE = "plane"
    WIDEN = "widen"
    SHIM = "shim"
    REMAKE = "remake"
    LEAVE = "leave"


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One thing to do, with what it costs.

    Attributes:
        code: kind and what it is done to: the same for the same move in the same state.
        text: what to do, a whole sentence; `watch` what to watch for.
        minutes: of work; `wait_min` until glue has set.
        cents: money; None where it is not known.
        risk: 0 to 3; `seen` 0 (nothing is seen) to 3.
        weaker: what is weaker for it, in words.
    """

    kind: MoveKind
    code: str
    text: str
    minutes: float
    cents: float | None = 0.0
    risk: int = 0
    seen: int = 0
    wait_min: float = 0.0
    watch: str = ""
    weaker: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """A cut of a piece that is filled: `size` mm across (a round plug) or wide (a strip)."""

    piece: PieceId
    cut: int
    size: float
    is_strip: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a way costs in all; `score` puts it in one figure, by which ways are ranked."""

    minutes: float
    cents: float | None
    risk: int
    seen: int
    wait_min: float
    score: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way out that passed the whole proof and the checker.

    Attributes:
        moves: what is done, in order.
        case: the case as it is now wanted.
        as_stands: the same with every old cut that stays open, as it was proven.
        pieces: every piece that is used, as it then is; `seats` which stands where.
        plugs: cuts that are filled.
        to_cut: cuts still to be made, by their ids in `case`; `again` those of them that had been made before.
        old: cuts that serve nothing now, by piece and number, whether plugged or left open.
    """

    moves: tuple[Move, ...]
    case: DetailedCase = field(repr=False)
    as_stands: DetailedCase = field(repr=False)
    pieces: Mapping[PieceId, Piece] = field(repr=False)
    seats: Mapping[PanelId, Seat] = field(repr=False)
    plugs: tuple[Plug, ...] = ()
    to_cut: frozenset[FeatureId] = frozenset()
    again: frozenset[FeatureId] = frozenset()
    old: tuple[tuple[PieceId, int], ...] = ()
    left: tuple[str, ...] = ()
    cost: Cost

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes of its moves."""
        return tuple(m.code for m in self.moves)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rescue:
    """What a slip breaks, and the ways out, the best first.

    Attributes:
        tried: how many combinations of moves were weighed up; `proven` how many of them went through the proof.
        is_best: whether the first way is proven best among all that were tried.
        most_moves: the most moves together that were tried: three only where two did not do.
        only_remaking: whether every way found remakes a panel.
    """

    case: str
    copy: int
    breaks: tuple[Break, ...]
    ways: tuple[Way, ...]
    tried: int
    proven: int
    is_best: bool
    most_moves: int = 2

    @property
    def only_remaking(self) -> bool:
        """Whether nothing helps but remaking a panel."""
        return bool(self.ways) and all(any(m.kind is MoveKind.REMAKE for m in w.moves) for w in self.ways)
