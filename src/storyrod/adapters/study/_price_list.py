"""The price list of a study, as PDF and CSV, in the study's folder."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from pathlib import Path

from storyrod.adapters.csv_cells import FORMULA
from storyrod.adapters.files.studying import Variants
from storyrod.adapters.study._rows import Shared
from storyrod.faults import raise_if_any
from storyrod.model.study import Asked, Cell, Column, Row
from storyrod.planning import Plan
from storyrod.telling.figures import NO_PRICE, figures_of
from storyrod.telling.price_list import Priced, PriceList, price_list_of
from storyrod.telling.quotation import quotation_faults


def refuse_without_prices(variants: Variants) -> None:
    """Refuse a price list of a job that has no price for something a customer gets; told before it begins.

    Raises:
        JobError: as for a quotation.
    """
    if variants.study.price_list is not None:
        raise_if_any(quotation_faults(_own_plan(variants).account))


def _own_plan(variants: Variants) -> Plan:
    return Shared(variants.workshop).plan(variants.own)


def write_price_list(variants: Variants, columns: Sequence[Column], rows: Sequence[Row], folder: Path) -> None:
    """Write the price list of a study whose rows are all there."""
    from storyrod.adapters.study._store import put_whole

    for name, data in price_list_files(variants, columns, rows).items():
        put_whole(folder / name, data)


def price_list_files(variants: Variants, columns: Sequence[Column], rows: Sequence[Row]) -> dict[str, bytes]:
    """Return the price list of a study that wants one and whose rows are all there: as PDF and CSV, by name."""
    from storyrod.adapters.packet import make_price_list

    pricing = variants.study.price_list
    assert pricing is not None  # noqa: S101 - asked only of studies that want one
    plan = _own_plan(variants)
    names = [vary.name or vary.varies.rpartition(".")[2] for vary in variants.study.vary]
    tools = figures_of(plan, (Asked.PRICE,))[1]  # what has no price in the job itself is the maker's own
    told = price_list_of(plan, pricing, names, _priced(columns, rows, len(names), ("", tools)))
    return {"price-list.csv": _csv(told), "price-list.pdf": make_price_list(plan, told)}


def _priced(columns: Sequence[Column], rows: Sequence[Row], varied: int, lacking: tuple[Cell, ...]) -> list[Priced]:
    at = {column.name: n for n, column in enumerate(columns)}
    found = []
    for row in rows:
        price = row.cells[at["price"]]
        sold = price if isinstance(price, int) and not row.cells[at["not kept"]] else None
        lacks = row.cells[at[NO_PRICE]] not in lacking
        found.append(Priced(values=row.cells[:varied], cents=sold, is_open=lacks))
    return found


def _csv(told: PriceList) -> bytes:
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerows([FORMULA.sub(r"\1'", cell) for cell in line] for line in (told.heads, *told.rows))
    return out.getvalue().encode()
