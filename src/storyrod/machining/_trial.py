"""Trial joints: from what was measured to the corrected packer, depth or fence.

A step is above 0 where the entering panel's reference face stands proud of where it should be, below 0 where it lies
behind it. One half is corrected and cut anew; the other stays as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

from storyrod.faults import Fault, JobError, raise_if_any, within
from storyrod.machining._packers import stack_packers
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.machining import Correction, PackerSide, TrialKind

LARGEST: Final = 5.0
"""A step or gap larger than this (mm) is no error of setting: a wrong line or face was used. Common practice."""

SMALLEST: Final = 0.05
"""What a feeler or a fingernail can tell (mm). Common practice, no source."""


def trial_step(
    step: float,
    *,
    packer: float,
    shelf: Sequence[float],
    half: str = "face",
    side: PackerSide = PackerSide.FENCE,
    lengths: LengthWriter = METRIC,
) -> Correction:
    """Return the packer that takes a step out, changed for one half only.

    The entering panel stands proud by as much as the cut in its edge lies further from its reference face than the cut
    in the receiving face lies from the line. So the face half wants its cut further away, or the edge half nearer.
    A packer between fence and work, or under the work, brings the cut nearer by its thickness; one under the tool
    takes it further away.

    Args:
        step: measured; above 0 where the entering panel stands proud of the reference.
        packer: what lies there now.
        shelf: the packers in the workshop.
        half: the half that will be cut anew, `edge` or `face`.
        side: where the packer lies.
        lengths: how the job writes lengths.

    Raises:
        JobError: for a reading that is no trial error, and when the packer would have to be less than nothing.
    """
    told = lengths.told
    _check(step, "step", told)
    further = step if half == "face" else -step
    becomes = packer + (further if side is PackerSide.TOOL else -further)
    if becomes < -1e-9 and side in (PackerSide.WORK, PackerSide.TOOL):
        side = PackerSide.TOOL if side is PackerSide.WORK else PackerSide.WORK
        becomes = -becomes
    if becomes < -1e-9:
        raise JobError(
            Fault(
                code="trial-packer",
                field="trial.step",
                found=f"a step of {told(step)} with a packer of {told(packer)}",
                allowed=f"to that side {told(packer)} at most, so that a packer of 0 or more is left",
                do=f"Cut the {'edge' if half == 'face' else 'face'} half again instead, or move the fence itself.",
            )
        )
    stack = stack_packers(becomes, shelf)
    stands = "proud of" if step > 0 else "behind"
    way = "further from" if further > 0 else "nearer to"
    where = "" if side is PackerSide.NONE else f", {side.value}"
    made = stack.told(lengths) if stack.mill is not None or stack.pieces else "no packer at all"
    return Correction(
        kind=TrialKind.STEP,
        reading=step,
        what="packer",
        was=packer,
        becomes=becomes,
        packer=stack,
        direction=(
            f"The entering panel stands {told(abs(step))} {stands} the reference, so the cut in the {half} must move "
            f"{way} the reference by as much."
        ),
        text=f"Packer {told(becomes)} instead of {told(packer)}{where}: {made}.",
    )


def trial_gap(
    gap: float, *, plunge: float, skin_left: float, skin_least: float = 3.0, lengths: LengthWriter = METRIC
) -> Correction:
    """Return the deeper plunge that lets a joint close, which stands open by `gap` because something bottoms.

    Args:
        gap: measured between the shoulder and the face, above 0.
        plunge: the depth stop's setting now.
        skin_left: board left under the cut now.
        skin_least: the least that may be left.
        lengths: how the job writes lengths.

    Raises:
        JobError: for a reading that is no trial error, or a cut that would leave too little board.
    """
    told = lengths.told
    _check(gap, "gap", told)
    if gap < 0:
        raise JobError(
            Fault(
                code="trial-reading",
                field="trial.gap",
                found=told(gap),
                allowed="a gap above 0",
                do="A joint that closes needs no change of depth. If the faces are stepped, enter it as a step.",
            )
        )
    if skin_left - gap < skin_least - 1e-9:
        raise JobError(
            Fault(
                code="trial-depth",
                field="trial.gap",
                found=f"a gap of {told(gap)} where {told(skin_left)} of board are left under the cut",
                allowed=f"{told(max(0.0, skin_left - skin_least))} deeper at most, so that {told(skin_least)} stay",
                do="Deepen the other half, or shorten the connector.",
            )
        )
    return Correction(
        kind=TrialKind.GAP,
        reading=gap,
        what="depth",
        was=plunge,
        becomes=plunge + gap,
        packer=None,
        direction=f"The joint stands open by {told(gap)}, because the connector bottoms in a cut.",
        text=f"Depth stop {told(plunge + gap)} instead of {told(plunge)}; clear the dust and try again.",
    )


def trial_fence(error: float, *, fence: float, lengths: LengthWriter = METRIC) -> Correction:
    """Return the fence that puts a cut right which lies `error` too far from the edge (below 0: too near).

    Raises:
        JobError: for a reading that is no trial error, or a fence that would stand behind the cutter.
    """
    told = lengths.told
    _check(error, "fence", told)
    becomes = fence - error
    if becomes < -1e-9:
        raise JobError(
            Fault(
                code="trial-fence",
                field="trial.fence",
                found=f"{told(error)} too far, with the fence at {told(fence)}",
                allowed=f"at most {told(fence)} too far",
                do="Measure again from the edge that ran along the fence.",
            )
        )
    toward = "toward" if error > 0 else "away from"
    return Correction(
        kind=TrialKind.FENCE,
        reading=error,
        what="fence",
        was=fence,
        becomes=becomes,
        packer=None,
        direction=(
            f"The cut lies {told(abs(error))} too {'far from' if error > 0 else 'near to'} the edge, so the "
            f"fence goes {toward} the cutter by as much."
        ),
        text=f"Fence {told(becomes)} instead of {told(fence)}.",
    )


def _check(reading: float, name: str, told: Callable[[float], str]) -> None:
    raise_if_any(
        within(
            f"trial.{name}",
            reading,
            -LARGEST,
            LARGEST,
            code="trial-reading",
            do="No setting is that far out. Look for a wrong line, a wrong face or a part the wrong way round.",
        )
    )
    if abs(reading) < SMALLEST:
        raise JobError(
            Fault(
                code="trial-small",
                field=f"trial.{name}",
                found=told(reading),
                allowed=f"a reading of {told(SMALLEST)} or more, either way",
                do="Leave the setting as it is.",
            )
        )
