"""Two ways side by side in words: the clock at every ten minutes, who is ahead, planned against taken."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from storyrod.ledger import place_at
from storyrod.model.two_ways import OneWay, StageTaken, TwoWays
from storyrod.model.work import minutes_figure, work_words
from storyrod.telling.blocks import Block, Bullets, Heading, Words, right, table, wide

EVERY: Final = 10
"""Minutes from row to row of the clock."""

_HOUR: Final = 60


def clock_rows(two: TwoWays) -> Iterator[tuple[str, str, str, str]]:
    """Yield the clock at every ten minutes until both are done: hours and minutes, what each is at, who is ahead."""
    last = max(way.whole_min for way in two.ways)
    moment = 0.0
    while moment < last + EVERY:
        a, b = (place_at(way, moment) for way in two.ways)
        ahead = two.ways[0].name if a > b + 1e-9 else two.ways[1].name if b > a + 1e-9 else ""
        yield (
            f"{moment // _HOUR:.0f}:{moment % _HOUR:02.0f}",
            at_words(two.ways[0], moment),
            at_words(two.ways[1], moment),
            ahead,
        )
        moment += EVERY


def at_words(way: OneWay, moment: float) -> str:
    """Return what is done in a way at a moment, and how much of it is done by then."""
    for span in way.spans:
        if moment < span.end:
            share = (moment - span.start) / (span.end - span.start)
            return f"{span.stage}, {share:.0%}"
    return "done"


def overtaking_words(two: TwoWays) -> tuple[str, ...]:
    """Return where one overtakes the other, and which is done first."""
    told = [
        f"After {work_words(o.at_min)} {o.ahead} is ahead"
        + (f", at {o.stage}." if o.stage != "done" else ": it is done.")
        for o in two.overtakings
    ]
    a, b = two.ways
    first, last = (a, b) if a.whole_min <= b.whole_min else (b, a)
    apart = last.whole_min - first.whole_min
    if round(apart) == 0:
        return (*told, f"Both are done after {work_words(first.whole_min)}.")
    return (*told, f"{first.name} is done after {work_words(first.whole_min)}, {last.name} {work_words(apart)} later.")


def stage_rows(two: TwoWays) -> Iterator[tuple[str, str, str]]:
    """Yield the minutes of each stage by each way, with their spread."""
    stages = sorted({(s.place, s.stage) for way in two.ways for s in way.spans})
    for _, stage in stages:
        yield stage, _minutes_of(two.ways[0], stage), _minutes_of(two.ways[1], stage)


def _minutes_of(way: OneWay, stage: str) -> str:
    span = next((s for s in way.spans if s.stage == stage), None)
    if span is None:
        return ""
    m = span.minutes
    spread = f" ({minutes_figure(m.low)} to {minutes_figure(m.high)})" if m.high > m.low else ""
    return f"{minutes_figure(m.usual)}{spread}"


def taken_words(taken: Sequence[StageTaken]) -> Iterator[str]:
    """Yield planned against taken, stage by stage, and whether chance may make the difference."""
    for one in taken:
        figures = (
            f"{one.stage}: {minutes_figure(one.planned_min)} minutes planned, {minutes_figure(one.taken_min)} taken"
        )
        if one.may_be_chance is None:
            yield f"{figures}. One run says nothing yet."
        elif one.may_be_chance:
            yield f"{figures} in {one.runs} runs. Chance alone may make the difference."
        else:
            slower = "longer" if one.taken_min > one.planned_min else "shorter"
            yield f"{figures} in {one.runs} runs. It takes you {slower} than planned."


def two_blocks(two: TwoWays, taken: Sequence[StageTaken] = ()) -> Iterator[Block]:
    """Yield the page: where one overtakes the other, the stages, the clock, and what it took."""
    yield Bullets(items=overtaking_words(two))
    names = [way.name for way in two.ways]
    yield table(("stage, minutes", *(right(n) for n in names)), list(stage_rows(two)), small=True)
    yield Heading(text="The clock")
    yield table((right("from start"), *(wide(n) for n in names), "ahead"), list(clock_rows(two)), small=True)
    yield Words(text="One maker, one stage after another, nothing else done while glue sets.", quiet=True)
    told = tuple(taken_words(taken))
    if told:
        yield Heading(text="Planned and taken")
        yield Bullets(items=told)
