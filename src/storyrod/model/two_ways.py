"""The same carcass made two ways, side by side on one clock; and what was planned against what it took."""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.model.work import Minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class StageSpan:
    """One stage of one way: from when to when on the clock, begun when the stage before it ends (minutes).

    Attributes:
        place: which in the order of all stages, the same for both ways.
        is_wait: whether it is waiting, as in clamps.
    """

    stage: str
    place: int
    start: float
    end: float
    minutes: Minutes
    is_wait: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class OneWay:
    """One way of making it, stage after stage by one maker; nothing else is done while glue sets."""

    name: str
    spans: tuple[StageSpan, ...]

    @property
    def whole_min(self) -> float:
        """When it is done, on the clock."""
        return self.spans[-1].end if self.spans else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Overtaking:
    """The moment (minutes) from which one way is further on than the other, and the stage it is in by then."""

    at_min: float
    ahead: str
    stage: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoWays:
    """Two ways on one clock."""

    ways: tuple[OneWay, OneWay]
    overtakings: tuple[Overtaking, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StageTaken:
    """What one stage took at the bench, against the same things as planned.

    Attributes:
        planned_min: usual minutes of what was timed, `taken_min` what it took.
        runs: how many times the watch was stopped on it.
        low, high: between what the long-run ratio of taken to planned lies, 9 times in 10; None with fewer than two.
    """

    stage: str
    planned_min: float
    taken_min: float
    runs: int
    low: float | None
    high: float | None

    @property
    def may_be_chance(self) -> bool | None:
        """Whether chance alone may make the difference; None where one run says nothing."""
        if self.low is None or self.high is None:
            return None
        return self.low <= 1.0 <= self.high
