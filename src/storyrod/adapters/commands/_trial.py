"""`storyrod trial`: from what a trial joint shows to the corrected packer, depth or fence."""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storyrod.adapters.trying import Reading

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "trial",
        help="correct a setting from a trial joint",
        description="Works out the packer, depth or fence that corrects what a trial joint shows. Name the set-up as "
        "on its card, and give what you measured, in mm: a step above 0 if the entering panel stands proud, below 0 "
        "if it is recessed.",
    )
    command.add_argument("job", metavar="JOB", type=Path, help="the job file (TOML)")
    command.add_argument("--set-up", metavar="S", required=True, help="the set-up's number, as S7")
    reading = command.add_mutually_exclusive_group(required=True)
    reading.add_argument("--step", metavar="MM", help="the step between the faces; below 0 as --step=-0.3")
    reading.add_argument("--gap", metavar="MM", help="how far the joint is open")
    reading.add_argument("--fence", metavar="MM", help="how much too far from the edge the cut is; below 0: too near")
    command.add_argument("--packer", metavar="MM", help="the packer in use now, if it is not the one on the card")
    command.add_argument("--json", action="store_true", help="print the correction as JSON")
    command.set_defaults(run=_run)


def _run(arguments: argparse.Namespace) -> int:
    from storyrod.adapters.commands._proven import proven_plan
    from storyrod.adapters.trying import correct
    from storyrod.faults import JobError
    from storyrod.telling.plain import plain

    plan = proven_plan(arguments.job)
    try:
        correction = correct(plan, asked(arguments))
    except JobError as error:
        raise JobError(*(replace(f, field=f"--{f.field}") for f in error.faults)) from None
    if arguments.json:
        json.dump(plain(correction), sys.stdout, indent=1, ensure_ascii=False)
        print()
    else:
        print(correction.direction)
        print(correction.text)
    return 0


def asked(arguments: argparse.Namespace) -> Reading:
    """Return what was measured, as the command line was given it."""
    from storyrod.adapters.trying import Reading
    from storyrod.model.machining import TrialKind

    kind = next(k for k in TrialKind if getattr(arguments, k) is not None)
    return Reading(set_up=arguments.set_up, kind=kind, written=getattr(arguments, kind), packer=arguments.packer)
