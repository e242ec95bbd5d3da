"""Packers: the fewest on the shelf that make a thickness, or one to mill."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.faults import Fault, JobError
from storyrod.measure.writing import METRIC
from storyrod.model.machining import PackerStack

NEAR: Final = 0.1
"""A stack this close to what is wanted will do (mm); design of the project."""

_STEP: Final = 1000  # a packer is known to a thousandth of a mm
_DUST: Final = 1e-6  # thousandths of a mm that a float may be off by


def stack_packers(wanted: float, shelf: Sequence[float], near: float = NEAR) -> PackerStack:
    """Return the fewest packers that come within `near` of `wanted`, of these the nearest; else one to mill.

    Each thickness on the shelf is there once. The search is exact, over sums in thousandths of a mm; what is wanted is
    not rounded, so that a stack never lies beyond `near`.

    Raises:
        JobError: when `wanted` is below 0, which no packer can make.
    """
    if wanted < -1e-9:
        raise JobError(
            Fault(
                code="packer-negative",
                field="packers",
                found=f"a packer of {METRIC.told(wanted)}",
                allowed="0 mm or more",
                do="The reference is too near the cut: use a tool or jig that reaches further in.",
            )
        )
    aim, room = wanted * _STEP, near * _STEP + _DUST
    if aim <= room:
        return PackerStack(wanted=wanted)
    best = _fewest(aim, room, sorted({round(p * _STEP) for p in shelf if p > 0}, reverse=True))
    if best is None:
        return PackerStack(wanted=wanted, mill=_milled(wanted))
    return PackerStack(wanted=wanted, pieces=tuple(p / _STEP for p in best))


def taped(wanted: float) -> PackerStack:
    """Return what is too thin for a packer, made up with tape (mm)."""
    return PackerStack(wanted=wanted, mill=_milled(wanted))


def _milled(wanted: float) -> float:
    """Return what to mill: to a tenth, and packers under 1 mm, which are made of card and veneer, to a twentieth."""
    steps = 10 if wanted >= 1 else 20
    return int(wanted * steps + 0.5 + 1e-9) / steps


def _fewest(aim: float, room: float, shelf: list[int]) -> tuple[int, ...] | None:
    """Return the fewest pieces whose sum is within `room` of `aim`: every sum is kept with its fewest pieces."""
    made: dict[int, tuple[int, ...]] = {0: ()}
    for piece in shelf:
        for total, pieces in list(made.items()):
            longer = total + piece
            if longer <= aim + room and len(pieces) + 1 < len(made.get(longer, (0,) * 99)):
                made[longer] = (*pieces, piece)
    near = [(len(pieces), abs(total - aim), total) for total, pieces in made.items() if abs(total - aim) <= room]
    return made[min(near)[2]] if near else None
