"""Trial joints: from what was measured to the corrected packer, depth or fence.

A step is above 0 where the entering panel's reference face stands proud of where it should be, below 0 where it lies
behind it. One half is corrected and cut anew; the other stays as it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.faults import Fault, JobError, raise_if_any, within
from storyrod.machining._packers import stack_packers
from storyrod.measure.length import show_mm
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

    Raises:
        JobError: for a reading that is no trial error, and when the packer would have to be less than nothing.
    """
    _check(step, "step")
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
                found=f"a step of {show_mm(step, 2)} mm with a packer of {show_mm(packer, 2)} mm",
                allowed=f"to that side {show_mm(packer, 2)} mm at the most, so that a packer of 0 mm or more is left",
                do=f"Cut the {'edge' if half == 'face' else 'face'} half anew instead, or move the fence itself.",
            )
        )
    stack = stack_packers(becomes, shelf)
    stands = "proud of" if step > 0 else "behind"
    way = "further from" if further > 0 else "nearer to"
    where = "" if side is PackerSide.NONE else f", {side.value}"
    made = stack.words if stack.mill is not None or stack.pieces else "no packer at all"
    return Correction(
        kind=TrialKind.STEP,
        reading=step,
        what="packer",
        was=packer,
        becomes=becomes,
        packer=stack,
        direction=(
            f"The entering panel stands {show_mm(abs(step), 2)} mm {stands} the reference, so the cut in the {half} "
            f"must come {way} the reference by as much."
        ),
        text=f"Packer {show_mm(becomes, 2)} mm instead of {show_mm(packer, 2)}{where}: {made}.",
    )


def trial_gap(gap: float, *, plunge: float, skin_left: float, skin_least: float = 3.0) -> Correction:
    """Return the deeper plunge that lets a joint close, which stands open by `gap` because something bottoms.

    Args:
        gap: measured between the shoulder and the face, above 0.
        plunge: the depth stop's setting now.
        skin_left: board left under the cut now.
        skin_least: the least that may be left.

    Raises:
        JobError: for a reading that is no trial error, or a cut that would leave too little board.
    """
    _check(gap, "gap")
    if gap < 0:
        raise JobError(
            Fault(
                code="trial-reading",
                field="trial.gap",
                found=f"{show_mm(gap, 2)} mm",
                allowed="a gap above 0",
                do="A joint that closes needs no change of depth; measure a step with --step.",
            )
        )
    if skin_left - gap < skin_least - 1e-9:
        raise JobError(
            Fault(
                code="trial-depth",
                field="trial.gap",
                found=f"a gap of {show_mm(gap, 2)} mm where {show_mm(skin_left, 1)} mm of board are left under the cut",
                allowed=f"{show_mm(max(0.0, skin_left - skin_least), 2)} mm deeper at the most, so that "
                f"{show_mm(skin_least, 1)} mm stay",
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
        direction=f"The joint stands open by {show_mm(gap, 2)} mm, because the connector meets the bottom of a cut.",
        text=f"Depth stop {show_mm(plunge + gap, 2)} mm instead of {show_mm(plunge, 2)}; clear the dust and try again.",
    )


def trial_fence(error: float, *, fence: float) -> Correction:
    """Return the fence that puts a cut right which lies `error` too far from the edge (below 0: too near).

    Raises:
        JobError: for a reading that is no trial error, or a fence that would stand behind the cutter.
    """
    _check(error, "fence")
    becomes = fence - error
    if becomes < -1e-9:
        raise JobError(
            Fault(
                code="trial-fence",
                field="trial.fence",
                found=f"{show_mm(error, 2)} mm too far, with the fence at {show_mm(fence, 2)} mm",
                allowed=f"at most {show_mm(fence, 2)} mm too far",
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
            f"The cut lies {show_mm(abs(error), 2)} mm too {'far from' if error > 0 else 'near to'} the edge, so the "
            f"fence goes {toward} the cutter by as much."
        ),
        text=f"Fence {show_mm(becomes, 2)} mm instead of {show_mm(fence, 2)}.",
    )


def _check(reading: float, name: str) -> None:
    raise_if_any(
        within(
            f"trial.{name}",
            reading,
            -LARGEST,
            LARGEST,
            code="trial-reading",
            do="That is no error of setting: look for a wrong line, a wrong face or a part the wrong way round.",
        )
    )
    if abs(reading) < SMALLEST:
        raise JobError(
            Fault(
                code="trial-small",
                field=f"trial.{name}",
                found=f"{show_mm(reading, 3)} mm",
                allowed=f"a reading of {SMALLEST:g} mm or more, either way",
                do="Leave the setting as it is.",
            )
        )
