"""Drawers set beside a case that is drawn pulled apart, each opened up as a box of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import batched
from typing import Final

from storyrod.drawing._projection import View, corners_of
from storyrod.drawing._pulled_apart import OF_A_DRAWER, moved_apart
from storyrod.drawing._types import Place
from storyrod.measure.space import AXES, Axis, Box, Point
from storyrod.model.panel import Panel, Role

_FRONT_OFF: Final = 0.45  # of a box's depth by which its front stands off, so that the box front is seen behind it
_DEEP: Final = 0.2  # of its depth: a box higher than this hides its bottom, which is drawn below it
_BOTTOM_OFF: Final = 0.7  # of the box's height
_APART: Final = 0.1  # of the case's picture: between it and the drawers, and between drawers


@dataclass(frozen=True, slots=True)
class SetOut:
    """Where everything is drawn: the panels' boxes, and each drawer's name over it."""

    boxes: tuple[Box, ...]
    names: tuple[tuple[str, Place], ...]


def drawers_beside(panels: Sequence[Panel], view: View, room: tuple[float, float]) -> SetOut:
    """Return the panels' boxes with the case pulled apart and its drawers in columns to the right of it.

    A drawer is named by what its panels are called before their own part: `drawer 1`.
    """
    drawers: dict[str, list[int]] = {}
    for n, panel in enumerate(panels):
        if panel.role in OF_A_DRAWER:
            drawers.setdefault(panel.opening, []).append(n)
    rest = [n for n in range(len(panels)) if panels[n].role not in OF_A_DRAWER]
    out = [p.box for p in panels]
    for n, box in zip(rest, moved_apart([panels[n] for n in rest]), strict=True):
        out[n] = box
    case = _Seen.of([out[n] for n in rest], view)
    names: list[tuple[str, Place]] = []
    gap = _APART * max(case.width, case.height)
    order = sorted(drawers.values(), key=lambda own: _place_in_case([panels[n] for n in own]))
    opened = [dict(zip(own, _opened([panels[n] for n in own]), strict=True)) for own in order]
    places = _columns(case, [_Seen.of([*b.values()], view) for b in opened], gap, room)
    for boxes, (left, top) in zip(opened, places, strict=True):
        seen = _Seen.of([*boxes.values()], view)
        by = _across(view, left - seen.left, top - seen.top)
        for n, box in boxes.items():
            out[n] = box.moved(by)
        names.append((_name([panels[n] for n in boxes]), (left + seen.width / 2, top + gap * 0.3)))
    return SetOut(tuple(out), tuple(names))


@dataclass(frozen=True, slots=True)
class _Seen:
    """How far the picture of some boxes reaches."""

    left: float
    bottom: float
    right: float
    top: float

    @classmethod
    def of(cls, boxes: Sequence[Box], view: View) -> _Seen:
        places = [view.on(c) for box in boxes for c in corners_of(box)]
        across, up = [x for x, _ in places], [y for _, y in places]
        return cls(min(across), min(up), max(across), max(up))

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom


def _columns(case: _Seen, seen: Sequence[_Seen], gap: float, room: tuple[float, float]) -> list[Place]:
    """Return where the left top of each drawer's picture goes: in as many columns as make the whole largest."""
    tried = [_stacked(case, seen, gap, rows) for rows in range(1, len(seen) + 1)]

    def unit(tried_one: tuple[list[Place], float, float]) -> float:
        _, width, height = tried_one
        return max(width / room[0], height / room[1])

    return min(tried, key=unit)[0] if tried else []


def _stacked(case: _Seen, seen: Sequence[_Seen], gap: float, rows: int) -> tuple[list[Place], float, float]:
    """Return the places with so many drawers to a column, each beside the middle of the case; and how large all is."""
    places: list[Place] = []
    left, tallest = case.right + gap, case.height
    for column in batched(seen, rows):
        high = sum(one.height + gap for one in column)
        top = (case.top + case.bottom + high) / 2 - gap
        for one in column:
            places.append((left, top))
            top -= one.height + gap
        left += max(one.width for one in column) + gap
        tallest = max(tallest, high)
    return places, left - gap - case.left, tallest


def _across(view: View, right: float, up: float) -> Point:
    """Return the move in the case that moves a picture by so much on paper."""
    x = right / view.on(Point(1.0, 0.0, 0.0))[0]
    z = (up - x * view.on(Point(1.0, 0.0, 0.0))[1]) / view.on(Point(0.0, 0.0, 1.0))[1]
    return Point(x, 0.0, z)


def _opened(panels: Sequence[Panel]) -> list[Box]:
    """Return a drawer's boxes with its front off the box, and its bottom below a box that would hide it."""
    box = _hull([p.box for p in panels if p.role is not Role.DRAWER_FRONT] or [p.box for p in panels])
    deep, high = box.size(Axis.Y), box.size(Axis.Z)
    moves = {Role.DRAWER_FRONT: Point(0.0, -_FRONT_OFF * deep, 0.0)}
    if high > _DEEP * deep:
        moves[Role.DRAWER_BOTTOM] = Point(0.0, 0.0, -_BOTTOM_OFF * high)
    return [p.box.moved(moves.get(p.role, Point(0.0, 0.0, 0.0))) for p in panels]


def _place_in_case(panels: Sequence[Panel]) -> tuple[float, float]:
    """Return what drawers are in order by: column by column from the left, then downward."""
    hull = _hull([p.box for p in panels])
    return round(hull.low.x), -hull.centre.z


def _name(panels: Sequence[Panel]) -> str:
    first = min(panels, key=lambda p: p.role is not Role.DRAWER_BOTTOM)
    return first.name.removesuffix(first.role.value.removeprefix("drawer")).strip()


def _hull(boxes: Sequence[Box]) -> Box:
    low = Point(*(min(b.low.along(a) for b in boxes) for a in AXES))
    return Box(low, Point(*(max(b.high.along(a) for b in boxes) for a in AXES)))
