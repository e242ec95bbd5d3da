"""Read what can be read out of a damaged log into a new one."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from storyrod.adapters.log._faults import refused, told
from storyrod.adapters.log._log import open_log
from storyrod.adapters.log._schema import KEPT
from storyrod.adapters.log._types import Rescued


def rescue(damaged: Path, into: Path) -> Rescued:
    """Return how many rows were read out of a damaged log and put into a new one; the damaged file is not touched.

    Raises:
        JobError: `into` is there already, or `damaged` is not.
    """
    if into.exists():
        raise refused("file-exists", str(into), "a file of that name", "a free name", "Choose another name.")
    if not damaged.exists():
        raise refused("file-missing", str(damaged), "no such file", "the damaged log", "Check the name.")
    counts: list[tuple[str, int]] = []
    unread: list[str] = []
    with open_log(into) as log:
        for table in KEPT:
            kept = 0
            seen: set[str] = set()
            for row in _rows_of(damaged, table, unread):
                if row["uid"] in seen:
                    continue
                seen.add(row["uid"])
                with told(log.name), log.engine.begin() as connection:
                    connection.execute(table.insert().values(row))
                kept += 1
            counts.append((table.name, kept))
    return Rescued(rows=tuple(counts), unread=tuple(unread))


def _rows_of(path: Path, table: sa.Table, unread: list[str]) -> Iterator[dict[str, Any]]:
    """Yield the sound rows of a table: from the first on until one cannot be read, then from the last backward."""
    columns = _columns_there(path, table)
    for order in ("ASC", "DESC"):
        connection = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
        connection.text_factory = lambda raw: raw.decode("utf-8", errors="replace")
        try:
            names = ", ".join(f'"{c.name}"' for c in columns)
            rows = connection.execute(f'SELECT {names} FROM "{table.name}" ORDER BY id {order}')  # noqa: S608
            for found in rows:
                row = dict(zip((c.name for c in columns), found, strict=True))
                if _is_sound(row, columns):
                    yield {c.name: _typed(c, row[c.name]) for c in columns}
                else:
                    unread.append(f"a row of {table.name}")
            return
        except sqlite3.DatabaseError as error:
            if order == "DESC":
                unread.append(f"part of {table.name} ({error})")
        finally:
            connection.close()


def _columns_there(path: Path, table: sa.Table) -> list[sa.Column[Any]]:
    """Return the columns to be read: what a log of an earlier version lacks gets what is usual."""
    wanted = [c for c in table.columns if c.name != "id"]
    connection = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    try:
        there = {str(row[1]) for row in connection.execute(f'PRAGMA table_info("{table.name}")')}
    except sqlite3.DatabaseError:
        return wanted  # what cannot be read is said where its rows are asked for
    finally:
        connection.close()
    return [c for c in wanted if c.name in there or c.server_default is None]


def _is_sound(row: dict[str, Any], columns: list[sa.Column[Any]]) -> bool:
    for column in columns:
        value = row[column.name]
        if value is None:
            if not column.nullable:
                return False
        elif isinstance(column.type, sa.Float | sa.Integer | sa.Boolean) != isinstance(value, int | float):
            return False
    return bool(row["uid"])


def _typed(column: sa.Column[Any], value: object) -> object:
    return bool(value) if isinstance(column.type, sa.Boolean) else value
