"""Errors to be expected across and along a joint."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.model.joint import JointId
from storyrod.model.simulation import ErrorTerm


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """How errors add up: at their worst, and as the root of the sum of squares (+- mm)."""

    terms: tuple[ErrorTerm, ...]
    worst: float
    rss: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedStep:
    """The step to be expected across one kind of joint, and the misfit along it.

    Attributes:
        across: as planned; `centre_line` the same joint if both halves were placed from centre lines.
        same_face: whether both halves are placed from the same face, so that the board's thickness cancels.
        joints: the joints that are made in this way.
    """

    name: str
    method: str
    ways: tuple[str, str]
    same_face: bool
    across: Stack
    along: Stack
    centre_line: Stack
    joints: tuple[JointId, ...]
