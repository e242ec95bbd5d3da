"""What a trial joint corrects, and what a check of the run found."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from storyrod.faults import Fault
from storyrod.model.machining._setting import PackerStack


class TrialKind(StrEnum):
    """What was measured on a trial joint."""

    STEP = "step"
    GAP = "gap"
    FENCE = "fence"


@dataclass(frozen=True, slots=True, kw_only=True)
class Correction:
    """What to change after a trial joint.

    Attributes:
        kind: what was measured; `reading` how much, in mm.
        what: what is changed: `packer`, `depth` or `fence`.
        was, becomes: its setting before and after.
        packer: how the new packer is made up, or None.
        direction: which way it goes and why, a whole sentence.
        text: what to do, a whole sentence.
    """

    kind: TrialKind
    reading: float
    what: str
    was: float
    becomes: float
    packer: PackerStack | None
    direction: str
    text: str

    @property
    def change(self) -> float:
        """How much is added."""
        return self.becomes - self.was


@dataclass(frozen=True, slots=True, kw_only=True)
class RunCheck:
    """What an independent check of a work plan found: claims that held, in words, and faults.

    `idle` are those of the claims that had nothing to hold of: there is no jig, or no countersink.
    """

    held: tuple[str, ...]
    faults: tuple[Fault, ...]
    idle: tuple[str, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether nothing was found wrong."""
        return not self.faults
