"""`storyrod day`: today's work over one or several jobs, when each is ready, and what to buy by when."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.adapters.commands._edition import today

if TYPE_CHECKING:
    import datetime as dt

    from storyrod.planning import Days

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "day",
        help="today's work over one or several jobs: what is done when, when each is ready, what to buy by when",
        description="Puts all that is to be done into an order over the days of your week: saw, set-ups, gluing up, "
        "fitting out and finish. While glue sets or a coat dries, other work goes on; no clamp is used twice. Writes "
        "it on one page. With a bench log, what is ticked there is done already.",
    )
    command.add_argument(
        "jobs", metavar="FILE", type=Path, nargs="+", help="the job files, or one batch file that lists them (TOML)"
    )
    command.add_argument("--start", metavar="WHEN", default="", help="begin then, as 2026-12-03 8:30 (now unless set)")
    command.add_argument("--log", metavar="LOG", help="what is ticked in this bench log is done")
    command.add_argument("--out", metavar="FILE", type=Path, help="the page (out/days-work.pdf unless set)")
    command.add_argument("--no-print", action="store_true", help="say it, and write no page")
    command.add_argument("--json", action="store_true", help="print the day's work as JSON instead")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Plan the day, write the page, and say what is done when."""
    from storyrod.adapters.commands._log import refuse_missing
    from storyrod.adapters.commands._report import Progress
    from storyrod.adapters.daying import days_from, moment_of, tasks_of_files
    from storyrod.adapters.files import write_bytes_safely
    from storyrod.adapters.packet import make_day_sheet
    from storyrod.faults import raise_if_any

    when = moment_of(arguments.start, _now())
    if arguments.log is not None:
        refuse_missing(arguments.log, "--log")
    path = arguments.out or Path("out") / "days-work.pdf"
    with Progress(quiet=arguments.json) as progress:
        work = tasks_of_files(arguments.jobs, progress)
        progress("looking for the order of the work")
        with _log(arguments.log) as log:
            days = days_from(work, when, log)
        raise_if_any(days.plan.faults)
        if not arguments.no_print:
            sheet = make_day_sheet(days, date=today())
            path.parent.mkdir(parents=True, exist_ok=True)
            write_bytes_safely(path, sheet)
    if arguments.json:
        from storyrod.adapters.output import day_document

        json.dump(day_document(days), sys.stdout, indent=1, ensure_ascii=False, allow_nan=False)
        print()
    else:
        print("\n".join(_report(days)))
        if not arguments.no_print:
            print(f"\nWrote {path}.")
    return 0


def _log(where: str | None):  # type: ignore[no-untyped-def]  # noqa: ANN202  # a log or nothing, as a context
    from storyrod.adapters.log import open_log

    return open_log(where) if where is not None else nullcontext()


def _now() -> dt.datetime:
    """Return this moment, or the one that the surroundings give for repeatable builds."""
    import datetime as dt
    import os

    given = os.environ.get("SOURCE_DATE_EPOCH")
    return dt.datetime.fromtimestamp(int(given), dt.UTC) if given else dt.datetime.now(dt.UTC).astimezone()


def _report(days: Days) -> Iterator[str]:
    from storyrod.telling.day import buy_by, day_words, days_told, ready_rows, sureness_words, waiting_words

    told = days_told(days)
    for n, rows in told[:1]:
        yield f"{day_words(days.first, n * 1440)}:"
        yield from (f"  {r.begins:>5}  {r.words}, {r.task.minutes} min" for r in rows)
        yield from (f"         {line}" for line in waiting_words(days, [r.slot for r in rows]))
    if not told:
        yield "Everything is done."
    if len(told) > 1:
        yield f"Then work for {len(told) - 1} more day{'s' * (len(told) != 2)}."
    yield ""
    for mark, title, planned, likely in ready_rows(days):
        name = f"{mark}  {title}" if len(days.work.jobs) > 1 else title
        yield f"{name}: ready {planned}." if likely else f"{name}: ready."
        if likely:
            yield f"  Eight times in ten: {likely}."
    bought = buy_by(days)
    if bought:
        yield ""
        yield "Buy:"
        yield from (f"  before {b.when}: {b.what}, {b.buy}" for b in bought)
    yield ""
    yield sureness_words(days)
