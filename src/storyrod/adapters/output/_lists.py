"""The lists that go to the saw and to the shop: cutting list and connector list, as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from storyrod.adapters.csv_cells import FORMULA
from storyrod.model.panel import Panel
from storyrod.model.weight import panel_mass_kg
from storyrod.planning import Plan
from storyrod.telling.connectors import connector_items
from storyrod.telling.panels import edging_words, panels_of

CUTTING_COLUMNS = (
    "board",
    "mark",
    "panel",
    "case",
    "count",
    "finished length",
    "finished width",
    "thickness",
    "cut length",
    "cut width",
    "grain",
    "edging",
    "mass kg",
    "length comes from",
    "width comes from",
)


def cutting_list(plan: Plan) -> str:
    """Return the cutting list as CSV, by board, then largest first; lengths as the job shows them."""
    rows = sorted(panels_of(plan), key=lambda pc: (pc[0].board, -pc[0].length * pc[0].width, pc[0].mark))
    return as_csv(CUTTING_COLUMNS, (_cutting_row(plan, panel, count) for panel, count in rows))


def _cutting_row(plan: Plan, panel: Panel, count: int) -> Sequence[str]:
    def n(mm: float) -> str:
        return plan.job.lengths.n(mm)

    return (
        plan.job.board(panel.board).name,
        panel.mark,
        panel.name,
        panel.case,
        str(count),
        n(panel.length),
        n(panel.width),
        n(panel.thickness),
        n(panel.cut_length),
        n(panel.cut_width),
        panel.grain.value,
        edging_words(panel),
        f"{panel_mass_kg(panel, plan.job.board(panel.board)):.2f}",
        *panel.sums,
    )


def connector_list(plan: Plan) -> str:
    """Return connectors and hardware as CSV: what, how many in the whole job, and where they go."""
    rows: list[Sequence[str]] = [
        ("connector", item, str(count), "piece", _methods_using(plan, item))
        for item, count in sorted(connector_items(plan).items())
    ]
    for case in plan.details.cases:
        rows.extend(
            ("hardware", h.name, str(h.count * case.built.case.count), h.unit, f"{case.built.case.code}: {h.where}")
            for h in case.built.hardware
        )
    return as_csv(("kind", "item", "count", "unit", "where"), rows)


def _methods_using(plan: Plan, item: str) -> str:
    used = {c.method for case in plan.details.cases for c in case.connectors if c.item == item}
    return ", ".join(sorted(used))


def as_csv(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return rows as CSV, made inert for spreadsheets."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows([_inert(cell) for cell in row] for row in rows)
    return text.getvalue()


def _inert(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula, should a maker's own name begin like one.

    Nor one that parts its cells at semicolons or tabs, or at a line's end: there a piece of the name would begin it.
    """
    return cell if _is_number(cell) else FORMULA.sub(r"\1'", cell)


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True
