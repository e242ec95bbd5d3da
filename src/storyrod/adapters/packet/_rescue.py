"""The rescue sheet: only what a way out changes, as a paper to lay on top of the packet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from storyrod.adapters.packet._blocks import Block, Section, packet_of
from storyrod.adapters.packet._typeset import room_on, typeset
from storyrod.drawing import Figures
from storyrod.drawing.rescued import panel_rescued
from storyrod.model.as_built import Slip
from storyrod.model.rescue import Way
from storyrod.planning import Plan
from storyrod.telling.blocks import Picture, Words
from storyrod.telling.rescue import Changed, Sheet

_HIGH = 0.5
"""Of a page's height, for one drawing."""


def make_rescue_sheet(plan: Plan, way: Way, slips: Sequence[Slip], *, date: str = "") -> bytes:
    """Return the rescue sheet of a way out, as PDF."""
    sheet = Sheet(plan, way)
    case = way.case.built.case
    copy = next((s.copy for s in slips), 1)
    which = f", copy {copy} of {case.count}" if case.count > 1 else ""
    rest = f" It is for copy {copy} only; the others go by the packet." if case.count > 1 else ""
    first = Section(
        title=f"Rescue: case {case.code}, {case.name}{which}",
        head="rescue",
        blocks=(
            Words(text=f"Put this sheet on top of the packet: it overrides every other page.{rest}", strong=True),
            *sheet.blocks(slips),
        ),
    )
    panels = (_panel(plan, sheet, one) for one in sheet.changed())
    return typeset(packet_of(plan, (first, *panels), date=date, foot=""))


def _panel(plan: Plan, sheet: Sheet, one: Changed) -> Section:
    name = f"{one.panel.mark} {one.panel.name}"
    return Section(
        title=f"{name}, as it now is",
        flows=True,
        head=f"rescue, {one.panel.mark}",
        blocks=tuple(_blocks(plan, sheet, one)),
    )


def _blocks(plan: Plan, sheet: Sheet, one: Changed) -> Iterator[Block]:
    yield Words(text=f"In place of the set-out of {one.panel.mark}. Measured from datum end, face edge and face side.")
    yield from sheet.tables_of(one)
    width, height = room_on(plan.job.paper.value)
    figures = Figures(unit=plan.job.unit, fraction=plan.job.fraction)
    old = [cut for cut, _ in one.old]
    for drawing in panel_rescued(one.set_out, old, figures=figures, room=(width, height * _HIGH)):
        yield Picture(drawing=drawing)
