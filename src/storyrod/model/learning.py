"""What the bench teaches of minutes: timings, times learned from them, and learning curves."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from storyrod.model.work import Minutes


class LearningModel(StrEnum):
    """Which of the two learning curves is meant: they differ."""

    UNIT = "unit (Crawford)"
    AVERAGE = "cumulative average (Wright)"


@dataclass(frozen=True, slots=True, kw_only=True)
class Learning:
    """A maker new to a method: each doubling of carcasses made takes `rate` of the minutes before.

    Attributes:
        rate: 0.8 means that the twentieth carcass takes 80 % of what the tenth took.
        done: carcasses made by this method already.
        standard_at: the carcass at which the workshop's standard times are reached; no quicker after it.
    """

    rate: float
    done: int = 0
    standard_at: int = 20
    model: LearningModel = LearningModel.UNIT


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """One stop-watch span: `minutes` in all for doing `act` `count` times; `id` names it in the log."""

    act: str
    minutes: float
    count: float = 1.0
    method: str = ""
    id: str = ""
    keep: bool = False

    @property
    def each_min(self) -> float:
        """Minutes for doing it once."""
        return self.minutes / self.count


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A timing that looks unlike the others, and why; it stays in the log and is told."""

    timing: Timing
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LearnedTime:
    """What the bench has taught of one act.

    Attributes:
        before: the standard time it started from.
        now: the standard time with the timings weighed in.
        used: how many timings were used; `set_aside` those that look like something else.
        mean_low, mean_high: where the long-run mean lies, 9 times in 10; None with fewer than two timings.
        more_needed: further timings until the mean is known to +-10 %; None where that cannot be told yet.
    """

    act: str
    method: str
    before: Minutes
    now: Minutes
    used: int
    set_aside: tuple[SetAside, ...]
    mean_low: float | None
    mean_high: float | None
    more_needed: int | None
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedCurve:
    """A learning curve fitted to timings: minutes of the nth are `first_min * n ** log2(rate)` (unit model)."""

    rate: float
    rate_low: float | None
    rate_high: float | None
    first_min: float
    points: int
    text: str = field(default="")
