"""Cut-outs for pipes and cables in backs and sides: whether each has board round it and nothing in its way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.carcass._hand_holds import LEAST_EDGE
from storyrod.carcass._making import Making
from storyrod.faults import WayOut
from storyrod.measure.space import AXES, Axis, Box, PanelAxis, Point
from storyrod.measure.tolerance import EXACT, TOUCH
from storyrod.model.feature import CutOut
from storyrod.model.job import PipeCutOut, PipedPanel
from storyrod.model.obstacles import PIPE
from storyrod.model.panel import Panel, Role, Surface
from storyrod.model.removal import removed

PIPE_CLEAR: Final = 5.0
"""A cut-out for a pipe keeps so far from panels that meet its own, and from other cuts (mm); common practice, no
source."""

_IN: Final = {PipedPanel.BACK: Role.BACK, PipedPanel.LEFT: Role.SIDE_LEFT, PipedPanel.RIGHT: Role.SIDE_RIGHT}


def cut_for_pipes(making: Making) -> None:
    """Cut what pipes and cables pass, or note why one cannot be there."""
    for number, asked in enumerate(making.case.cut_outs, start=1):
        panel = next((p for p in making.panels.values() if p.role is _IN[asked.panel]), None)
        if panel is None:
            making.fault(
                "pipe-panel",
                f"{asked.field}.panel",
                found=f'"{asked.panel.value}" in a case without one',
                allowed="a panel that the case has",
                do="Give the case a back, or leave this cut-out out.",
                ways=(WayOut(field=asked.field, value=None),),
            )
        elif _fits(making, asked, panel):
            _cut(making, asked, panel, number)
    if making.case.cut_outs:
        making.caution(
            "pipes",
            f"case {making.case.code}",
            "Pipes or cables pass this case.",
            "Mark its cut-outs from the wall itself, and shut off what runs there before you push the case back. "
            "Leave gas, water and wiring to a licensed tradesperson; local codes come first.",
        )


def _span(asked: PipeCutOut) -> tuple[float, float]:
    """Return its width and height."""
    return asked.width, asked.width if asked.height is None else asked.height


def _room(asked: PipeCutOut, panel: Panel) -> Box:
    """Return the box that the cut-out takes, through the whole panel."""
    wide, high = _span(asked)
    flat = Axis.X if panel.role is Role.BACK else Axis.Y
    box = panel.box.with_span(flat, asked.across - wide / 2, asked.across + wide / 2)
    return box.with_span(Axis.Z, asked.up - high / 2, asked.up + high / 2)


def _fits(making: Making, asked: PipeCutOut, panel: Panel) -> bool:
    room, flat = _room(asked, panel), Axis.X if panel.role is Role.BACK else Axis.Y
    for axis, name, size in ((flat, "across", _span(asked)[0]), (Axis.Z, "up", _span(asked)[1])):
        low, high = panel.box.span(axis)
        least, most = low + LEAST_EDGE + size / 2, high - LEAST_EDGE - size / 2
        if room.span(axis)[0] < low + LEAST_EDGE - EXACT or room.span(axis)[1] > high - LEAST_EDGE + EXACT:
            allowed = f"{making.least(least)} to {making.most(most)}" if least <= most else "a smaller cut-out"
            making.fault(
                "pipe-edge",
                f"{asked.field}.{name}",
                found=f"{making.mm(getattr(asked, name))}, for {making.mm(size)} in the {panel.name}",
                allowed=f"{allowed}, so that {making.mm(LEAST_EDGE)} of board is left round it",
                do="Move it, make it smaller, or notch the panel by hand there.",
                ways=(making.at_least(least) if room.span(axis)[0] < low + LEAST_EDGE else making.at_most(most),)
                if least <= most
                else (),
            )
            return False
    met = next(_met(making, room, panel), None)
    if met is not None:
        making.fault(
            "pipe-meets",
            f"{asked.field}.{'across' if panel.role is Role.BACK else 'up'}",
            found=f"a cut-out in the {panel.name} that meets {met}",
            allowed=f"{making.mm(PIPE_CLEAR)} clear of it",
            do="Move the cut-out, or what it meets.",
        )
    return met is None


def _met(making: Making, room: Box, panel: Panel) -> Iterator[str]:
    """Yield what stands against the panel, or is cut in it, where the cut-out is to be."""
    around = room
    for axis in AXES:
        low, high = room.span(axis)
        by = TOUCH if axis is panel.frame.into.axis else PIPE_CLEAR
        around = around.with_span(axis, low - by, high + by)
    for other in making.panels.values():
        if other.id != panel.id and other.box.intersects(around, 0.0) and other.role not in _MAY_PASS:
            yield other.name
    for feature in making.fittings[panel.id]:
        for bar in (solid.bounds for solid in removed(feature)):
            one, far = panel.frame.to_case(bar.low), panel.frame.to_case(bar.high)
            spans = [(min(one.along(a), far.along(a)), max(one.along(a), far.along(a))) for a in AXES]
            box = Box(Point(*(s[0] for s in spans)), Point(*(s[1] for s in spans)))
            if box.intersects(around, 0.0):
                yield f"a {feature.kind}, {feature.why}"


_MAY_PASS: Final = frozenset({Role.DOOR, Role.DRAWER_FRONT, Role.WORKTOP})
"""What never stands against a back or side."""


def _cut(making: Making, asked: PipeCutOut, panel: Panel, number: int) -> None:
    wide, high = _span(asked)
    upright = high > wide + EXACT
    flat = PanelAxis.U if panel.role is Role.BACK else PanelAxis.V  # of the panel, along which it is `across`
    tall = PanelAxis.V if panel.role is Role.BACK else PanelAxis.U
    long, short = max(wide, high), min(wide, high)
    shape = CutOut(
        outline="round" if long - short < EXACT else "slot",
        length=long,
        height=short,
        corner=short / 2,
        depth=panel.thickness,
        run=tall if upright else flat,
    )
    at = panel.box.centre.with_(Axis.Z, asked.up)
    at = at.with_(Axis.X if panel.role is Role.BACK else Axis.Y, asked.across)
    making.cut(panel, f"pipe-{number}", Surface.FACE, at, shape, why="lets a pipe or cable pass", item=PIPE)
