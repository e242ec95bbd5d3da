"""`storyrod compare`: the same job by every method, side by side, with what-ifs."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.faults import Fault, JobError, raise_if_any

if TYPE_CHECKING:
    from storyrod.model.account import Terms
    from storyrod.model.comparison import Comparison, MethodRow
    from storyrod.model.job import Job
    from storyrod.model.learning import LearnedTime
    from storyrod.model.workshop import Workshop
    from storyrod.planning import Plan

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "compare",
        help="the same job by every joining method: money, minutes, and when a tool pays",
        description="Works the job out by every method you own the tools for, or are thinking of buying them for "
        "(owned = false, with a price). It says what each takes, and after how many carcasses one overtakes another. "
        "Nothing is written.",
    )
    command.add_argument("job", metavar="JOB", type=Path, help="the job file (TOML)")
    command.add_argument("--rate", type=float, metavar="MONEY", help="what if my time costs this much an hour")
    command.add_argument("--per-year", type=float, metavar="N", help="what if I make N carcasses a year")
    command.add_argument("--batch", type=int, metavar="N", help="what if I make the job N times in one go")
    command.add_argument("--allowance", type=float, metavar="PERCENT", help="added for sweeping up and interruptions")
    command.add_argument(
        "--learning",
        type=float,
        metavar="PERCENT",
        help="new to it: with each doubling one takes this share of the minutes",
    )
    command.add_argument("--log", metavar="FILE", help="take my own measured times from this bench log")
    command.add_argument("--methods", nargs="+", metavar="METHOD", help="only these (their codes)")
    command.add_argument("--all-pairs", action="store_true", help="show the break-even of every two methods")
    command.add_argument("--json", action="store_true", help="print the comparison as JSON")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Compare, and print what was found."""
    from storyrod.adapters.commands._report import Progress
    from storyrod.adapters.files import read_job
    from storyrod.planning import Plan

    raise_if_any(_bad_use(arguments))
    with Progress(quiet=arguments.json) as progress:
        progress("reading the job")
        read = read_job(arguments.job)
        raise_if_any(_unknown(arguments.methods, read.workshop))
        workshop, learned = _taught(read.workshop, arguments.log)
        plan = Plan(_batch(read.job, arguments.batch), workshop)
        progress("working the job out by every method")
        try:
            comparison = plan.compared(_terms(plan, arguments), arguments.methods)
        except JobError as error:
            raise read.located(error) from None
    if arguments.json:
        from storyrod.telling.plain import plain

        told = {"comparison": plain(comparison), "learned": plain(learned)}
        json.dump(told, sys.stdout, indent=1, ensure_ascii=False)
        print()
    else:
        print("\n".join(report(comparison, learned, all_pairs=arguments.all_pairs)))
    return 0


def _bad_use(arguments: argparse.Namespace) -> Iterator[Fault]:
    limits = (
        ("--rate", arguments.rate, 0, 10_000),
        ("--per-year", arguments.per_year, 0.1, 100_000),
        ("--batch", arguments.batch, 1, 1000),
        ("--allowance", arguments.allowance, 0, 200),
        ("--learning", arguments.learning, 51, 100),
    )
    for name, value, low, high in limits:
        if value is not None and not low <= value <= high:
            yield Fault(
                code="range",
                field=name,
                found=f"{value:g}",
                allowed=f"{low:g} to {high:g}",
                do="Write a figure in this range.",
            )


def _unknown(codes: Sequence[str] | None, workshop: Workshop) -> Iterator[Fault]:
    known = [m.code for m in workshop.methods]
    for code in codes or ():
        if code not in known:
            yield Fault(
                code="unknown-method",
                field="--methods",
                found=f'"{code}"',
                allowed=", ".join(known),
                do="Write the code of a method of this workshop, in quotes where it has a space.",
            )


def _taught(workshop: Workshop, log: str | None) -> tuple[Workshop, tuple[LearnedTime, ...]]:
    if log is None:
        return workshop, ()
    from storyrod.adapters.log import fresh_timings, open_log
    from storyrod.ledger import teach

    if "://" not in log and not Path(log).exists():
        raise JobError(
            Fault(code="file-missing", field="--log", found=f'no file "{log}"', allowed="a bench log", do="Check it.")
        )
    with open_log(log) as opened:
        return teach(workshop, fresh_timings(opened, workshop))


def _batch(job: Job, times: int | None) -> Job:
    if not times or times == 1:
        return job
    return replace(job, cases=tuple(replace(c, count=c.count * times) for c in job.cases))


def _terms(plan: Plan, arguments: argparse.Namespace) -> Terms:
    from storyrod.ledger import terms_of
    from storyrod.model.learning import Learning

    terms = terms_of(plan.workshop.money, plan.job.currency)
    if arguments.rate is not None:
        terms = replace(terms, rate_cents_per_h=round(arguments.rate * 100))
    if arguments.per_year is not None:
        terms = replace(terms, carcasses_per_year=arguments.per_year)
    if arguments.allowance is not None:
        terms = replace(terms, allowance_share=arguments.allowance / 100)
    if arguments.learning is not None:
        terms = replace(terms, learning=Learning(rate=arguments.learning / 100))
    return terms


def report(comparison: Comparison, learned: Sequence[LearnedTime] = (), *, all_pairs: bool = False) -> list[str]:
    """Return the comparison as lines of text."""
    from storyrod.model.account import show_money
    from storyrod.telling.account import against_own

    terms = comparison.terms
    hour = f"at {show_money(terms.rate_cents_per_h, terms.currency)} an hour"
    rate = hour if terms.rate_cents_per_h else "no hourly rate set"
    lines = [comparison.title, f"  {rate}, {terms.carcasses_per_year:g} carcasses a year", ""]
    lines += _table(comparison)
    for row in comparison.rows:
        lines += [f"  {row.candidate.name}: {words}." for words in row.candidate.keeps]
    if comparison.misfits:
        lines += ["", "Does not fit:"]
        lines += [f"  {c.name}: {' '.join(c.why_not)}" for c in comparison.misfits]
    pays = comparison.break_evens if all_pairs else against_own(comparison)
    if pays:
        lines += ["", "When does it pay?", *(f"  {b.text}" for b in pays)]
    if learned:
        lines += ["", "From the bench:", *(f"  {t.text}" for t in learned)]
    return [*lines, "", *(f"  {n}" for n in comparison.notes)]


def _table(comparison: Comparison) -> Iterator[str]:
    heads = ("", "method", "connectors", "min a carcass", "set-ups", "jigs", "step", "a carcass", "outlay", "")
    rows = [_cells(r) for r in comparison.rows]
    widths = [max(len(c) for c in column) for column in zip(heads, *rows, strict=True)]
    left = (0, 1, 9)
    for cells in (heads, *rows):
        told = [c.ljust(w) if n in left else c.rjust(w) for n, (c, w) in enumerate(zip(cells, widths, strict=True))]
        yield "  ".join(told).rstrip()


def _cells(row: MethodRow) -> tuple[str, ...]:
    from storyrod.ledger import traits
    from storyrod.model.account import show_money

    c = row.candidate
    step = f"\u00b1{c.step_mm:.1f}" if c.step_mm is not None else ""
    m = row.minutes
    return (
        "*" if c.own else "",
        c.name,
        str(c.connectors),
        f"{m.usual:,.0f} ({m.low:,.0f} to {m.high:,.0f})",
        str(row.set_ups),
        str(row.jigs),
        step,
        show_money(row.cost_cents),
        show_money(row.outlay_cents),
        ", ".join(traits(row)),
    )
