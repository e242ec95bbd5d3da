"""Two ways of making a carcass on one clock: stages one after another, and where one way overtakes the other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Final

from storyrod.ledger._time_study import mean_interval
from storyrod.model.account import Account
from storyrod.model.learning import Timing
from storyrod.model.two_ways import OneWay, Overtaking, StageSpan, StageTaken, TwoWays
from storyrod.model.work import Minutes, Stage, WorkItem, total_minutes

JIGS: Final = "making jigs"
CLAMPS: Final = "in clamps"

_BESIDE: Final = {Stage.MACHINE: (JIGS, Stage.MACHINE.value), Stage.ASSEMBLE: (Stage.ASSEMBLE.value, CLAMPS)}

ORDER: Final = tuple(name for stage in Stage for name in _BESIDE.get(stage, (stage.value,)))
"""The stages in the order of the work: jigs are made before machining, glue sets after assembling."""

CERTAIN: Final = 0.9
"""How sure an interval of a ratio is, as for learned times."""


def side_by_side(first: tuple[str, Account], second: tuple[str, Account]) -> TwoWays:
    """Return two accounts, each with its name, on one clock."""
    a, b = _way(*first), _way(*second)
    return TwoWays(ways=(a, b), overtakings=tuple(_overtakings(a, b)))


def _way(name: str, account: Account) -> OneWay:
    by_stage = _by_stage(account)
    spans, now = [], 0.0
    for place, stage in enumerate(ORDER):
        minutes = by_stage.get(stage)
        if minutes is not None and minutes.usual > 0:
            end = now + minutes.usual
            spans.append(
                StageSpan(stage=stage, place=place, start=now, end=end, minutes=minutes, is_wait=stage == CLAMPS)
            )
            now = end
    return OneWay(name=name, spans=tuple(spans))


def _by_stage(account: Account) -> dict[str, Minutes]:
    work = account.work
    found = {s.value: total_minutes(i for i in work.items if i.stage is s) for s in Stage}
    if work.jig_min:
        found[JIGS] = Minutes(low=work.jig_min, usual=work.jig_min, high=work.jig_min)
    if account.clamp_min:
        found[CLAMPS] = Minutes(low=account.clamp_min, usual=account.clamp_min, high=account.clamp_min)
    return found


def place_at(way: OneWay, moment: float) -> float:
    """Return how far a way is at a moment: the place of its stage, and the share of it that is done."""
    for span in way.spans:
        if moment < span.end:
            return span.place + max(0.0, (moment - span.start) / (span.end - span.start))
    return float(len(ORDER))


def _overtakings(a: OneWay, b: OneWay) -> Iterator[Overtaking]:
    """Yield when the one that is further on becomes the other; between two ends of stages both go on evenly."""
    moments = sorted({0.0, *(s.end for way in (a, b) for s in way.spans)})
    ahead: OneWay | None = None
    for start, end in pairwise(moments):
        first, last = _lead(a, b, start), _before(a, b, start, end)
        for moment, lead in ((start, first), (_meet(start, end, first, last), last)):
            leader = a if lead > 1e-9 else b if lead < -1e-9 else None
            if leader is not None and leader is not ahead:
                if ahead is not None:
                    yield Overtaking(at_min=moment, ahead=leader.name, stage=_stage_at(leader, moment))
                ahead = leader


def _lead(a: OneWay, b: OneWay, moment: float) -> float:
    return place_at(a, moment) - place_at(b, moment)


def _before(a: OneWay, b: OneWay, start: float, end: float) -> float:
    """Return the lead just before the end of a stretch, where a stage that ends there is not yet left."""
    middle = (start + end) / 2
    return 2 * _lead(a, b, middle) - _lead(a, b, start)


def _meet(start: float, end: float, first: float, last: float) -> float:
    return start if first * last >= 0 else start + (end - start) * first / (first - last)


def _stage_at(way: OneWay, moment: float) -> str:
    return next((s.stage for s in way.spans if moment < s.end), "done")


def taken_by_stage(items: Sequence[WorkItem], timings: Iterable[tuple[str, Timing]]) -> tuple[StageTaken, ...]:
    """Return what each stage took against what the same things take as planned.

    Args:
        items: the work as planned, act by act.
        timings: stopped watches, each with the set-up that it ran at, or "".
    """
    stage_of_act: dict[str, Stage] = {}
    each: dict[str, float] = {}
    for item in items:
        stage_of_act.setdefault(item.act, item.stage)
        each.setdefault(item.act, item.each.usual)
    of_set_up: Mapping[str, Stage] = {i.set_up: i.stage for i in items if i.set_up}
    found: dict[Stage, list[tuple[float, float]]] = {}
    for set_up, timing in timings:
        stage = of_set_up.get(set_up) or stage_of_act.get(timing.act)
        planned = each.get(timing.act, 0.0) * timing.count
        if stage is not None and planned > 0:
            found.setdefault(stage, []).append((planned, timing.minutes))
    return tuple(_taken(s.value, found[s]) for s in Stage if s in found)


def _taken(stage: str, pairs: Sequence[tuple[float, float]]) -> StageTaken:
    interval = mean_interval([taken / planned for planned, taken in pairs], CERTAIN)
    low, high = interval if interval is not None else (None, None)
    planned, taken = (sum(p[n] for p in pairs) for n in (0, 1))
    return StageTaken(stage=stage, planned_min=planned, taken_min=taken, runs=len(pairs), low=low, high=high)
