"""`storyrod beside`: one job by two methods, or two jobs, side by side on one clock."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from storyrod.adapters.commands._edition import today
from storyrod.faults import Fault, JobError

if TYPE_CHECKING:
    from storyrod.model.account import Account
    from storyrod.model.two_ways import StageTaken
    from storyrod.planning import Plan

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "beside",
        help="one job by two methods, or two jobs, side by side on one clock",
        description="Says what is done at each ten minutes by the one and by the other, and where one overtakes the "
        "other. With a bench log, what each stage took against what was planned.",
    )
    command.add_argument("jobs", metavar="JOB", type=Path, nargs="+", help="one job file, or two")
    command.add_argument("--methods", metavar="A,B", default="", help="the two methods, by their codes, for one job")
    command.add_argument("--log", metavar="LOG", help="planned against taken, by the watches of this bench log")
    command.add_argument("--out", metavar="FILE", type=Path, help="write it as a page too")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Set the two side by side, and print the clock."""
    from storyrod.adapters.commands._log import refuse_missing
    from storyrod.adapters.files import write_bytes_safely
    from storyrod.adapters.packet import make_two_ways
    from storyrod.ledger import side_by_side
    from storyrod.telling.two_ways import clock_rows, overtaking_words, stage_rows, taken_words

    if arguments.log is not None:
        refuse_missing(arguments.log, "--log")
    plan, first, second = _two(arguments.jobs, [m.strip() for m in arguments.methods.split(",") if m.strip()])
    two = side_by_side(first, second)
    taken = _taken(plan, arguments.jobs[0].stem, arguments.log) if arguments.log is not None else ()
    for rows in (list(stage_rows(two)), list(clock_rows(two))):
        heads = ("stage, minutes", *(w.name for w in two.ways), "ahead")[: len(rows[0])]
        widths = [max(map(len, column)) for column in zip(heads, *rows, strict=True)]
        print("\n".join("  ".join(c.ljust(w) for c, w in zip(r, widths, strict=True)).rstrip() for r in (heads, *rows)))
        print()
    print("\n".join((*overtaking_words(two), *taken_words(taken))))
    if arguments.out is not None:
        write_bytes_safely(arguments.out, make_two_ways(plan, two, taken, date=today()))
        print(f"Wrote {arguments.out}.")
    return 0


type Named = tuple[str, Account]


def _two(jobs: Sequence[Path], methods: Sequence[str]) -> tuple[Plan, Named, Named]:
    """Return the first plan and both accounts with their names.

    Raises:
        JobError: a job has faults; not two methods or two jobs; a method that does not fit, and why.
    """
    from storyrod.adapters.commands._proven import proven_plan

    if (len(jobs), len(methods)) not in {(1, 2), (2, 0)} or len(set(methods)) != len(methods):
        raise JobError(
            Fault(
                code="beside-two",
                field="--methods",
                found=f"{len(jobs)} job{'s' * (len(jobs) != 1)} and {len(methods)} methods",
                allowed="one job with two methods, or two jobs",
                do="Name two methods after --methods, as dowels,biscuits; or two job files.",
            )
        )
    plan = proven_plan(jobs[0])
    if len(jobs) == 2:
        other = proven_plan(jobs[1])
        return plan, (plan.job.title, plan.account), (other.job.title, other.account)
    known = [m.code for m in plan.workshop.methods]
    unknown = [m for m in methods if m not in known]
    if unknown:
        raise JobError(
            Fault(
                code="unknown-method",
                field="--methods",
                found=f'"{unknown[0]}"',
                allowed=", ".join(known),
                do="Write the codes of two methods of this workshop.",
            )
        )
    first, second = (_by(plan, code) for code in methods)
    return plan, first, second


def _by(plan: Plan, code: str) -> Named:
    from storyrod.model.comparison import Candidate

    found = plan.compared(methods=[code])
    candidates: list[Candidate] = [*(r.candidate for r in found.rows), *found.misfits]
    one = next(c for c in candidates if c.method == code)
    if one.account is None:
        raise JobError(
            Fault(
                code="beside-misfit",
                field="--methods",
                found=f"{one.name}: {' '.join(dict.fromkeys(one.why_not))}",
                allowed="methods that fit this job",
                do="Choose another method, or change what keeps this one from fitting.",
            )
        )
    return one.name, one.account


def _taken(plan: Plan, name: str, where: str) -> tuple[StageTaken, ...]:
    from storyrod.adapters.log import open_log
    from storyrod.ledger import taken_by_stage
    from storyrod.model.learning import Timing

    with open_log(where) as log:
        spans = [s for n in dict.fromkeys((plan.job.title, name)) for s in log.spans(job=n) if s.minutes]
    timings = [(s.set_up, Timing(act=s.act, minutes=s.minutes or 0.0, count=s.count)) for s in spans]
    return taken_by_stage(plan.account.work.items, timings)
