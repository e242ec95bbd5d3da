"""What the clocks of several tablets come to where they ran at one set-up at once.

The clock belongs to the tablet. Where two stand at one set-up, and both run, the set-up still takes its time only once:
each minute in which several clocks ran is shared equally between them, so that together they come to the time in which
at least one ran. Nothing is changed in the log; it is reckoned anew whenever the minutes are asked for.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from storyrod.adapters.log._types import Span

SETTING_UP = "set up"
"""The act of which one set-up holds one, however many clocks ran meanwhile."""


def counted_once(spans: Sequence[Span]) -> tuple[Span, ...]:
    """Return stopped spans with their minutes (and set-ups made) as they count; the others are left out.

    Spans of one stretch of a clock bear its beginning. One that belongs to no set-up is taken as it is.
    """
    stopped = [s for s in spans if s.minutes is not None]
    stretches: dict[tuple[str, str], dict[float, float]] = defaultdict(lambda: defaultdict(float))
    for s in stopped:
        stretches[s.job, s.set_up][s.started] += 60 * (s.minutes or 0.0)
    shares = {key: _shares(found) for key, found in stretches.items() if key[1] and len(found) > 1}
    return tuple(_as_counted(s, shares.get((s.job, s.set_up), {}).get(s.started, 1.0)) for s in stopped)


def _as_counted(span: Span, share: float) -> Span:
    if share == 1.0 or not span.minutes:
        return span
    count = span.count * share if span.act == SETTING_UP else span.count
    return replace(span, minutes=span.minutes * share, count=count)


def _shares(stretches: dict[float, float]) -> dict[float, float]:
    """Return which share of each stretch counts, by its beginning; given are the seconds that each took."""
    ordered = sorted(stretches)
    if all(a + stretches[a] <= b for a, b in pairwise(ordered)):
        return {}
    moments = sorted({*ordered, *(a + stretches[a] for a in ordered)})
    counted: dict[float, float] = defaultdict(float)
    for low, high in pairwise(moments):
        running = [a for a in ordered if a <= low and a + stretches[a] >= high]
        for a in running:
            counted[a] += (high - low) / len(running)
    return {a: min(counted[a] / stretches[a], 1.0) for a in ordered if stretches[a] > 0}
