"""What a layout amounts to, in figures."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from storyrod.model.sheet import Figures, Part, SheetPlan, StockSheet


def figures_of(sheets: Sequence[SheetPlan], parts: Sequence[Part], stock: Sequence[StockSheet]) -> Figures:
    """Return the figures of one board's layout."""
    by_id = {s.id: s for s in stock}
    used = Counter(s.stock for s in sheets)
    parts_m2 = sum(p.length * p.width * p.copies for p in parts) / 1e6
    sheets_m2 = sum(s.length * s.width for s in sheets) / 1e6
    per_layout = [settings_on(s) for s in sheets if not s.same_as]
    return Figures(
        sheets=tuple((s.id, used[s.id]) for s in stock if used[s.id]),
        parts_m2=parts_m2,
        sheets_m2=sheets_m2,
        yield_share=parts_m2 / sheets_m2 if sheets_m2 else 0.0,
        cents=sum(s.price_cents for s in sheets),
        cuts=sum(len(s.cuts) for s in sheets),
        cut_m=sum(c.length for s in sheets for c in s.cuts) / 1000,
        settings=sum(len(s) for s in per_layout),
        settings_apart=len(set().union(*per_layout)) if per_layout else 0,
        kept_m2=sum(o.area_m2 for s in sheets for o in s.offcuts if o.keep),
        unpriced=tuple(s.id for s in stock if used[s.id] and s.price_cents is None and not by_id[s.id].offcut),
    )


def settings_on(sheet: SheetPlan) -> set[tuple[str, float]]:
    """Return the different settings that one sheet wants, rips and crosscuts apart, trimming left out."""
    return {(c.way.value, c.setting) for c in sheet.cuts if not c.trim}
