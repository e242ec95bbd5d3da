"""`storyrod jigs`: which jigs are worth making once and keeping, for the jobs of a year."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.adapters.commands._edition import today

if TYPE_CHECKING:
    from storyrod.planning import Family

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "jigs",
        help="which jigs are worth making once and keeping, for the jobs of a year or a range of depths",
        description="Weighs which jigs save more in the jobs of the years to come than they take to make, with which "
        "stations and stops, and what one more depth would cost. Draws them, and writes them into a workshop file as "
        "owned: later plans use them.",
    )
    command.add_argument("jobs", metavar="JOB", type=Path, nargs="+", help="the job files")
    command.add_argument(
        "--a-year",
        metavar="N",
        default="1",
        help="how often a year: one number for all, or one for each, as 4,10",
    )
    command.add_argument("--depths", metavar="LENGTHS", default="", help="one job at these depths, as 300,350,400")
    command.add_argument("--one-more", metavar="LENGTHS", default="", help="what these depths would cost more")
    command.add_argument("--years", metavar="N", type=float, help="how long jigs are kept (as tools are paid off)")
    command.add_argument("--out", metavar="FILE", type=Path, help="their paper (out/jigs-to-keep.pdf unless set)")
    command.add_argument("--no-print", action="store_true", help="say it, and write no paper")
    command.add_argument("--own", metavar="WORKSHOP", type=Path, help="write them into this workshop file as owned")
    command.add_argument("--json", action="store_true", help="print what was found as JSON instead")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Weigh the jigs, write their paper, and say what is worth keeping."""
    from storyrod.adapters.commands._report import Progress
    from storyrod.adapters.files import write_bytes_safely
    from storyrod.adapters.keeping import KeepAsked, family_of, own_in
    from storyrod.adapters.packet import make_standing_jigs
    from storyrod.faults import raise_if_any
    from storyrod.telling.plain import plain

    asked = KeepAsked(
        jobs=tuple(arguments.jobs),
        a_year=_numbers(arguments.a_year),
        depths=_words(arguments.depths),
        more=_words(arguments.one_more),
        years=arguments.years,
    )
    path = arguments.out or Path("out") / "jigs-to-keep.pdf"
    with Progress(quiet=arguments.json) as progress:
        progress("weighing the jigs")
        family = family_of(asked)
        raise_if_any(family.faults)
        if not arguments.no_print and family.standing.sets:
            path.parent.mkdir(parents=True, exist_ok=True)
            write_bytes_safely(path, make_standing_jigs(family, date=today()))
    owned = own_in(arguments.own, family) if arguments.own is not None else ()
    if arguments.json:
        json.dump(plain(family.standing), sys.stdout, indent=1, ensure_ascii=False, allow_nan=False)
        print()
        return 0
    print("\n".join(_report(family)))
    if not arguments.no_print and family.standing.sets:
        print(f"\nWrote {path}.")
    if owned:
        print(f"Owned from now on in {arguments.own}: {', '.join(j.code for j in owned)}.")
    return 0


def _words(text: str) -> tuple[str, ...]:
    return tuple(w.strip() for w in text.split(",") if w.strip())


def _numbers(text: str) -> tuple[float, ...]:
    from storyrod.faults import Fault, JobError

    try:
        found = tuple(float(w) for w in _words(text))
    except ValueError:
        found = ()
    if not found or not all(0 <= n <= 100_000 for n in found):
        raise JobError(
            Fault(
                code="keep-a-year",
                field="--a-year",
                found=f'"{text[:40]}"',
                allowed="numbers from 0 to 100,000, parted by commas",
                do="Say how often a year each is made.",
            )
        )
    return found


def _report(family: Family) -> Iterator[str]:
    from storyrod.telling.standing import head_words, jig_rows, line_words, set_words, shared_words

    lengths = family.plans[0].job.lengths
    yield from head_words(family)
    for one in family.standing.sets:
        yield ""
        for jig_id, name, stations, stops in jig_rows(one.jigs, lengths):
            yield f"{jig_id} {name}: stations {stations}; stops {stops}"
        yield f"  {set_words(one)}"
        yield from (f"  {line_words(line, lengths)}" for line in one.lines)
    if family.standing.left:
        yield ""
        yield "One more, and what it would cost:"
        yield from (f"  {line_words(line, lengths)}" for line in family.standing.left)
    shared = shared_words(family)
    if shared:
        yield ""
        yield shared
