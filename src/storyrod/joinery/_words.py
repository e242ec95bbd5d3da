"""What is said of a clash, settled or not."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from storyrod.faults import Fault, WayOut, joined
from storyrod.joinery._clash import FITTING, Clash, Panels, Spot
from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.measure.tolerance import EXACT
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import Feature
from storyrod.model.job import Case
from storyrod.model.panel import Panel, PanelId

_SIZES: Final = ("width", "depth", "height")
"""The sizes of a case along its axes x, y and z."""

_NOT_ALL = " Not every place for them was tried: too many connectors are in each other's way."


def told(knot: Sequence[Clash], owner: int, index: int, panels: Panels) -> str:
    """Return why a station was moved."""
    for clash in knot:
        for mine, other in ((clash.one, clash.other), (clash.other, clash.one)):
            if (mine.owner, mine.station) == (owner, index):
                return f"it met {_what(other, panels)} in {panels.slabs[clash.panel].panel.name}"
    first = knot[0]
    return (
        f"it moved with another: {_what(first.one, panels)} met {_what(first.other, panels)} "
        f"in {panels.slabs[first.panel].panel.name}"
    )


def clash_fault(clash: Clash, panels: Panels, case: Case, lengths: LengthWriter, *, all_tried: bool) -> Fault:
    """Return the fault of two cuts that no moving sets apart, or none that was tried before the search ended."""
    told = lengths.told
    panel = panels.slabs[clash.panel].panel
    joint_first = clash.one.owner != FITTING
    one, other = (clash.one, clash.other) if joint_first else (clash.other, clash.one)
    u, v, _ = one.at
    return Fault(
        code="clash",
        field=panel.cause or case.field,
        found=f"{_what(one, panels)} and {_what(other, panels)} meet in {panel.name} of case "
        f"{panel.case}, {told(u)} from its datum end and {told(v)} from its face edge",
        allowed=f"at least {told(clash.room)} of board between them",
        do=_ways_out(clash, panels) + ("" if all_tried else _NOT_ALL),
        ways=tuple(_larger_cases(clash, panels, case, lengths.unit)),
        ids=tuple(dict.fromkeys(panels.joints[s.owner].joint.id for s in (clash.one, clash.other) if s.owner >= 0)),
    )


def _larger_cases(clash: Clash, panels: Panels, case: Case, unit: Unit) -> Iterator[WayOut]:
    """Yield the sizes of a case that set two cuts apart which stand at both ends of a panel, or at both its edges."""
    slab, step = panels.slabs[clash.panel], MM_PER_INCH / 16 if unit is Unit.INCH else 1.0
    if case.fits is not None:
        return
    for axis in (0, 1):
        one, other = sorted((clash.one, clash.other), key=lambda s: s.low[axis] + s.high[axis])
        if (
            one.low[axis] + one.high[axis]
            < slab.size[axis] - EXACT
            < slab.size[axis] + EXACT
            < (other.low[axis] + other.high[axis])
        ):
            word = _SIZES[slab.axes[axis]]
            more = clash.room - (other.low[axis] - one.high[axis])
            size = math.ceil((getattr(case, word) + more - EXACT) / step) * step
            yield WayOut(field=joined(case.field, word), value=size, is_length=True)


def likeness(clash: Clash, panels: Panels) -> object:
    """Return what a clash has in common with its mirror: the same two cuts in a twin, or as far from the other end."""
    panel = panels.slabs[clash.panel].panel
    ends = sorted(_one_like(spot, panels, panel.length) for spot in (clash.one, clash.other))
    return _pair_of(panel), tuple(ends), clash.room


def _one_like(spot: Spot, panels: Panels, length: float) -> tuple[object, ...]:
    u, v, _ = spot.at
    place = (round(min(u, length - u), 3), round(v, 3), spot.number >> 1)
    if spot.owner == FITTING:
        return (*place, _kind(spot), "", "", "")
    joint = panels.joints[spot.owner]
    mates = sorted(_pair_of(slab.panel) for slab in (joint.entering, joint.receiving))
    return (*place, _kind(spot), joint.method.code, *mates)


def _pair_of(panel: Panel) -> str:
    """Return what a panel and its mirrored twin are both called by."""
    return min(panel.id, panel.twin or panel.id)


def told_likewise(fault: Fault, clash: Clash, panels: Panels, named: PanelId) -> Fault:
    """Return a fault that tells its mirror too: in the twin of the panel that it names, or at that one's other end."""
    where = "at its other end" if clash.panel == named else f"in {panels.slabs[clash.panel].panel.name}"
    words = f"; the same {where}"
    return fault if words in fault.found else replace(fault, found=fault.found + words)


def _what(spot: Spot, panels: Panels) -> str:
    if spot.owner == FITTING:
        cut = spot.cut
        why = f" ({cut.why})" if cut.why else ""
        return f"the {_kind(spot)}{why}"
    joint = panels.joints[spot.owner]
    names = f"{joint.entering.panel.name} and {joint.receiving.panel.name}"
    return f"the {_kind(spot)} of {joint.joint.number} ({joint.method.name}, {names})"


def _kind(spot: Spot) -> str:
    cut = spot.cut
    if isinstance(cut, Feature):
        return cut.kind
    return cut.shape.kind


def _ways_out(clash: Clash, panels: Panels) -> str:
    """Return what would free the two."""
    ways: list[str] = []
    owners = [s.owner for s in (clash.one, clash.other) if s.owner != FITTING]
    for owner in dict.fromkeys(owners):
        joint = panels.joints[owner]
        ways.append(f"another method for {joint.entering.panel.name} and {joint.receiving.panel.name}")
    if len(owners) < 2:
        fitting = clash.one if clash.one.owner == FITTING else clash.other
        ways.append(f"another place for {_what(fitting, panels)}")
    else:
        ways.append("other sizes for the openings, so that the two panels are further apart")
    return f"Choose {', or '.join(ways)}."
