"""How panels and lippings grow between the driest and the dampest time of the year, and what gaps it leaves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from storyrod.faults import Caution
from storyrod.measure.space import Axis
from storyrod.measure.tolerance import EXACT
from storyrod.model.detail import DetailedCase, Details
from storyrod.model.job import BoardKind, Use
from storyrod.model.panel import Grain, Panel, Role
from storyrod.model.soundness import Movement
from storyrod.model.thresholds import Thresholds
from storyrod.trade.growth import wood_growth
from storyrod.trade.moisture import sheet_movement

WIDE_SOLID: Final = 100.0
"""Solid wood narrower than this across its grain (mm) is not told; common practice, no source."""

SOLID_MOVES: Final = 1.0
"""A solid panel that is jointed all along and moves more than this (mm) is told; common practice, no source."""

NEAR: Final = 60.0
"""A panel farther from a front than this (mm) is not what it could rub against: no wider gap can be asked for."""

_FRONTS: Final = frozenset({Role.DOOR, Role.DRAWER_FRONT})


def movements_of(case: DetailedCase, details: Details) -> tuple[Movement, ...]:
    """Return how solid panels, solid lippings and inset fronts move; other sheet parts move too little to tell."""
    use = details.job.use
    found = list(_lippings(case, details, use))
    for panel in case.panels:
        solid = details.job.board(panel.board).kind is BoardKind.SOLID
        front = panel.role in _FRONTS and panel.box.high.y > EXACT  # inset: it stands behind the front edges
        if front or (solid and _across(panel)[1] > WIDE_SOLID):
            found += _panel(panel, details, use, _gaps(panel, case) if front else None)
    return tuple(found)


def _gaps(front: Panel, case: DetailedCase) -> tuple[float, float]:
    """Return both gaps of an inset front together, over and under it, and left and right of it (mm).

    Each is measured to the carcass's panel at that side where that is nearer than `NEAR`; to another front it is the
    job's gap.
    """
    gap = case.built.case.fronts.gap
    around = [p for p in case.panels if p.body == "carcass" and p.role is not Role.BACK]
    high, wide = (
        sum(min((r for r in _rooms(front, around, axis, sign) if r <= NEAR), default=gap) for sign in (-1, 1))
        for axis in (Axis.Z, Axis.X)
    )
    return high, wide


def _rooms(front: Panel, others: Iterable[Panel], axis: Axis, sign: int) -> Iterator[float]:
    """Yield the room between a front and each panel that stands beside it one way."""
    across = (Axis.Y, Axis.X if axis is Axis.Z else Axis.Z)
    for other in others:
        shared = (
            min(front.box.high.along(a), other.box.high.along(a)) - max(front.box.low.along(a), other.box.low.along(a))
            for a in across
        )
        room = (
            other.box.low.along(axis) - front.box.high.along(axis)
            if sign > 0
            else front.box.low.along(axis) - other.box.high.along(axis)
        )
        if room >= -EXACT and all(s > EXACT for s in shared):
            yield max(0.0, room)


def _across(panel: Panel) -> tuple[str, float]:
    """Which way a solid panel moves, in words, and its size that way."""
    return ("length", panel.length) if panel.grain is Grain.ACROSS else ("width", panel.width)


def _panel(panel: Panel, details: Details, use: Use, gaps: tuple[float, float] | None) -> Iterator[Movement]:
    board = details.job.board(panel.board)
    sizes = (("length", panel.length), ("width", panel.width))
    for what, size in sizes:
        if board.kind is BoardKind.SOLID:
            if what != _across(panel)[0]:
                continue
            grows, source = wood_growth(size, board.name, use.humidity_low, use.humidity_high)
        else:
            grows = sheet_movement(size, board.kind, use.humidity_low, use.humidity_high)
            source = f"{board.kind.value} in its plane: an order of magnitude, from memory"
        if grows is not None:
            is_high = (what == "length") == (panel.frame.u.axis is Axis.Z)
            way = "high" if is_high else "wide"
            gap = None if gaps is None else gaps[0 if is_high else 1]
            yield Movement(
                panel=panel.id,
                name=panel.name,
                what=f"{size:.0f} {way if gap is not None else 'across the grain'}",
                size=size,
                grows=grows,
                source=source,
                gap=gap,
                gap_left=None if gap is None else gap - grows,
            )


def _lippings(case: DetailedCase, details: Details, use: Use) -> Iterator[Movement]:
    for panel in case.panels:
        for strip in panel.edged:
            edging = details.job.edging(strip.edging)
            if not edging.solid or strip.thickness < 3:
                continue
            # A lipping's grain runs along the edge: its thickness and its height (the board's thickness) move.
            size = max(strip.thickness, panel.thickness)
            grows, source = wood_growth(size, edging.name, use.humidity_low, use.humidity_high)
            if grows is not None:
                yield Movement(
                    panel=panel.id,
                    name=panel.name,
                    what=f"{edging.name} on its {strip.surface.value}, {size:.0f} high: a step to the board",
                    size=size,
                    grows=grows,
                    source=source,
                )


def movement_cautions(
    case_name: str, case: DetailedCase, movements: tuple[Movement, ...], thresholds: Thresholds
) -> Iterator[Caution]:
    """Return a caution where an inset front may bind in damp weather, or a wide solid panel is held along its width."""
    jointed = {p.id for p in case.panels if p.body == "carcass" and p.role is not Role.BACK}
    about = thresholds.lengths.about
    for m in movements:
        if m.gap_left is not None and m.gap_left < thresholds.front_gap:
            yield Caution(
                code="movement-front-binds",
                about=f"{case_name}, {m.name}",
                text=f"It may grow {about(m.grows)} ({m.what}), which leaves {about(m.gap_left)} of both gaps "
                f"together.",
                do="Make the gap larger, or use a board that moves less. An estimate.",
                ids=(str(m.panel),),
            )
        elif m.gap is None and m.panel in jointed and m.grows > SOLID_MOVES:
            yield Caution(
                code="movement-solid-panel",
                about=f"{case_name}, {m.name}",
                text=f"Solid wood: it grows and shrinks by {about(m.grows)} over the year ({m.what}).",
                do="Run the grain of all panels that meet the same way, and fix the panel along one edge only. An "
                "estimate.",
                ids=(str(m.panel),),
            )
