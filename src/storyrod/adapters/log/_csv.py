"""The whole log as CSV files, one a table, and back: for keeping, for a spreadsheet, for another machine."""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import sqlalchemy as sa

from storyrod.adapters.csv_cells import FORMULA, MARKED
from storyrod.adapters.log._faults import refused, told
from storyrod.adapters.log._log import BenchLog
from storyrod.adapters.log._open import reading
from storyrod.adapters.log._schema import KEPT
from storyrod.faults import Fault, raise_if_any

_AT_ONCE: Final = 500
_MOST_FAULTS: Final = 200
_LONGEST: Final = 100_000
"""Letters in one field: more than anything that is kept."""

_UNWRITABLE: Final = re.compile("[\0\ud800-\udfff]")
"""What no database takes as text: the null character, and halves of characters."""


def export_log(log: BenchLog, folder: Path) -> tuple[Path, ...]:
    """Write one CSV file a table into `folder`, which is made where it is not there; return their paths."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for table in KEPT:
        columns = [c for c in table.columns if c.name != "id"]
        with told(log.name), reading(log.engine) as connection:
            rows = connection.execute(sa.select(*columns).order_by(table.c.id)).all()
        path = folder / f"{table.name}.csv"
        partial = path.with_suffix(".partial")
        with partial.open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            writer.writerow([c.name for c in columns])
            writer.writerows([[_written(v) for v in row] for row in rows])
        partial.replace(path)
        written.append(path)
    return tuple(written)


def import_log(log: BenchLog, folder: Path) -> int:
    """Add the rows of an export that are not in the log yet; return how many. All of it or nothing.

    Raises:
        JobError: a file is not one of an export, or a row cannot be understood: file, line and column are told.
    """
    if not any((folder / f"{t.name}.csv").exists() for t in KEPT):
        raise refused(
            "log-import",
            str(folder),
            "no file of an export",
            "a folder with files such as ticks.csv",
            "Name the folder that an export was written to.",
        )
    faults: list[Fault] = []
    read = [(t, list(_rows(folder / f"{t.name}.csv", t, faults))) for t in KEPT]
    raise_if_any(faults)
    added = 0
    with told(log.name), log.engine.begin() as connection:
        for table, rows in read:
            known = set(connection.execute(sa.select(table.c.uid)).scalars())
            fresh = [r for r in rows if r["uid"] not in known and not _there(connection, table, r)]
            for start in range(0, len(fresh), _AT_ONCE):
                connection.execute(table.insert(), fresh[start : start + _AT_ONCE])
            added += len(fresh)
    return added


def _there(connection: sa.Connection, table: sa.Table, row: dict[str, Any]) -> bool:
    """Return whether the log has the same thing under another uid (a job, a plan version)."""
    for constraint in table.constraints:
        if isinstance(constraint, sa.UniqueConstraint):
            names = [c.name for c in constraint.columns]
            if names == ["uid"]:
                continue
            same = sa.and_(*(table.c[n] == row[n] for n in names))
            if connection.execute(sa.select(table.c.id).where(same)).first():
                return True
    return False


def _written(value: object) -> object:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return repr(value)  # Every digit, so that a row comes back as it was.
    if isinstance(value, str):
        return FORMULA.sub(r"\1'", value)  # a spreadsheet would work it out, or send it somewhere
    return "" if value is None else value


def _rows(path: Path, table: sa.Table, faults: list[Fault]) -> Iterator[dict[str, Any]]:
    if not path.exists():
        return
    columns = {c.name: c for c in table.columns if c.name != "id"}
    text = _text(path, faults)
    if text is None:
        return
    reader = csv.DictReader(io.StringIO(text, newline=""))
    try:
        later = [n for n, c in columns.items() if c.server_default is not None and n not in (reader.fieldnames or [])]
        columns = {n: c for n, c in columns.items() if n not in later}  # an export of a log that had none of these yet
        missing = [n for n in columns if n not in (reader.fieldnames or [])]
        if missing:
            faults.append(_fault(path, 1, f"no column {', '.join(missing)}", f"the columns {', '.join(columns)}"))
            return
        for row in reader:
            if len(faults) > _MOST_FAULTS:
                return
            try:
                yield {name: _value(column, row[name] or "") for name, column in columns.items()}
            except ValueError as error:
                faults.append(_fault(path, reader.line_num, str(error), "what an export writes"))
    except csv.Error as error:
        faults.append(_fault(path, reader.line_num, f"no table ({error})", "what an export writes"))


def _text(path: Path, faults: list[Fault]) -> str | None:
    """Return the text of a file, a mark of UTF-8 at its beginning left out; None where it cannot be read as text."""
    if not path.is_file():
        faults.append(_fault(path, 1, "a folder or pipe, which cannot be read", "a file of an export"))
        return None
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = error.object.count(b"\n", 0, error.start) + 1
        found = f"byte 0x{error.object[error.start]:02x}, which is not UTF-8"
        faults.append(_fault(path, line, found, "text in UTF-8, as an export writes it"))
    except OSError as error:
        faults.append(_fault(path, 1, f"a file that cannot be read ({error.strerror})", "a file of an export"))
    return None


def _value(column: sa.Column[Any], written: str) -> object:
    kind = column.type
    try:
        if isinstance(kind, sa.Boolean):
            return {"yes": True, "no": False}[written]
        if isinstance(kind, sa.Integer):
            return _whole(written)
        if isinstance(kind, sa.Float):
            return None if written == "" and column.nullable else _finite(written)
    except (ValueError, KeyError):
        raise ValueError(f'"{written[:60]}" in the column {column.name}') from None
    written = MARKED.sub(r"\1", written)
    most = kind.length if isinstance(kind, sa.String) and kind.length else _LONGEST
    if len(written) > most or _UNWRITABLE.search(written):
        raise ValueError(f'"{written[:60]}" in the column {column.name}, at most {most} letters and no null')
    return written


def _whole(written: str) -> int:
    if len(written) > 18 or abs(int(written)) >= 2**31:
        raise ValueError(written)
    return int(written)


def _finite(written: str) -> float:
    value = float(written)
    if not math.isfinite(value):
        raise ValueError(written)
    return value


def _fault(path: Path, line: int, found: str, allowed: str) -> Fault:
    return Fault(
        code="log-import",
        field=path.name,
        line=line,
        found=found,
        allowed=allowed,
        do="Fix the line, or export again. Nothing was added.",
    )
