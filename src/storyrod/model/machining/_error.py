"""Errors to be expected across and along a joint."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.model.joint import JointId
from storyrod.model.simulation import three_sigma


@dataclass(frozen=True, slots=True, kw_only=True)
class Contribution:
    """One cause of an error: its tolerance (+-), and by how much of it the result moves."""

    name: str
    tolerance: float
    factor: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """How errors add up: worst case, root-sum-square, and the spread seen in a simulation.

    Attributes:
        seed: of the simulation; the same seed gives the same figure.
        runs: how many sums it throws.
    """

    contributions: tuple[Contribution, ...]
    worst: float
    rss: float
    seed: int
    runs: int = 20_000

    @property
    def simulated(self) -> float:
        """Three standard deviations of the simulated sums; thrown when first asked for."""
        return three_sigma(self.contributions, seed=self.seed, runs=self.runs)


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
