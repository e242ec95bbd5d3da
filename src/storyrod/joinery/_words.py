"""What is said of a clash, settled or not."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from storyrod.faults import Fault
from storyrod.joinery._clash import FITTING, Clash, Panels, Spot
from storyrod.model.feature import Feature
from storyrod.model.panel import Panel, PanelId

_NOT_ALL = " Not every place for them was tried: too many connectors stand in each other's way."


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


def clash_fault(clash: Clash, panels: Panels, field: str, told: Callable[[float], str], *, all_tried: bool) -> Fault:
    """Return the fault of two cuts that no moving sets apart, or none that was tried before the search ended.

    `told` writes a length with its unit.
    """
    panel = panels.slabs[clash.panel].panel
    joint_first = clash.one.owner != FITTING
    one, other = (clash.one, clash.other) if joint_first else (clash.other, clash.one)
    u, v, _ = one.at
    return Fault(
        code="clash",
        field=panel.cause or field,
        found=f"{_what(one, panels)} and {_what(other, panels)} meet in {panel.name} of case "
        f"{panel.case}, {told(u)} from its datum end and {told(v)} from its face edge",
        allowed=f"at least {told(clash.room)} of board between them",
        do=_ways_out(clash, panels) + ("" if all_tried else _NOT_ALL),
    )


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
    words = f"; likewise {where}"
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
        ways.append("other sizes of the openings, so that the two panels stand apart")
    return f"Choose {', or '.join(ways)}."
