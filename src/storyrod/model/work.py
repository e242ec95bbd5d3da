"""The work of a job: its stages, acts and minutes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

TENTH: Final = 1.2815515655446004
"""A normal value lies one time in ten above its mean and so many deviations."""


class Stage(StrEnum):
    """The parts of the work, in the order in which they are told."""

    CUT = "cutting sheets"
    EDGE = "edging"
    MARK = "marking out"
    MACHINE = "machining joints"
    FIT = "fitting connectors"
    ASSEMBLE = "assembling"
    BACK = "back"
    DRAWERS = "drawer boxes"
    FITTINGS = "runners, hinges and fronts"
    FINISH = "finishing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Minutes:
    """Minutes with their spread: one time in ten it is less than `low`, one in ten more than `high`."""

    low: float
    usual: float
    high: float

    def times(self, count: float) -> Minutes:
        """Return the minutes of doing it `count` times: one maker is quick or slow at all of them alike."""
        return Minutes(low=self.low * count, usual=self.usual * count, high=self.high * count)

    def __str__(self) -> str:
        return f"{self.usual:,.0f} min ({self.low:,.0f} to {self.high:,.0f})"


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkItem:
    """Something done `count` times a copy: the ledger's own input, whatever stage it came from.

    Attributes:
        act: what is done. Items with one act share its time, so their uncertainty is the same uncertainty.
        count: how often in one copy (or metres, where the act is told per metre).
        copies: of the case in the batch; 1 for what is done once for the whole batch.
        each: minutes for doing it once.
        case: the case's code, or "" for what the whole batch shares.
        panel: id of the panel worked on, "" where it is none alone.
        set_up: id of the set-up it belongs to, "" for none.
        setting: whether it sets the tool up, which a batch shares, and is not done to a piece.
        hands_on: false for waiting, as in clamps, which takes no labour.
    """

    act: str
    stage: Stage
    each: Minutes
    count: float = 1.0
    copies: int = 1
    case: str = ""
    panel: str = ""
    joint: str = ""
    method: str = ""
    set_up: str = ""
    setting: bool = False
    hands_on: bool = True

    @property
    def times(self) -> float:
        """How often it is done in the batch."""
        return self.count * self.copies

    @property
    def usual_min(self) -> float:
        """Usual minutes of the batch."""
        return self.each.usual * self.times


@dataclass(frozen=True, slots=True, kw_only=True)
class MinutesOf:
    """The minutes of one stage, set-up, panel or case."""

    id: str
    name: str
    minutes: Minutes


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """All that is to be done for a batch.

    Attributes:
        items: in the order of the stages.
        copies: how many of each case, as (code, count).
        source: where operations and set-ups come from, in words.
        jigs: names of the jigs that must be made first; `joint_jigs` how many of them serve carcass joints.
        jig_min: minutes to make them, once for all.
        jig_m2: board for them.
        tools: codes of the tools that are used.
        set_up_names: what each set-up is, by its id.
        panel_names: what each panel is called, by its id.
    """

    items: tuple[WorkItem, ...]
    copies: tuple[tuple[str, int], ...]
    source: str
    jigs: tuple[str, ...] = ()
    joint_jigs: int = 0
    jig_min: float = 0.0
    jig_m2: float = 0.0
    tools: tuple[str, ...] = ()
    set_up_names: tuple[tuple[str, str], ...] = ()
    panel_names: tuple[tuple[str, str], ...] = ()

    @property
    def carcasses(self) -> int:
        """How many carcasses the batch has."""
        return sum(n for _, n in self.copies)

    @property
    def set_ups(self) -> tuple[str, ...]:
        """Ids of the set-ups, each once, in order."""
        return tuple(dict.fromkeys(i.set_up for i in self.items if i.set_up))

    def of(self, *stages: Stage) -> tuple[WorkItem, ...]:
        """Return the items of some stages."""
        return tuple(i for i in self.items if i.stage in stages)


_HOUR_MIN = 60


def work_words(minutes: float) -> str:
    """Return a stretch of work (minutes) as a maker says it: `55 minutes`, `9 hours 52 minutes`."""
    hours, rest = divmod(round(minutes), _HOUR_MIN)
    words = [f"{hours:,} hour{'s' * (hours != 1)}"] if hours else []
    words += [f"{rest} minute{'s' * (rest != 1)}"] if rest or not hours else []
    return " ".join(words)


def minutes_figure(minutes: float) -> str:
    """Return minutes as a column shows them: whole ones from ten on, tenths below."""
    return f"{minutes:,.0f}" if minutes >= 9.95 else f"{minutes:.1f}"


def total_minutes(items: Iterable[WorkItem], *, waiting: bool = False) -> Minutes:
    """Return the labour of some items, or with `waiting` the time spent in clamps.

    A maker quick at an act is quick at it every time, so one act's spread adds up plainly; different acts are taken
    as independent, so their spreads add up by the root of the sum of squares, upward and downward apart.
    """
    counts: dict[tuple[str, Minutes], float] = {}
    for item in items:
        if item.hands_on is not waiting:
            key = (item.act, item.each)
            counts[key] = counts.get(key, 0.0) + item.times
    usual = math.fsum(m.usual * n for (_, m), n in counts.items())
    down, up = _by_act(counts, lambda m: m.usual - m.low), _by_act(counts, lambda m: m.high - m.usual)
    return Minutes(low=max(usual - down, 0.0), usual=usual, high=usual + up)


def _by_act(counts: dict[tuple[str, Minutes], float], reach: Callable[[Minutes], float]) -> float:
    by_act: dict[str, float] = {}
    for (act, minutes), n in counts.items():
        by_act[act] = by_act.get(act, 0.0) + reach(minutes) * n
    return math.hypot(*by_act.values())
