"""The run: set-ups in order, with their minutes, and the batch in lots."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Sureness(StrEnum):
    """How sure it is that nothing better exists."""

    PROVEN_BEST = "proven best"
    FOUND = "found"


@dataclass(frozen=True, slots=True, kw_only=True)
class RunStep:
    """One set-up in the run, with its minutes for the whole batch.

    `turn_min` is what changing its jig over takes, which `change_min` holds as well.
    """

    set_up: str
    change_min: float
    trial_min: float
    place_min: float
    cut_min: float
    handle_min: float
    turn_min: float = 0.0

    @property
    def minutes(self) -> float:
        """All of its minutes together."""
        return self.change_min + self.trial_min + self.place_min + self.cut_min + self.handle_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Lot:
    """The minutes of the batch when it is worked in lots of `size` carcasses."""

    size: int
    lots: int
    changes_min: float
    handling_min: float
    work_min: float

    @property
    def minutes(self) -> float:
        """All minutes of the batch together."""
        return self.changes_min + self.handling_min + self.work_min


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """The order of the set-ups.

    Attributes:
        steps: in order, for one lot; repeated `lots` times.
        before: pairs of set-ups of which the first must be done before the second.
        changes_min: minutes of changing and of trial joints in this order.
        bound_min: no order can change in less.
        sureness: proven best where the two agree.
        panel_by_panel_min, nearest_min: changing minutes of two other orders, for comparison.
        lot: the size of lot chosen, and `lot_table` what others would take.
    """

    steps: tuple[RunStep, ...]
    before: tuple[tuple[str, str], ...]
    changes_min: float
    bound_min: float
    sureness: Sureness
    panel_by_panel_min: float
    nearest_min: float
    lot: Lot
    lot_table: tuple[Lot, ...]

    @property
    def gap(self) -> float:
        """How far the order found may be above the best, as a share."""
        return 0.0 if self.changes_min <= 0 else max(0.0, 1 - self.bound_min / self.changes_min)

    @property
    def minutes(self) -> float:
        """Minutes of the whole batch."""
        return self.lot.minutes
