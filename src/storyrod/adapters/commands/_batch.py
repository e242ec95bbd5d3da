"""`storyrod batch`: several jobs made together, with one buying list, shared sheets and merged set-ups."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.adapters.commands._edition import today

if TYPE_CHECKING:
    from storyrod.adapters.output import Written
    from storyrod.planning import Batch

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "batch",
        help="several jobs made together: one buying list, shared sheets, shared set-ups",
        description="Plans each job, then all of them together: shared sheets, set-ups done once for all, jigs, and "
        "one buying list. Writes the packet, buying list, labels and lists of the batch, and says what it saves.",
    )
    command.add_argument(
        "jobs",
        metavar="FILE",
        type=Path,
        nargs="+",
        help="the job files, or one batch file that lists them (TOML)",
    )
    command.add_argument(
        "--out",
        metavar="DIR",
        type=Path,
        help="folder to write into (out/batch/ unless set, or out/<name of the batch file>/)",
    )
    command.add_argument("--title", default="", help="what the batch is called")
    command.add_argument("--no-print", action="store_true", help="write only the lists, no papers")
    command.add_argument("--json", action="store_true", help="print the batch as JSON instead of the summary")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Plan the jobs together, write what comes of it, and say what it saves."""
    from dataclasses import replace

    from storyrod.adapters.batching import batch_files, planned
    from storyrod.adapters.commands._report import Progress
    from storyrod.adapters.files.batching import read_batch
    from storyrod.adapters.output import batch_document, write_plan

    with Progress(quiet=arguments.json) as progress:
        progress("reading the jobs")
        read = read_batch(arguments.jobs)
        batch = planned(replace(read, title=arguments.title or read.title), progress)
        name = arguments.jobs[0].stem if len(arguments.jobs) == 1 else "batch"
        files = batch_files(batch, date=today(), prints=not arguments.no_print)
        written = write_plan(files, arguments.out or Path("out") / name, progress)
    if arguments.json:
        json.dump(batch_document(batch), sys.stdout, indent=1, ensure_ascii=False, allow_nan=False)
        print()
    else:
        print("\n".join(_report(batch, written)))
    return 0


def _report(batch: Batch, written: Written) -> Iterator[str]:
    from storyrod.model.account import show_money
    from storyrod.telling.batch import rules_words, savings, to_pay

    yield f"{batch.title}, batch version {batch.version}"
    currency = batch.together.account.terms.currency
    for n, (member, plan) in enumerate(zip(batch.members, batch.plans, strict=True)):
        panels = sum(p.copies for p in plan.parts)
        pays = show_money(sum(c.by_job[n] for c in batch.costs), currency)
        yield f"  {member.mark}  {member.job.title}: {panels} panels, pays {pays}"
    yield ""
    yield "What it saves:"
    yield from (f"  {line}" for line in savings(batch))
    yield ""
    yield f"To pay for everything: {to_pay(batch)}."
    yield f"  {rules_words(batch)}"
    yield from (f"  {note}" for note in batch.notes)
    yield ""
    yield f"Written to {written.folder}: {len(written.files)} files."
    if written.removed:
        yield f"  {len(written.removed)} files of the older plan removed"
    yield from (f"  your own {name} was in the way: it is kept as {kept}" for name, kept in written.yours)
