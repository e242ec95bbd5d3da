"""What there is to cut from, and how it is cut, as job and workshop say it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator

from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.job import Board, Job
from storyrod.model.sheet import CutRules, SawKind, StockSheet, Trim
from storyrod.model.workshop import Workshop


def stock_of(job: Job, workshop: Workshop, boards: Collection[str]) -> tuple[StockSheet, ...]:
    """Return the sheets and the rack's offcuts of those `boards` (codes) for which the job gives a sheet size.

    An offcut of the rack has sawn edges, so nothing is trimmed off it.
    """
    told = [b for b in job.boards if b.code in boards and b.sheets]
    codes = {b.code: b for b in told}
    rack = (
        StockSheet(
            id=offcut.code,
            name=f"offcut {offcut.code}",
            board=offcut.board,
            length=offcut.length,
            width=offcut.width,
            copies=1,
            trim=Trim(),
            offcut=True,
            mass_kg_m2=_mass_kg_m2(codes[offcut.board]),
            field=offcut.field,
        )
        for offcut in workshop.rack
        if offcut.board in codes
    )
    return (*(s for b in told for s in _sheets(job, b)), *rack)


def rules_of(workshop: Workshop, lengths: LengthWriter = METRIC) -> CutRules:
    """Return how the workshop cuts its sheets."""
    saw = workshop.saw
    return CutRules(
        lengths=lengths,
        kerf=saw.kerf,
        trim=Trim.even(saw.trim),
        offcut_length=saw.offcut_length,
        offcut_width=saw.offcut_width,
        one_person_kg=workshop.handling.one_person_kg,
        saw=SawKind.TRACK if saw.track_saw else SawKind.TABLE,
    )


def _sheets(job: Job, board: Board) -> Iterator[StockSheet]:
    seen: Counter[str] = Counter()
    for n, sheet in enumerate(board.sheets):
        size = job.lengths.size(sheet.length, sheet.width)
        seen[size] += 1
        again = f" ({seen[size]})" if seen[size] > 1 else ""
        yield StockSheet(
            id=f"{board.code} {size}{again}",
            name=f"{size}{again}",
            board=board.code,
            length=sheet.length,
            width=sheet.width,
            price_cents=sheet.price_cents,
            copies=sheet.copies,
            mass_kg_m2=_mass_kg_m2(board),
            field=f"{board.field or f'boards.{board.code}'}.sheets[{n}]",
        )


def _mass_kg_m2(board: Board) -> float:
    return board.density_kg_m3 * board.measured / 1000


def rack_code(offcut: str, version: str) -> str:
    """Return what is written on an offcut: its name in the plan, and the plan's version cut short, to be told apart."""
    return f"{offcut}-{version[:4]}"
