"""The day's work on one page, to be pinned up at the bench."""

from __future__ import annotations

from typing import Final

from storyrod.adapters.packet._blocks import Packet, Section
from storyrod.adapters.packet._typeset import typeset
from storyrod.faults import raise_if_any
from storyrod.planning import Days
from storyrod.telling.day import day_blocks, day_words

_FOOT: Final = "A plan, not a promise: plan again from your ticks. The glue's and the finish's own tins come first."


def make_day_sheet(days: Days, *, date: str = "") -> bytes:
    """Return the day's work as PDF.

    Raises:
        JobError: the checker found a mistake in it; such a plan is not printed.
    """
    raise_if_any(days.plan.faults)
    plan = next(iter(days.work.plans.values()))
    title = days.work.jobs[0].title if len(days.work.jobs) == 1 else f"{len(days.work.jobs)} jobs"
    section = Section(
        title=f"Day's work: {day_words(days.first, days.now)}", head="day's work", blocks=tuple(day_blocks(days))
    )
    return typeset(
        Packet(
            title=title,
            mark=f"plan {plan.version}",
            maker=plan.job.maker,
            date=date,
            paper=plan.job.paper.value,
            sections=(section,),
            unit=plan.job.lengths.named,
            foot=_FOOT,
        )
    )
