"""The folder of a study: rows as they come, in pieces that are whole or not there, and tables made of them.

    study.json                   the columns, and how many rows there will be
    rows.csv                     every row so far that follows on the one before it
    pieces-DIGEST/00000.json     a piece of rows, written aside and then put in its place
    parquet-DIGEST/00000.parquet the same, where the libraries for it are installed: together one data set

The pieces are what a study goes on from. They are kept apart by the study's digest: rows of a job or a study file that
has changed since are never taken for those of the new one.
"""

from __future__ import annotations

import csv
import io
import json
import os
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Final, TextIO

from storyrod.adapters.csv_cells import FORMULA
from storyrod.adapters.study._parquet import parquet_bytes
from storyrod.faults import Fault, JobError
from storyrod.model.study import Cell, Column, Kind, Row

PIECE: Final = 20
"""So many variants are worked out in one go: some seconds, which is all that is lost where a worker is killed."""


def pieces_of(rows: int) -> range:
    """Return the numbers of the pieces of so many rows."""
    return range(-(-rows // PIECE))


def numbers_in(piece: int, rows: int) -> range:
    """Return the numbers of the variants in a piece."""
    return range(piece * PIECE, min((piece + 1) * PIECE, rows))


class Store:
    """The folder of one study, opened to go on with it.

    Raises:
        JobError: the folder cannot be written to.
    """

    def __init__(self, folder: Path, columns: Sequence[Column], rows: int, digest: str) -> None:
        self.folder, self.columns, self.rows = folder, tuple(columns), rows
        self._pieces = folder / f"pieces-{digest[:12]}"
        self._parquet = folder / f"parquet-{digest[:12]}"
        self._next = 0
        self._csv: TextIO | None = None
        try:
            self._pieces.mkdir(parents=True, exist_ok=True)
            told = {"format": 1, "rows": rows, "digest": digest, "columns": [[c.name, c.kind.value] for c in columns]}
            put_whole(folder / "study.json", (json.dumps(told, indent=1, ensure_ascii=False) + "\n").encode())
            self._mend()
            self._csv = (folder / "rows.csv").open("w", encoding="utf-8", newline="")
            self._heads(self._csv)
            self._follow_on()
        except OSError as error:
            raise _not_written(folder, error) from error

    @property
    def csv(self) -> Path:
        """The table of all rows."""
        return self.folder / "rows.csv"

    @property
    def parquet(self) -> Path | None:
        """The folder of the rows as Parquet; None where its library is not installed."""
        return self._parquet if self._parquet.exists() else None

    def known(self) -> frozenset[int]:
        """Return the pieces that are there already."""
        return frozenset(int(p.stem) for p in self._pieces.glob("*.json") if p.stem.isdigit())

    def piece(self, number: int) -> tuple[Row, ...]:
        """Return the rows of a piece that is there."""
        told = json.loads(self._at(number).read_bytes())
        return tuple(Row(number=n, cells=tuple(cells), rank=rank) for n, cells, rank in told)

    def keep(self, number: int, rows: Sequence[Row]) -> None:
        """Keep a piece: whole, or, where that fails, not at all.

        Raises:
            JobError: the folder cannot be written to, or the disk is full.
        """
        told = [[r.number, r.cells, r.rank] for r in rows]
        try:
            packed = parquet_bytes(self.columns, rows)
            if packed is not None:  # before the piece: what is not whole is made again
                self._parquet.mkdir(exist_ok=True)
                put_whole(self._parquet / f"{number:07d}.parquet", packed)
            put_whole(self._at(number), json.dumps(told, ensure_ascii=False, allow_nan=False).encode())
            self._follow_on()
        except OSError as error:
            raise _not_written(self.folder, error) from error

    def every(self) -> Iterator[Row]:
        """Yield all rows that are there, in order."""
        for number in sorted(self.known()):
            yield from self.piece(number)

    def write_some(self, name: str, rows: Iterable[Row]) -> None:
        """Write a table of some of the rows.

        Raises:
            JobError: as `keep`.
        """
        try:
            put_whole(self.folder / name, table_bytes(self.columns, rows))
        except OSError as error:
            raise _not_written(self.folder, error) from error

    def close(self) -> None:
        """Write the whole table once more, in one piece, where every row is there; and let go of it.

        Raises:
            JobError: as `keep`.
        """
        if self._csv is not None:
            self._csv.close()
            self._csv = None
        if self._next < len(pieces_of(self.rows)):
            return
        aside = self.csv.with_suffix(f".{os.getpid()}.new")
        try:
            with aside.open("w", encoding="utf-8", newline="") as whole:
                self._heads(whole)
                self._lines(whole, self.every())
            aside.replace(self.csv)
        except OSError as error:
            raise _not_written(self.folder, error) from error

    def _mend(self) -> None:
        """Take away pieces that cannot be read (a disk that lost its last moments), so that they are made again."""
        for number in sorted(self.known()):
            try:
                whole = [row.number for row in self.piece(number)] == list(numbers_in(number, self.rows))
            except (ValueError, TypeError):
                whole = False
            if not whole:
                self._at(number).unlink()

    def _at(self, number: int) -> Path:
        return self._pieces / f"{number:07d}.json"

    def _follow_on(self) -> None:
        """Write to the table what follows on the rows it has."""
        assert self._csv is not None  # noqa: S101 - asked for while it is open
        while self._next < len(pieces_of(self.rows)) and self._at(self._next).exists():
            self._lines(self._csv, self.piece(self._next))
            self._next += 1
        self._csv.flush()

    def _heads(self, out: TextIO) -> None:
        _write_heads(out, self.columns)

    def _lines(self, out: TextIO, rows: Iterable[Row]) -> None:
        _write_lines(out, self.columns, rows)


def table_bytes(columns: Sequence[Column], rows: Iterable[Row]) -> bytes:
    """Return a table of rows as a CSV file has it."""
    out = io.StringIO(newline="")
    _write_heads(out, columns)
    _write_lines(out, columns, rows)
    return out.getvalue().encode()


def _write_heads(out: TextIO, columns: Sequence[Column]) -> None:
    csv.writer(out).writerow([_safe(c.name) for c in columns])


def _write_lines(out: TextIO, columns: Sequence[Column], rows: Iterable[Row]) -> None:
    writer = csv.writer(out)
    writer.writerows([shown(c.kind, v) for c, v in zip(columns, row.cells, strict=True)] for row in rows)


def shown(kind: Kind, cell: Cell) -> str:
    """Return a cell as a table has it: money with two decimals, nothing where it is not known."""
    if cell is None:
        return ""
    if kind is Kind.MONEY and isinstance(cell, int):
        sign, cents = ("-", -cell) if cell < 0 else ("", cell)
        return f"{sign}{cents // 100}.{cents % 100:02d}"
    return _safe(cell) if isinstance(cell, str) else repr(cell)


def _safe(text: str) -> str:
    return FORMULA.sub(r"\1'", text)


def put_whole(path: Path, data: bytes) -> None:
    """Write a file aside, and put it in its place."""
    aside = path.with_name(f".{path.name}.{os.getpid()}.new")
    aside.write_bytes(data)
    aside.replace(path)


def _not_written(folder: Path, error: OSError) -> JobError:
    return JobError(
        Fault(
            code="study-folder",
            field="--out",
            found=f'"{folder}", which cannot be written to: {error.strerror or error}',
            allowed="a folder of yours, with room in it",
            do="Free some room or name another folder; rows that are there are kept.",
        )
    )
