"""A plan in a few figures, for the table of a study: as whole cents, numbers and short words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.model.account import joined_words
from storyrod.model.soundness import CaseSoundness, Sag
from storyrod.model.study import Asked, Cell, Column, Kind, Only, Row
from storyrod.model.work import Stage
from storyrod.planning import Plan

NO_PRICE: Final = "no price for"
"""The column that says what a price leaves out."""

MONEY: Final = frozenset({Asked.PRICE, Asked.COST})
"""What leaves out whatever has no price."""

_COLUMNS: Final[dict[Asked, tuple[tuple[str, Kind], ...]]] = {
    Asked.PRICE: (("price", Kind.MONEY), (NO_PRICE, Kind.TEXT)),
    Asked.COST: (("cost", Kind.MONEY),),
    Asked.MINUTES: (("minutes", Kind.NUMBER), ("minutes in clamps", Kind.NUMBER)),
    Asked.STAGES: tuple((f"minutes {stage.value}", Kind.NUMBER) for stage in Stage),
    Asked.SHEETS: (("sheets", Kind.COUNT), ("sheets by board", Kind.TEXT)),
    Asked.YIELD: (("yield", Kind.NUMBER),),
    Asked.WEIGHT: (("weight kg", Kind.NUMBER),),
    Asked.SAG: (("sag mm", Kind.NUMBER), ("sag of its limit", Kind.NUMBER), ("sags most", Kind.TEXT)),
    Asked.TIPPING: (("stands", Kind.TEXT), ("tipping margin", Kind.NUMBER)),
    Asked.JIGS: (("jigs to make", Kind.COUNT), ("jigs", Kind.TEXT)),
}
"""The columns of what is asked."""

_DIGITS: Final = 6
"""So many digits after the point are kept: what is beyond them is dust of the sums."""


def columns_of(asked: Sequence[Asked]) -> tuple[Column, ...]:
    """Return the columns of what is asked, in that order."""
    return tuple(Column(name=name, kind=kind) for one in asked for name, kind in _COLUMNS[one])


def figures_of(plan: Plan, asked: Sequence[Asked]) -> tuple[Cell, ...]:
    """Return the figures of a plan, as many as `columns_of` has columns.

    Raises:
        JobError: the job cannot be built, or its sheets not be cut.
    """
    return tuple(_plain(cell) for one in asked for cell in _cells(plan, one))


def lacking_of(columns: Sequence[Column], row: Row, least: Asked) -> str:
    """Return what has no price in a row, where money says which is best; "" where all has one or it was not asked."""
    at = next((n for n, c in enumerate(columns) if c.name == NO_PRICE), None)
    return "" if at is None or least not in MONEY else str(row.cells[at] or "")


def _plain(cell: Cell) -> Cell:
    if isinstance(cell, float):
        return round(cell, _DIGITS) + 0.0 if math.isfinite(cell) else None
    return cell


def _cells(plan: Plan, asked: Asked) -> tuple[Cell, ...]:
    match asked:
        case Asked.PRICE:
            return plan.account.price_cents, joined_words([m.words for m in plan.account.missing] or [""])
        case Asked.COST:
            return (plan.account.cost_cents,)
        case Asked.MINUTES:
            return plan.account.minutes.usual, plan.account.clamp_min
        case Asked.STAGES:
            usual = {m.id: m.minutes.usual for m in plan.account.by_stage}
            return tuple(usual.get(stage.value, 0.0) for stage in Stage)
        case Asked.SHEETS:
            bought = sheets_bought(plan)
            return sum(n for _, n in bought), ", ".join(f"{n} of {name}" for name, n in bought)
        case Asked.YIELD:
            figures, sizes = [b.figures for b in plan.sheets.boards], {s.id: s.length * s.width for s in plan.stock}
            sheets = math.fsum(n * sizes[code] for f in figures for code, n in f.sheets)  # in any order of cutting
            return (1e6 * math.fsum(f.parts_m2 for f in figures) / sheets if sheets else None,)
        case _:
            return _of_soundness(plan, asked)


def _of_soundness(plan: Plan, asked: Asked) -> tuple[Cell, ...]:
    match asked:
        case Asked.WEIGHT:
            counts = {c.code: c.count for c in plan.job.cases}
            return (math.fsum(c.weights.empty_kg * counts[c.case] for c in plan.soundness.cases),)
        case Asked.SAG:
            worst = _worst_sag(plan.soundness.cases)
            if worst is None or worst.lasting is None:
                return None, None, ""
            return worst.lasting, worst.lasting / worst.limit, worst.name
        case Asked.TIPPING:
            return _stands(plan.soundness.cases)
        case _:
            jigs = plan.account.work.jigs
            return len(jigs), ", ".join(jigs)


def _stands(cases: Sequence[CaseSoundness]) -> tuple[Cell, ...]:
    """Return what is to be done that no case tips, and the least margin of those that stand."""
    margins = [c.tipping.margin for c in cases if c.tipping is not None]
    fixed = [c.case for c in cases if c.tipping is not None and c.tipping.fix_to_wall]
    if not margins:
        return "on the wall", None
    return (f"fix {joined_words(fixed)} to the wall" if fixed else "by itself"), min(margins)


def _worst_sag(cases: Sequence[CaseSoundness]) -> Sag | None:
    known = [s for c in cases for s in c.sags if s.lasting is not None and s.limit > 0]
    return max(known, key=lambda s: (s.lasting or 0.0) / s.limit, default=None)


def sheets_bought(plan: Plan) -> tuple[tuple[str, int], ...]:
    """Return how many sheets of which board are bought; what lies on the rack is not."""
    offcuts = {s.id for s in plan.stock if s.offcut}
    counts = (
        (plan.job.board(b.board).name, sum(n for code, n in b.figures.sheets if code not in offcuts))
        for b in plan.sheets.boards
    )
    return tuple((name, n) for name, n in counts if n)


def least_sheets(plan: Plan) -> int:
    """Return a number of sheets that no layout can do with fewer than, by area alone; known before any is searched."""
    area: dict[str, float] = {}
    for part in plan.parts:
        area[part.board] = area.get(part.board, 0.0) + part.length * part.width * part.copies
    least = 0
    for board, needed in area.items():
        stock = [s for s in plan.stock if s.board == board]
        if stock and not any(s.offcut for s in stock):
            least += math.ceil(needed / max(s.length * s.width for s in stock) - 1e-9)
    return least


def not_kept(plan: Plan, only: Only) -> str:
    """Return which conditions of a study a plan does not keep, in words; "" where it keeps them all."""
    return "; ".join(_not_kept(plan, only))


def too_many_sheets(plan: Plan, only: Only) -> str:
    """Return that a plan needs more sheets than a study allows, where that is known before they are laid out."""
    least = least_sheets(plan)
    if only.sheets_most is None or least <= only.sheets_most:
        return ""
    return f"at least {_sheets(least)}, at most {only.sheets_most} asked for; not laid out"


def _not_kept(plan: Plan, only: Only) -> Iterator[str]:
    if only.sound:
        for case in plan.soundness.cases:
            if any(s.within_limit is False for s in case.sags):
                yield f"a board of {case.case} sags beyond its limit"
            if case.tipping is not None and case.tipping.fix_to_wall:
                yield f"{case.case} must be fixed to the wall"
    jigs = plan.account.work.jigs
    if only.jigs_owned and jigs:
        yield f"make first: {joined_words(jigs)}"
    sheets = sum(n for _, n in sheets_bought(plan))
    if only.sheets_most is not None and sheets > only.sheets_most:
        yield f"{_sheets(sheets)}, at most {only.sheets_most} asked for"
    if only.price_most is not None and plan.account.price_cents > only.price_most:
        yield "dearer than asked for"


def _sheets(count: int) -> str:
    return f"{count} {'sheet' if count == 1 else 'sheets'}"


def rank_of(plan: Plan, least: Asked) -> float:
    """Return what the best variant has the least of."""
    (first, *_) = _cells(plan, least)
    assert isinstance(first, int | float)  # noqa: S101 - what a study can ask the least of is a figure
    return float(first)
