"""`storyrod study`: one job in many variants, told while it goes, in tables that grow as rows come."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from storyrod.adapters.files.studying import Variants
    from storyrod.adapters.study import Engine, Finished, Going
    from storyrod.model.study import Row

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it

_FEW: Final = 100
"""So few variants are worked out here before other processes have started."""


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "study",
        help="the same job in many variants: sizes, boards, methods, numbers",
        description="Plans every variant that a study file asks for, and writes them as a table: rows.csv, and "
        "Parquet files beside it. Stopped and started again, it carries on where it was.",
    )
    command.add_argument("study", metavar="STUDY", type=Path, help="the study file (TOML), beside its job file")
    command.add_argument(
        "--out", metavar="DIR", type=Path, help="folder to write into (out/<name of the study file>/ unless set)"
    )
    command.add_argument("--workers", metavar="N", type=_workers, help="how many at a time (every core unless set)")
    command.add_argument("--cluster", metavar="ADDRESS", default="", help="a Dask scheduler that is already running")
    command.add_argument("--json", action="store_true", help="print the results as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Work the study out, and print what came of it."""
    from storyrod.adapters.commands._report import Progress
    from storyrod.adapters.files.studying import read_study
    from storyrod.adapters.study import run_study

    with Progress(quiet=arguments.json) as progress:
        progress("reading the study")
        variants = read_study(arguments.study)
        engine = _engine(len(variants), arguments.workers, arguments.cluster)
        folder = arguments.out or Path("out") / arguments.study.stem
        progress(f"working out {len(variants):,} variants")
        tell = _teller(variants, progress)
        found = run_study(variants, folder, engine, tell)
    if arguments.json:
        json.dump(_plain(found), sys.stdout, indent=1, ensure_ascii=False)
        print()
    else:
        print("\n".join(_report(variants, found)))
    return 0


def _workers(words: str) -> int:
    if words.isdigit() and 1 <= int(words) <= 256:
        return int(words)
    raise argparse.ArgumentTypeError(f"found {words}; allowed: a whole number, 1 to 256")


def _engine(rows: int, workers: int | None, cluster: str) -> Engine:
    """Return who works it out: a cluster if one is named; every core where that pays and its library is there."""
    from storyrod.adapters.study import Alone

    count = workers or os.cpu_count() or 1
    if not cluster and (count == 1 or (workers is None and rows <= _FEW)):
        return Alone()
    from storyrod.adapters.study.cluster import Spread, is_installed

    if not cluster and workers is None and not is_installed():
        print("On one core: the extra storyrod[study], which run.py gets, uses all of them.", file=sys.stderr)
        return Alone()
    return Spread(count, cluster)


def _teller(variants: Variants, progress: Callable[[str], None]) -> Callable[[Going], None]:
    from storyrod.adapters.study import span_words

    def tell(at: Going) -> None:
        best = f"; best so far {_row_words(variants, at.best)}" if at.best else ""
        left = "" if at.left_s is None else f", {span_words(at.left_s)} left"
        progress(f"{at.done:,} of {at.rows:,} variants{left}{best}")

    return tell


def _row_words(variants: Variants, row: Row) -> str:
    """Return a row in a line: what is least of it, then what varies."""
    from storyrod.model.account import show_money
    from storyrod.model.study import Asked

    least, rank = variants.study.least, row.rank or 0.0
    figure = show_money(rank) if least in {Asked.PRICE, Asked.COST} else f"{rank:.6g}"
    varied = (f"{v.field} {cell}" for v, cell in zip(variants.varied, row.cells, strict=False))
    return f"{least.value} {figure} with {', '.join(varied)}"


def _report(variants: Variants, found: Finished) -> Iterator[str]:
    from storyrod.model.account import joined_words
    from storyrod.telling.figures import lacking_of
    from storyrod.telling.study_words import lack_words
    from storyrod.telling.unbeaten import measures_in

    yield f"{found.rows:,} variants" + (f", {found.taken:,} of them from before" if found.taken else "")
    if found.faulty:
        yield f"  {found.faulty:,} cannot be made: the column `fault` says why"
    if found.against:
        yield f"  {found.against:,} miss what was asked for: the column `not kept` says what"
    if found.best:
        yield ""
        yield "Best:"
        yield from (f"  {_row_words(variants, row)}" for row in found.best)
        lacking = lack_words(lacking_of(found.columns, found.best[0], variants.study.least))
        yield from (f"  {lacking}",) if lacking else ()
    if found.unbeaten:
        weighed = joined_words(measures_in(found.columns))
        count = len(found.unbeaten)
        yield ""
        yield f"{count:,} {'variant' if count == 1 else 'variants'} that nothing beats on {weighed}: unbeaten.csv"
    yield ""
    if found.pictures:
        yield f"Drawn, with its numbers: {', '.join(found.pictures)}"
    yield f"Written to {found.folder}: rows.csv" + ("" if found.parquet is None else f", {found.parquet.name}/")


def _plain(found: Finished) -> dict[str, object]:
    names = [c.name for c in found.columns]
    return {
        "rows": found.rows,
        "taken": found.taken,
        "faulty": found.faulty,
        "not_kept": found.against,
        "folder": str(found.folder),
        "best": [dict(zip(names, row.cells, strict=True)) for row in found.best],
    }
