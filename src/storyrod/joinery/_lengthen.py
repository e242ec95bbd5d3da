"""Panels made longer by what a housing or rebate swallows, with the sum told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from storyrod.joinery._contacts import Contact
from storyrod.joinery._slab import Slab, box_of
from storyrod.measure.length import FINEST, Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.panel import Panel, PanelId, frame_in


def lengthen(entries: Sequence[tuple[Contact, float]], unit: Unit) -> dict[PanelId, Panel]:
    """Return the panels that grow, by id; their slabs are put into the new boxes as well."""
    by_panel: dict[PanelId, tuple[Slab, list[tuple[int, int, float]]]] = {}
    for contact, enters in entries:
        slab = contact.entering
        ends = by_panel.setdefault(slab.panel.id, (slab, []))[1]
        step = (contact.home, contact.sign, enters)
        if step not in ends:  # two joints at one end swallow the same end
            ends.append(step)
    return {panel_id: _grown(slab, ends, unit) for panel_id, (slab, ends) in by_panel.items()}


def _grown(slab: Slab, ends: list[tuple[int, int, float]], unit: Unit) -> Panel:
    low, high = list(slab.low), list(slab.high)
    added: dict[int, list[float]] = {0: [], 1: []}
    for axis in (0, 1, 2):
        for sign in (-1, 1):
            enters = max((e for a, s, e in ends if (a, s) == (axis, sign)), default=0.0)
            if enters > 0:
                (high if sign > 0 else low)[axis] += sign * enters
                added[slab.axes.index(axis)].append(enters)
    slab.place((low[0], low[1], low[2]), (high[0], high[1], high[2]))
    panel = slab.panel
    box = box_of(slab.low, slab.high)
    sums = tuple(
        _sum(panel.sums[i], (panel.length, panel.width)[i], added[i], unit) if added[i] else panel.sums[i]
        for i in (0, 1)
    )
    grown = replace(panel, box=box, frame=frame_in(box, panel.frame), sums=(sums[0], sums[1]))
    slab.panel = grown
    return grown


def _sum(told: str, butt: float, added: list[float], unit: Unit) -> str:
    """Return the sum that led to the butt size, and what the joints add: `600 - 2 x 17.7 + 2 x 6`."""
    start = told or figure(butt, unit)
    if len(added) == 2 and added[0] == added[1]:
        return f"{start} + 2 x {figure(added[0], unit)}"
    return " + ".join([start, *(figure(a, unit) for a in added)])


def figure(value: float, unit: Unit) -> str:
    """Return a length as a bare figure, as it stands on every page: `17.7`, or `23/32`."""
    return LengthWriter(unit, FINEST).bare(value)
