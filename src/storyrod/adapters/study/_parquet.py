"""Rows as Parquet, where its library is installed (the extra `study`)."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from importlib.util import find_spec
from typing import Any

from storyrod.model.study import Cell, Column, Kind, Row


def parquet_bytes(columns: Sequence[Column], rows: Sequence[Row]) -> bytes | None:
    """Return rows as one Parquet file, money as decimals of two digits; None where the library is not there."""
    if find_spec("pyarrow") is None:
        return None
    import pyarrow as pa
    import pyarrow.parquet as pq

    arrays = [pa.array([_plain(c.kind, r.cells[n]) for r in rows], _type(c.kind)) for n, c in enumerate(columns)]
    out = pa.BufferOutputStream()
    pq.write_table(pa.table(arrays, names=[c.name for c in columns]), out)
    return bytes(out.getvalue())


def _type(kind: Kind) -> Any:  # noqa: ANN401 - pyarrow ships no types
    import pyarrow as pa

    types = {Kind.MONEY: pa.decimal128(18, 2), Kind.NUMBER: pa.float64(), Kind.COUNT: pa.int64()}
    return types.get(kind, pa.string())


def _plain(kind: Kind, cell: Cell) -> object:
    if cell is None:
        return None
    if kind is Kind.MONEY:
        return Decimal(int(cell)).scaleb(-2)
    if kind is Kind.NUMBER:
        return float(cell)
    return int(cell) if kind is Kind.COUNT else str(cell)
