"""A state on the way out: what is wanted now, which piece lies in which place, and what has been done about it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from storyrod.measure.space import PanelPoint
from storyrod.measure.writing import LengthWriter
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import FeatureId
from storyrod.model.job import Job
from storyrod.model.joint import JointId
from storyrod.model.method import Method
from storyrod.model.panel import PanelId
from storyrod.model.rescue import Move, Piece, PieceId, Plug, Seat, Weakness


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What stays the same while ways out are looked for.

    Attributes:
        case: the case as it was planned.
        pieces: what lies on the bench, by the panel each was marked for.
        by_method: the case with one joint held by another method, or None where that cannot be; asked late.
        by_shift: the case planned anew with a shelf or divider so far (mm) from its place, all beside it fitted,
            or None; asked late.
        others: codes of the methods that could hold a joint instead, by joint.
        price_of: money (cents) for a new piece of a panel's board, None where it is not known.
        rounded: how far the mark of each cut stands beside the cut's exact place, since it was rounded.
        from_rack: a piece on the rack that a panel can be sawn from, in words, or "".
        weak: what the sizes of the pieces, as they lie there, leave less sound than was planned.
    """

    case: DetailedCase
    job: Job
    methods: tuple[Method, ...]
    pieces: Mapping[PanelId, Piece]
    by_method: Callable[[DetailedCase, JointId, str], DetailedCase | None]
    by_shift: Callable[[PanelId, float], DetailedCase | None]
    others: Mapping[JointId, tuple[str, ...]]
    price_of: Callable[[PanelId], float | None]
    from_rack: Callable[[PanelId], str]
    cents_per_minute: float = 0.0
    rounded: Mapping[FeatureId, PanelPoint] = field(default_factory=dict)
    weak: tuple[Weakness, ...] = ()

    @property
    def odd(self) -> tuple[tuple[PanelId, Piece], ...]:
        """The pieces that are of another size than planned, each with its place."""
        planned = {p.id: (p.length, p.width, p.thickness) for p in self.case.panels}
        return tuple((panel, piece) for panel, piece in self.pieces.items() if piece.sizes != planned[panel])

    @property
    def lengths(self) -> LengthWriter:
        """How lengths are written."""
        return self.job.lengths

    def method(self, code: str) -> Method:
        """Return a method by its code."""
        return next(m for m in self.methods if m.code == code)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """One state: the case as it is wanted, pieces and seats, plugs, and what is left as it is, by key of its break."""

    case: DetailedCase
    pieces: Mapping[PieceId, Piece]
    seats: Mapping[PanelId, Seat]
    plugs: tuple[Plug, ...] = ()
    left: frozenset[str] = frozenset()
    moves: tuple[Move, ...] = ()

    def piece_in(self, panel: PanelId) -> Piece:
        """Return the piece that lies in a panel's place."""
        return self.pieces[self.seats[panel].piece]

    def with_piece(self, piece: Piece) -> Draft:
        """Return the state with a piece as it is after something was done to it."""
        return replace(self, pieces={**self.pieces, piece.id: piece})

    def after(self, move: Move) -> Draft:
        """Return the state with a move written down as done."""
        return replace(self, moves=(*self.moves, move))


def first_draft(bench: Bench) -> Draft:
    """Return the state in which nothing has been done yet: every piece in the place it was marked for."""
    return Draft(
        case=bench.case,
        pieces={p.id: p for p in bench.pieces.values()},
        seats={panel: Seat(piece=p.id) for panel, p in bench.pieces.items()},
    )
