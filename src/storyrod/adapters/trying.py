"""A trial joint: the reading of a set-up, and the correction it asks for.

The command line and the page both ask here; a fault names what was measured (`set-up`, `step`, `gap`, `fence`,
`packer`) and each of them says it as it is written there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from storyrod.faults import Fault, JobError
from storyrod.model.machining import TrialKind

if TYPE_CHECKING:
    from storyrod.measure.writing import LengthWriter
    from storyrod.model.machining import Correction, PackerSide, SetUp, WorkPlan
    from storyrod.planning import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What was measured at the trial joint of a set-up, as the maker wrote it.

    Attributes:
        set_up: the set-up's number, as on its card.
        kind: a step between the faces, a gap, or how far a cut lies from where it should.
        written: the length, in the job's unit where none is written.
        packer: the packer in use, where it is not the card's own.
    """

    set_up: str
    kind: TrialKind
    written: str
    packer: str | None = None


def correct(plan: Plan, reading: Reading) -> Correction:
    """Return the correction of a set-up's setting by a reading.

    Raises:
        JobError: for a set-up or a reading that makes no sense.
    """
    try:
        return _corrected(plan, reading)
    except JobError as error:
        raise JobError(*(replace(f, field=f.field.removeprefix("trial.")) for f in error.faults)) from None


def _corrected(plan: Plan, reading: Reading) -> Correction:
    from storyrod.machining import trial_fence, trial_gap, trial_step

    work, lengths = plan.machining, plan.job.lengths
    set_up = _find(work, reading.set_up)
    setting = set_up.setting
    assert setting is not None  # noqa: S101  # `_find` takes none without
    _needs(reading.kind, set_up, work)
    found = _length(reading.kind, reading.written, lengths)
    if reading.kind is TrialKind.GAP:
        return trial_gap(
            found,
            plunge=setting.plunge,
            skin_left=_skin(plan, set_up),
            skin_least=plan.job.limits.skin,
            lengths=lengths,
        )
    if reading.kind is TrialKind.FENCE:
        return trial_fence(found, fence=setting.fence or 0.0, lengths=lengths)
    lying = setting.packer.made if setting.packer is not None else 0.0
    if reading.packer is not None:
        lying = _length("packer", reading.packer, lengths)
    on_edge = set_up.section is not None and set_up.section.on_edge
    return trial_step(
        found,
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
    found = next((s for s in work.set_ups if s.id.lower() == name.strip().lower()), None)
    with_setting = [s.id for s in work.set_ups if s.setting is not None]
    if found is None or found.setting is None:
        raise JobError(
            Fault(
                code="trial-set-up",
                field="set-up",
                found=f'"{name}"',
                allowed=", ".join(with_setting),
                do="Take the number on the set-up card.",
            )
        )
    return found


def readings_of(set_up: SetUp) -> tuple[TrialKind, ...]:
    """Return the readings by which a set-up can be corrected: of what its setting has that can be set otherwise."""
    from storyrod.model.workshop import Registration

    setting = set_up.setting
    if setting is None:
        return ()
    by_fence = setting.registration in (Registration.FENCE, Registration.BASE)
    step = (TrialKind.STEP,) if setting.packer is not None or by_fence else ()
    return (*step, TrialKind.GAP, *((TrialKind.FENCE,) if setting.fence is not None else ()))


def _needs(reading: TrialKind, set_up: SetUp, work: WorkPlan) -> None:
    own = readings_of(set_up)
    if reading in own:
        return
    others = [s.id for s in work.set_ups if reading in readings_of(s)]
    raise JobError(
        Fault(
            code="trial-kind",
            field=reading,
            found=f"a {reading} for {set_up.id}, {set_up.title}",
            allowed=f"for {set_up.id}: {' or '.join(f'a {o}' for o in own)}",
            do=f"Give one of these, or name the set-up of the half you want to correct: a {reading} is for "
            f"{', '.join(others) or 'none of this job'}.",
        )
    )


def _length(name: str, written: str, lengths: LengthWriter) -> float:
    """Return what was measured (mm); a bare number is in the job's unit, as the card has it."""
    from storyrod.measure.length import parse_length

    try:
        return parse_length(written, lengths.unit)
    except JobError as error:
        raise error.under(name) from None


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
