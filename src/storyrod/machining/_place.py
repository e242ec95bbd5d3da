"""Where each cut of an operation lies, by its walls and ends, and where its straight edge is clamped."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.machining._needs import Need
from storyrod.machining._settings import Placed
from storyrod.measure.space import PanelAxis
from storyrod.model.feature import Channel, CutOut
from storyrod.model.machining import CutPlace
from storyrod.model.mark import Mark
from storyrod.model.panel import surface_at
from storyrod.model.workshop import Registration

STRAIGHT_EDGE: Final = 60.0
"""Width of the straight edge that is clamped to the panel (mm); common practice, no source."""

STOP_ROOM: Final = 20.0
"""Room on the panel for a stop block (mm); common practice, no source."""

_FLUSH: Final = 0.05


def places_of(placed: Placed) -> Iterator[CutPlace]:
    """Yield the place of each cut that is set by its walls, or whose tool runs against a straight edge."""
    need = placed.made.need
    for mark in need.marks:
        shape = mark.feature.shape
        if isinstance(shape, Channel):
            yield _channel_place(placed, mark, shape)
        elif isinstance(shape, CutOut) and shape.outline == "notch":
            yield _notch_place(need, mark, shape)
    if placed.mode == "line" and not placed.setting.jig and placed.setting.reference_to_centre is not None:
        yield _line_place(placed)


def _coordinate(mark: Mark, axis: PanelAxis) -> float:
    return {PanelAxis.U: mark.u, PanelAxis.V: mark.v, PanelAxis.W: mark.w}[axis]


def _channel_place(placed: Placed, mark: Mark, shape: Channel) -> CutPlace:
    need = placed.made.need
    centre = _coordinate(mark, need.across)
    middle = _coordinate(mark, need.along)
    walls = (centre - shape.width / 2, centre + shape.width / 2)
    ends = (middle - shape.length / 2, middle + shape.length / 2)
    edge, beyond_far, off = _straight_edge(placed, walls)
    return CutPlace(
        feature=mark.feature.id,
        across_from=surface_at(need.across, far=False),
        centre=centre,
        walls=walls,
        along_from=surface_at(need.along, far=False),
        ends=ends,
        stopped=shape.stopped,
        straight_edge=edge,
        beyond=None if edge is None else surface_at(need.across, far=beyond_far),
        off_board=off,
        base_stops=_base_stops(placed, shape, ends),
    )


def _straight_edge(placed: Placed, walls: tuple[float, float]) -> tuple[float | None, bool, bool]:
    """Return where the straight edge lies, whether beyond the far wall, and whether it hangs over the panel.

    It lies where the whole of it rests on the board, rather toward the datum; on a rebate always on the board's side.
    Its place is the wall as printed less the setting as printed, so that the three figures on paper agree.
    """
    setting, need = placed.setting, placed.made.need
    if setting.registration is not Registration.LINE or setting.fence is None:
        return None, False, False
    extent, printed = need.panel.extent(need.across), need.lengths.printed
    fence = printed(setting.fence)
    low, high = printed(walls[0]) - fence, printed(walls[1]) + fence
    room_low, room_high = low - STRAIGHT_EDGE, extent - high - STRAIGHT_EDGE
    far = walls[0] < _FLUSH if need.kind == "rebate" else room_low < 0 and room_high > room_low
    at, room = (high, room_high) if far else (low, room_low)
    return round(at, 6), far, room < -_FLUSH


def _base_stops(placed: Placed, shape: Channel, ends: tuple[float, float]) -> tuple[float | None, float | None]:
    """Return where the base of a router meets a stop at each stopped end, where a stop can be clamped to the panel."""
    setting = placed.setting
    if setting.registration is not Registration.LINE or setting.fence is None:
        return None, None
    printed = placed.made.need.lengths.printed
    fence = printed(setting.fence)
    low, high = round(printed(ends[0]) - fence, 6), round(printed(ends[1]) + fence, 6)
    extent = placed.made.need.panel.extent(placed.made.need.along)
    return (
        low if shape.stopped[0] and low >= STOP_ROOM else None,
        high if shape.stopped[1] and high <= extent - STOP_ROOM else None,
    )


def _notch_place(need: Need, mark: Mark, shape: CutOut) -> CutPlace:
    """A notch's `at` is the middle of its side on the edge that it is open to; `height` goes in from there."""
    u, v = (_coordinate(mark, axis) for axis in (PanelAxis.U, PanelAxis.V))
    run_u = shape.run is PanelAxis.U
    along, across = (u, v) if run_u else (v, u)
    across_axis = PanelAxis.V if run_u else PanelAxis.U
    inward = 1 if across < need.panel.extent(across_axis) / 2 else -1
    return CutPlace(
        feature=mark.feature.id,
        across_from=surface_at(across_axis, far=False),
        centre=across,
        walls=tuple(sorted((across, across + inward * shape.height))),  # type: ignore[arg-type]  # two of them
        along_from=surface_at(PanelAxis.U if run_u else PanelAxis.V, far=False),
        ends=(along - shape.length / 2, along + shape.length / 2),
    )


def _line_place(placed: Placed) -> CutPlace:
    """Where a straight edge lies against which a tool's base or fence stands for a line of cuts.

    It lies on the line of the mate's face, or off it by as much as the packer makes up; without a packer both halves
    are off by the same, and still meet.
    """
    need, reference, setting = placed.made.need, placed.made.reference, placed.setting
    grows = need.panel.frame.direction(need.across)
    far = reference.toward == grows
    base, packer = setting.reference_to_centre or 0.0, setting.packer
    line = reference.line_at if reference.line_at is not None else need.at
    off = base - reference.wanted if packer is not None and packer.made > 0 else 0.0
    line, off = need.lengths.printed(line), need.lengths.printed(off)
    return CutPlace(
        feature=need.marks[0].feature.id,
        across_from=surface_at(need.across, far=False),
        centre=need.at,
        straight_edge=round(line + (off if far else -off), 6),
        beyond=surface_at(need.across, far=far),
    )
