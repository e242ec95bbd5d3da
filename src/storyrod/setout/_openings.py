"""Openings as they come out between the lines as marked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from storyrod.measure.space import AXES, Axis, Box, Point
from storyrod.measure.tolerance import TOUCH
from storyrod.model.carcass import OpeningPlace
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import Panel, PanelId
from storyrod.setout._standing import STILL


def marked_openings(case: DetailedCase, moves: Mapping[PanelId, Point]) -> tuple[OpeningPlace, ...]:
    """Return the openings with the clear boxes that panels leave when they are put to their marked lines.

    `moves` says how far each panel's line moves, in the case frame, by rounding; others stay.
    """
    moved = [(p, moves[p.id]) for p in case.panels if moves.get(p.id, STILL) != STILL]
    return tuple(_with_ends_moved(o, moved) for o in case.built.openings)


def _with_ends_moved(opening: OpeningPlace, moved: list[tuple[Panel, Point]]) -> OpeningPlace:
    box = opening.box
    for panel, move in moved:
        axis: Axis = panel.frame.into.axis
        if not _beside(opening.box, panel.box, axis):
            continue
        low, high = box.span(axis)
        by = move.along(axis)
        if abs(panel.box.high.along(axis) - opening.box.low.along(axis)) <= TOUCH:
            low += by
        elif abs(panel.box.low.along(axis) - opening.box.high.along(axis)) <= TOUCH:
            high += by
        box = box.with_span(axis, low, high)
    return opening if box is opening.box else replace(opening, box=box)


def _beside(one: Box, other: Box, axis: Axis) -> bool:
    """Return whether two boxes lie side by side along an axis."""
    return all(
        min(one.high.along(a), other.high.along(a)) - max(one.low.along(a), other.low.along(a)) > TOUCH
        for a in AXES
        if a is not axis
    )
