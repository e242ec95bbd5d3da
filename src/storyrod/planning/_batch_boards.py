"""The boards of a batch: which of its jobs cut the same one, and by which codes its parts are laid out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from storyrod.model.batch import Member
from storyrod.model.board import Board, Edging, SheetSize
from storyrod.model.panel import Panel


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardKindred:
    """One kind of board, and the jobs that have it.

    Attributes:
        code: by which the jobs call it; another kind of the batch may have the same code.
        board: with every size that one of the jobs may buy.
        marks: of the jobs that cut it, in their order; `own` are those of them that share no sheet.
    """

    code: str
    board: Board
    marks: tuple[str, ...]
    own: frozenset[str]

    @property
    def sharing(self) -> tuple[str, ...]:
        """The jobs that may share its sheets."""
        return tuple(m for m in self.marks if m not in self.own)


def kindred_boards(members: Sequence[Member], used: Mapping[str, frozenset[str]]) -> tuple[BoardKindred, ...]:
    """Return the kinds of board in the order in which the jobs name them; `used` are the codes that each job cuts.

    Two jobs mean the same board where code, kind, measured thickness and grain are the same: such boards lie on one
    pile. What either calls it, and its density, tell nothing apart.
    """
    found: dict[tuple[object, ...], list[tuple[Member, Board]]] = {}
    for member in members:
        for board in member.job.boards:
            if board.code in used[member.mark]:
                key = (board.code, board.kind, board.thickness, board.measured, board.grain)
                found.setdefault(key, []).append((member, board))
    lengths = members[0].job.lengths
    kinds = [_kindred(both) for both in found.values()]
    measured = _told_apart(kinds, lambda b: f"{b.name}, {lengths.told(b.measured)} measured")
    return tuple(_told_apart(measured, lambda b: f"{b.name} ({b.code})"))


def _told_apart(kinds: Sequence[BoardKindred], named: Callable[[Board], str]) -> list[BoardKindred]:
    """Return the kinds of board, those that are called alike by another name."""
    names = Counter(k.board.name for k in kinds)
    return [k if names[k.board.name] == 1 else replace(k, board=replace(k.board, name=named(k.board))) for k in kinds]


def _kindred(both: Sequence[tuple[Member, Board]]) -> BoardKindred:
    first = both[0][1]
    sizes = _all_sizes([b for _, b in both])
    return BoardKindred(
        code=first.code,
        board=replace(first, sheets=sizes, field=""),
        marks=tuple(m.mark for m, _ in both),
        own=frozenset(m.mark for m, _ in both if m.own_sheets),
    )


def _all_sizes(boards: Sequence[Board]) -> tuple[SheetSize, ...]:
    """Return each size once: at the lowest price that a job gives, and as many as the job that says fewest."""
    sizes: dict[tuple[float, float], SheetSize] = {}
    for size in (s for b in boards for s in b.sheets):
        known = sizes.get((size.length, size.width))
        sizes[size.length, size.width] = size if known is None else _both(known, size)
    return tuple(sizes.values())


def _both(one: SheetSize, other: SheetSize) -> SheetSize:
    prices = [s.price_cents for s in (one, other) if s.price_cents is not None]
    copies = [s.copies for s in (one, other) if s.copies is not None]
    return replace(one, price_cents=min(prices, default=None), copies=min(copies, default=None))


def differing_prices(members: Sequence[Member], kindred: Sequence[BoardKindred]) -> Iterator[tuple[str, SheetSize]]:
    """Yield each kind of board and size for which two jobs give different prices."""
    for kind in kindred:
        for size in kind.board.sheets:
            told = {
                s.price_cents
                for m in members
                for b in m.job.boards
                if m.mark in kind.marks and b.code == kind.code
                for s in b.sheets
                if (s.length, s.width) == (size.length, size.width) and s.price_cents is not None
            }
            if len(told) > 1:
                yield kind.board.name, size


@dataclass(frozen=True, slots=True, kw_only=True)
class Codes:
    """The codes of a batch, by the job's mark and its own code: boards that share sheets have one and the same."""

    boards: Mapping[tuple[str, str], str]
    edgings: Mapping[tuple[str, str], str]

    def of(self, mark: str, panel: Panel) -> Panel:
        """Return a panel of a job with the codes of the batch."""
        board = self.boards[mark, panel.board]
        edged = tuple(replace(e, edging=self.edgings[mark, e.edging]) for e in panel.edged)
        return panel if board == panel.board and edged == panel.edged else replace(panel, board=board, edged=edged)


def edging_codes(members: Sequence[Member]) -> tuple[dict[tuple[str, str], str], tuple[Edging, ...]]:
    """Return the code of each job's edgings in the batch, and the edgings: what is the same tape, once.

    Name, thickness and how it stands proud tell edgings apart; the lowest price that a job gives is taken.
    """
    codes: dict[tuple[str, str], str] = {}
    made: dict[tuple[object, ...], Edging] = {}
    for member in members:
        for edging in member.job.edgings:
            key = (edging.name, edging.thickness, edging.solid, edging.proud)
            known = made.get(key)
            taken = {e.code for e in made.values()}
            code = edging.code if edging.code not in taken else f"{edging.code} {member.mark}"
            made[key] = replace(edging, code=code, field="") if known is None else _cheaper(known, edging)
            codes[member.mark, edging.code] = made[key].code
    return codes, tuple(made.values())


def _cheaper(known: Edging, other: Edging) -> Edging:
    prices = [e.price_cents_per_m for e in (known, other) if e.price_cents_per_m is not None]
    return replace(known, price_cents_per_m=min(prices, default=None), roll_m=max(known.roll_m, other.roll_m))
