"""`storyrod edges`: the sizes near a job's own at which a sheet, a hinge, a jig or a second person comes in."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storyrod.adapters.study.edges import EdgeSearch

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "edges",
        help="sizes near a job's own at which a sheet, a hinge, a jig or a second person comes in",
        description="Looks a few centimetres either way from each size of each case, and says at which size something "
        "is added or dropped, and what that saves or costs. Nothing is written.",
    )
    command.add_argument("job", metavar="JOB", type=Path, help="the job file (TOML)")
    command.add_argument("--json", action="store_true", help="print what was found as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Look for the edges, and print them."""
    from storyrod.adapters.commands._report import Progress
    from storyrod.adapters.files import read_job
    from storyrod.adapters.study.edges import edges_of
    from storyrod.faults import JobError
    from storyrod.telling.plain import plain

    with Progress(quiet=arguments.json) as progress:
        progress("reading the job")
        read = read_job(arguments.job)
        try:
            found = edges_of(read, lambda looked, of: progress(f"looking at sizes: {looked} of about {of}"))
        except JobError as error:
            raise read.located(error) from None
    if arguments.json:
        json.dump({"whole": found.whole, "edges": plain(found.edges)}, sys.stdout, indent=1, ensure_ascii=False)
        print()
    else:
        print("\n".join(_report(read.job.title, found)))
    return 0


def _report(title: str, found: EdgeSearch) -> Iterator[str]:
    yield f"{title}: sizes near its own"
    yield from (f"  {edge.words}" for edge in found.edges)
    if not found.edges:
        yield "  Nothing is added or dropped near these sizes."
    if found.at_least:
        yield "  Not everything has a price: these figures leave out what has none."
    if not found.whole:
        yield "  There are more cases than were looked at."
