"""Two ways side by side, as a paper."""

from __future__ import annotations

from collections.abc import Sequence

from storyrod.adapters.packet._blocks import Section, packet_of
from storyrod.adapters.packet._typeset import typeset
from storyrod.model.two_ways import StageTaken, TwoWays
from storyrod.planning import Plan
from storyrod.telling.two_ways import two_blocks


def make_two_ways(plan: Plan, two: TwoWays, taken: Sequence[StageTaken] = (), *, date: str = "") -> bytes:
    """Return two ways of making a job, side by side on one clock, as PDF; `plan` is of the first."""
    names = " and ".join(way.name for way in two.ways)
    section = Section(title=f"Side by side: {names}", head="side by side", blocks=tuple(two_blocks(two, taken)))
    return typeset(packet_of(plan, (section,), date=date, foot=""))
