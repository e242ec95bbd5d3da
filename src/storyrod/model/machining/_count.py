"""What is counted: halves and cuts wanted and planned."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """Halves or cuts wanted and planned for one panel, joint or set-up, in the whole batch."""

    about: str
    name: str
    wanted: int
    planned: int

    @property
    def agrees(self) -> bool:
        """Whether nothing is missing and nothing is made twice."""
        return self.wanted == self.planned


@dataclass(frozen=True, slots=True, kw_only=True)
class Reconciliation:
    """Halves wanted and planned, per panel, joint and set-up."""

    panels: tuple[Count, ...]
    joints: tuple[Count, ...]
    set_ups: tuple[Count, ...]

    @property
    def wanted(self) -> int:
        """All cuts wanted."""
        return sum(c.wanted for c in self.panels)

    @property
    def agrees(self) -> bool:
        """Whether every count agrees."""
        return all(c.agrees for c in (*self.panels, *self.joints, *self.set_ups))
