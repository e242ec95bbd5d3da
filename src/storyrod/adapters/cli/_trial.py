"""`storyrod trial`: from what a trial joint shows to the corrected packer, depth or fence."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from storyrod.measure.writing import LengthWriter
    from storyrod.model.machining import Correction, PackerSide, SetUp, WorkPlan
    from storyrod.plan import Plan

    Subparsers = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001  # the only name argparse gives it


def add(subs: Subparsers) -> None:
    """Add the command to the command line."""
    command = subs.add_parser(
        "trial",
        help="correct a setting from a trial joint",
        description="Works out the packer, depth or fence that puts right what a trial joint shows. Name the set-up as "
        "its card does, and give what you measured, in mm: a step above 0 where the entering panel stands proud, "
        "below 0 where it lies behind.",
    )
    command.add_argument("job", metavar="JOB", type=Path, help="the job file (TOML)")
    command.add_argument("--set-up", metavar="S", required=True, help="the set-up's number, as S7")
    reading = command.add_mutually_exclusive_group(required=True)
    reading.add_argument("--step", metavar="MM", help="the step between the faces; below 0 with --step=-0.3")
    reading.add_argument("--gap", metavar="MM", help="how far the joint stands open")
    reading.add_argument("--fence", metavar="MM", help="how much too far from the edge the cut lies; below 0: too near")
    command.add_argument(
        "--packer", metavar="MM", help="the packer that lies there now, where it is not the one on the card"
    )
    command.add_argument("--json", action="store_true", help="print the correction as JSON")
    command.set_defaults(run=_run)


def _run(arguments: argparse.Namespace) -> int:
    from storyrod.adapters.cli._commands import proven_plan
    from storyrod.adapters.output._document import plain

    plan = proven_plan(arguments.job)
    correction = correct(plan, arguments)
    if arguments.json:
        json.dump(plain(correction), sys.stdout, indent=1, ensure_ascii=False)
        print()
    else:
        print(correction.direction)
        print(correction.text)
    return 0


def correct(plan: Plan, arguments: argparse.Namespace) -> Correction:
    """Return the correction of a set-up's setting by a reading.

    Raises:
        JobError: for a set-up or a reading that makes no sense.
    """
    from storyrod.machining import trial_fence, trial_gap, trial_step

    work, lengths = plan.machining, plan.job.lengths
    set_up = _find(work, arguments.set_up)
    setting = set_up.setting
    assert setting is not None  # noqa: S101  # `_find` takes none without
    if arguments.gap is not None:
        return trial_gap(
            _length("gap", arguments.gap, lengths),
            plunge=setting.plunge,
            skin_left=_skin(plan, set_up),
            skin_least=plan.job.limits.skin,
            lengths=lengths,
        )
    if arguments.fence is not None:
        _needs("fence", set_up, work)
        return trial_fence(_length("fence", arguments.fence, lengths), fence=setting.fence or 0.0, lengths=lengths)
    _needs("step", set_up, work)
    lying = setting.packer.made if setting.packer is not None else 0.0
    if arguments.packer is not None:
        lying = _length("packer", arguments.packer, lengths)
    on_edge = set_up.section is not None and set_up.section.on_edge
    return trial_step(
        _length("step", arguments.step, lengths),
        packer=lying,
        shelf=plan.workshop.packers,
        half="edge" if on_edge else "face",
        side=_side(set_up),
        lengths=lengths,
    )


def _side(set_up: SetUp) -> PackerSide:
    from storyrod.model.machining import PackerSide
    from storyrod.model.workshop import Registration

    setting = set_up.setting
    if setting is None or setting.packer_side is not PackerSide.NONE:
        return setting.packer_side if setting else PackerSide.NONE
    return PackerSide.WORK if setting.registration is Registration.BASE else PackerSide.FENCE


def _find(work: WorkPlan, name: str) -> SetUp:
    from storyrod.faults import Fault, JobError

    found = next((s for s in work.set_ups if s.id.lower() == name.strip().lower()), None)
    with_setting = [s.id for s in work.set_ups if s.setting is not None]
    if found is None or found.setting is None:
        raise JobError(
            Fault(
                code="trial-set-up",
                field="--set-up",
                found=f'"{name}"',
                allowed=", ".join(with_setting),
                do="Take the number on the set-up card.",
            )
        )
    return found


def readings_of(set_up: SetUp) -> tuple[str, ...]:
    """Return the readings by which a set-up can be corrected: of what its setting has that can be set otherwise."""
    from storyrod.model.workshop import Registration

    setting = set_up.setting
    if setting is None:
        return ()
    by_fence = setting.registration in (Registration.FENCE, Registration.BASE)
    step = ("step",) if setting.packer is not None or by_fence else ()
    return (*step, "gap", *(("fence",) if setting.fence is not None else ()))


def _needs(reading: str, set_up: SetUp, work: WorkPlan) -> None:
    from storyrod.faults import Fault, JobError

    own = readings_of(set_up)
    if reading in own:
        return
    others = [s.id for s in work.set_ups if reading in readings_of(s)]
    raise JobError(
        Fault(
            code="trial-kind",
            field=f"--{reading}",
            found=f"a {reading} for {set_up.id}, {set_up.title}",
            allowed=f"for {set_up.id}: {' or '.join(f'--{o}' for o in own)}",
            do=f"Give one of these, or name the set-up of the half you want to correct: --{reading} is for "
            f"{', '.join(others) or 'none of this job'}.",
        )
    )


def _length(name: str, written: str, lengths: LengthWriter) -> float:
    """Return what was measured (mm); a bare number is in the job's unit, as the card has it."""
    from storyrod.faults import JobError
    from storyrod.measure.length import parse_length

    try:
        return parse_length(written, lengths.unit)
    except JobError as error:
        raise error.under(f"--{name}") from None


def _skin(plan: Plan, set_up: SetUp) -> float:
    """Return the least board left under any cut of a set-up."""
    panels = {p.id: p for c in plan.details.cases for p in c.panels}
    depth = set_up.setting.depth if set_up.setting else 0.0
    left = []
    for operation in set_up.operations:
        panel = panels[operation.panel]
        if operation.surface is not None:
            left.append(panel.extent(operation.surface.axis) - depth)
    return min(left, default=0.0)
