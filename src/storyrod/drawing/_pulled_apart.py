"""How far each panel moves when a case is drawn pulled apart: away from whatever stands beside it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from storyrod.measure.space import AXES, Axis, Box, Point
from storyrod.model.panel import Panel, Role

_STAIR: Final = 0.42  # of a drawer's depth by which it comes farther out than the one above it
OF_A_DRAWER: Final = frozenset(
    {Role.DRAWER_FRONT, Role.DRAWER_SIDE, Role.DRAWER_BACK, Role.DRAWER_BOX_FRONT, Role.DRAWER_BOTTOM}
)
"""Panels that come out of the case with a drawer."""


def moved_apart(panels: Sequence[Panel], gap: float | None = None) -> list[Box]:
    """Return the panels' boxes moved apart, in the same order; a drawer's box moves as one.

    Along each axis a panel that has others between it and the outside moves a step outward for each of them; the two
    sides balance, so that what stands in the middle stays. A step is a sixth of the case's mean size unless set.
    Drawers below each other come out like stairs, so that each is seen whole.
    """
    units: dict[str, list[int]] = {}
    for n, panel in enumerate(panels):
        alone = panel.body in {"carcass", panel.id}
        units.setdefault(panel.id if alone else panel.body, []).append(n)
    groups = list(units.values())
    hulls = [_hull([panels[n].box for n in group]) for group in groups]
    whole = _hull([p.box for p in panels])
    step = gap if gap is not None else sum(whole.size(a) for a in AXES) / 3 / 6
    out = [p.box for p in panels]
    for axis in AXES:
        shifts = _shifts(hulls, axis)
        for group, shift in zip(groups, shifts, strict=True):
            for n in group:
                out[n] = out[n].moved(Point(0.0, 0.0, 0.0).with_(axis, shift * step))
    return _in_stairs(panels, out)


def _in_stairs(panels: Sequence[Panel], boxes: list[Box]) -> list[Box]:
    """Return the drawers of a column pulled out like stairs, the lowest the farthest, each with its front."""
    drawers: dict[str, list[int]] = {}
    for n, panel in enumerate(panels):
        if panel.role in OF_A_DRAWER:
            drawers.setdefault(panel.opening, []).append(n)
    whole = {name: _hull([panels[n].box for n in own if panels[n].role is not Role.DRAWER_FRONT] or [boxes[own[0]]])
             for name, own in drawers.items()}  # fmt: skip
    out = list(boxes)
    for name, own in drawers.items():
        mine = whole[name]
        above = sum(_is_over(other, mine) for key, other in whole.items() if key != name)
        for n in own:
            out[n] = out[n].moved(Point(0.0, 0.0, 0.0).with_(Axis.Y, -above * _STAIR * mine.size(Axis.Y)))
    return out


def _is_over(one: Box, other: Box) -> bool:
    """Whether a drawer stands over another in its column."""
    (low, high), (left, right) = one.span(Axis.X), other.span(Axis.X)
    return min(high, right) - max(low, left) > 1.0 and one.centre.z > other.centre.z


def _hull(boxes: Sequence[Box]) -> Box:
    low = Point(*(min(b.low.along(a) for b in boxes) for a in AXES))
    return Box(low, Point(*(max(b.high.along(a) for b in boxes) for a in AXES)))


def _shifts(hulls: Sequence[Box], axis: Axis) -> list[float]:
    """Steps along an axis: half the difference between how many stand before and behind in the longest row."""
    below = _ranks(hulls, axis)
    above = _ranks(hulls, axis, downward=True)
    return [(b - a) / 2 for b, a in zip(below, above, strict=True)]


def _ranks(hulls: Sequence[Box], axis: Axis, *, downward: bool = False) -> list[int]:
    """For each box, how many others stand one behind the other before it along the axis."""
    order = sorted(range(len(hulls)), key=lambda n: hulls[n].centre.along(axis), reverse=downward)
    ranks = [0] * len(hulls)
    for place, n in enumerate(order):
        for m in order[:place]:
            if _stands_before(hulls[m], hulls[n], axis):
                ranks[n] = max(ranks[n], ranks[m] + 1)
    return ranks


def _stands_before(a: Box, b: Box, axis: Axis) -> bool:
    """Whether `a` and `b` stand in a row along `axis`: beside each other there, overlapping across it."""
    for other in AXES:
        (alo, ahi), (blo, bhi) = a.span(other), b.span(other)
        common = min(ahi, bhi) - max(alo, blo)
        if other is axis:
            if common > 0.6 * min(ahi - alo, bhi - blo):  # let into each other is still beside
                return False
        elif common < 1.0:
            return False
    return True
