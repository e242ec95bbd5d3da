"""A batch as data: its buying list as CSV, where each thing goes, who pays what, and what its plan.json says."""

from __future__ import annotations

from typing import Any

from storyrod.adapters.output._buying import BUYING_COLUMNS, buying_cells
from storyrod.adapters.output._lists import as_csv
from storyrod.planning import Batch
from storyrod.telling.batch import for_jobs, job_of, place_words, supplier_groups, trace_unit
from storyrod.telling.plain import plain, tidy

_WHERE_COLUMNS = ("what", "job", "where", "amount", "unit")
_PAID_COLUMNS = ("kind", "what")


def batch_buying_csv(batch: Batch) -> str:
    """Return the buying list of a batch as CSV: a row for each thing, by where it is bought."""
    currency = batch.together.account.terms.currency
    return as_csv(
        ("bought from", "jobs", *BUYING_COLUMNS),
        (
            (group.title, for_jobs(batch, one), *buying_cells(row, currency))
            for group in supplier_groups(batch)
            for row, one in group.rows
        ),
    )


def batch_traces_csv(batch: Batch) -> str:
    """Return where each bought thing goes as CSV: a row for each joint, edge, fitting and part."""
    jobs = job_of(batch)
    return as_csv(
        _WHERE_COLUMNS,
        (
            (row.name, jobs[t.case], place_words(t), f"{round(t.amount, 4):g}", trace_unit(one))
            for group in supplier_groups(batch)
            for row, one in group.rows
            for t in one.traces
        ),
    )


def batch_paid_csv(batch: Batch) -> str:
    """Return who pays what as CSV: a row for each thing that is used up, a column for each job."""
    marks = [m.mark for m in batch.members]
    return as_csv(
        (*_PAID_COLUMNS, *(f"job {m}" for m in marks), "together"),
        ((c.kind.value, c.what, *map(_money, c.by_job), _money(c.cents)) for c in batch.costs),
    )


def _money(cents: int) -> str:
    return f"{cents / 100:.2f}"


def batch_document(batch: Batch) -> dict[str, Any]:
    """Return what `plan.json` of a batch says: jobs, what they share, minutes, who pays what, what is bought."""
    return {
        "title": batch.title,
        "version": batch.version,
        "paid_by": batch.paid_by.value,
        "jobs": [
            {"mark": m.mark, "file": m.name, "title": m.job.title, "own_sheets": m.own_sheets, "version": p.version}
            for m, p in zip(batch.members, batch.plans, strict=True)
        ],
        "run": plain(batch.run) | {"saves_min": tidy(batch.run.saves_min)},
        "boards": [plain(b) | {"is_shared": b.is_shared} for b in batch.boards],
        "paid": [plain(c) for c in batch.costs],
        "bought": [plain(b) for b in batch.bought],
        "notes": list(batch.notes),
    }
