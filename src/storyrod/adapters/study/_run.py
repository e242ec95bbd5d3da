"""A study worked out into its folder: what is there already is taken, the rest is done, and how it goes is told."""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from storyrod.adapters.files.studying import Variants
from storyrod.adapters.study._code import code_digest
from storyrod.adapters.study._engines import Alone, Engine, worked_out
from storyrod.adapters.study._pictures import write_pictures
from storyrod.adapters.study._price_list import refuse_without_prices, write_price_list
from storyrod.adapters.study._rows import Sharing, columns_in
from storyrod.adapters.study._store import Store, pieces_of
from storyrod.faults import Fault, JobError
from storyrod.model.study import Column, Row, StudyTable
from storyrod.telling.unbeaten import measures_in, unbeaten

BEST: Final = 5
"""So many of the best are told."""

_TRIED: Final = 3
"""So many variants are worked out to tell how long a study takes that is larger than it may be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Going:
    """How far a study is: rows done of all, seconds left where that is known, and the best row so far."""

    done: int
    rows: int
    left_s: float | None
    best: Row | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """A study worked out.

    Attributes:
        folder: where its tables lie, and `parquet` those for other programs; None where they were not written.
        taken: rows that were there before.
        faulty, against: rows with a fault, and rows that do not keep a condition.
        best: the best rows, the best first; of equals the earlier one.
        unbeaten: the rows that no other beats in all that can be weighed; none without a folder.
        pictures: the files that draw the study, and those with their numbers; none without a folder.
    """

    columns: tuple[Column, ...]
    rows: int
    folder: Path | None
    parquet: Path | None
    taken: int
    faulty: int
    against: int
    best: tuple[Row, ...]
    unbeaten: tuple[Row, ...] = ()
    pictures: tuple[str, ...] = ()


def digest_of(variants: Variants) -> str:
    """Return the name under which rows are kept: other rows may come of another study, or of other code."""
    return hashlib.sha256(f"{variants.digest}\0{code_digest()}".encode()).hexdigest()


class _Tally:
    """Counts rows, and keeps the best."""

    def __init__(self) -> None:
        self.done = self.faulty = self.against = 0
        self.best: list[Row] = []

    def add(self, rows: Iterable[Row]) -> None:
        for row in rows:
            self.done += 1
            self.faulty += bool(row.cells[-1])
            self.against += bool(row.cells[-2])
            if row.rank is not None:
                self.best.append(row)
        self.best = sorted(self.best, key=lambda r: (r.rank, r.number))[:BEST]


def run_study(
    variants: Variants,
    folder: Path | None = None,
    engine: Engine | None = None,
    progress: Callable[[Going], None] = lambda _: None,
    clock: Callable[[], float] = time.monotonic,
) -> Finished:
    """Work a study out, going on from what its folder has.

    Raises:
        JobError: more variants than the study allows, a folder that cannot be written to, or a cluster that is gone.
    """
    engine = engine or Alone()
    refuse_too_many(variants, engine.workers, clock)
    refuse_without_prices(variants)
    columns, tally, rows = columns_in(variants), _Tally(), len(variants)
    store = None if folder is None else Store(folder, columns, rows, digest_of(variants))
    known = store.known() if store else frozenset()
    if store:
        tally.add(store.every())
    taken = tally.done
    began = clock()
    wanted = [piece for piece in pieces_of(rows) if piece not in known]
    try:
        for piece, made in _each_once(engine.run(variants, wanted)):
            if store:
                store.keep(piece, made)
            tally.add(made)
            fresh = tally.done - taken
            left = (clock() - began) / fresh * (rows - tally.done)
            progress(Going(done=tally.done, rows=rows, left_s=left, best=next(iter(tally.best), None)))
    finally:
        if store:
            store.close()
    front = _weighed(store) if store else ()
    drawn: tuple[str, ...] = ()
    if store:
        every = tuple(store.every())
        drawn = write_pictures(variants, columns, every, front, store.folder)
        if variants.study.price_list is not None:
            write_price_list(variants, columns, every, store.folder)
    return Finished(
        columns=columns,
        rows=rows,
        folder=folder,
        parquet=store.parquet if store else None,
        taken=taken,
        faulty=tally.faulty,
        against=tally.against,
        best=tuple(tally.best),
        unbeaten=front,
        pictures=drawn,
    )


def _weighed(store: Store) -> tuple[Row, ...]:
    """Return the rows that nothing beats, and write them; none where there is nothing to weigh."""
    if len(measures_in(store.columns)) < 2:
        return ()
    front = unbeaten(store.columns, store.every())
    store.write_some("unbeaten.csv", front)
    return front


def _each_once(pieces: Iterator[tuple[int, tuple[Row, ...]]]) -> Iterator[tuple[int, tuple[Row, ...]]]:
    """Yield each piece once, whatever an engine that lost a worker does over."""
    seen: set[int] = set()
    for number, rows in pieces:
        if number not in seen:
            seen.add(number)
            yield number, rows


def table_of(variants: Variants, engine: Engine) -> StudyTable:
    """Return the whole table of a study, without a folder.

    Raises:
        JobError: as `run_study`.
    """
    refuse_too_many(variants, engine.workers, time.monotonic)
    pieces = dict(_each_once(engine.run(variants, pieces_of(len(variants)))))
    rows = tuple(row for number in sorted(pieces) for row in pieces[number])
    return StudyTable(columns=columns_in(variants), rows=rows)


def refuse_too_many(variants: Variants, workers: int, clock: Callable[[], float]) -> None:
    """Refuse a study of more variants than it allows, and say how long it would take: some are tried for that.

    Raises:
        JobError: it is larger than `variants_most`.
    """
    rows, most = len(variants), variants.study.variants_most
    if rows <= most:
        return
    sharing = Sharing(variants)
    sharing.row(0)  # what is loaded at the first is not counted
    began = clock()
    worked_out(sharing, [rows // 3, rows // 2, rows - 1][:_TRIED])
    whole_s = (clock() - began) / _TRIED * rows / workers
    cores = "one core" if workers == 1 else f"{workers} workers"
    raise JobError(
        Fault(
            code="study-too-many",
            field="variants_most",
            found=f"{rows:,} variants, {span_words(whole_s)} on {cores}",
            allowed=f"up to {most:,}",
            do="Take larger steps or fewer fields; or, if you mean it, write variants_most larger.",
        )
    )


def span_words(seconds: float) -> str:
    """Return how long that is, in words, rounded as one says it."""
    for unit, length in (("days", 86_400.0), ("hours", 3600.0), ("minutes", 60.0)):
        if seconds >= 1.5 * length:
            return f"about {seconds / length:,.0f} {unit}"
    return "about a minute" if seconds >= 45 else "less than a minute"
