"""Which lines of caution a set-up card carries, by tool, cutter and board; the sentences are in `model.bench_lines`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from storyrod.measure.writing import LengthWriter
from storyrod.model.bench_lines import LEAST_CORE, POWERED, BenchLine, LineKind, bench_line, length_gaps
from storyrod.model.feature import Channel, CutOut, Hole, Keyhole, Shape, Slot, UndercutSlot
from storyrod.model.feed import FeedKind
from storyrod.model.job import BoardKind
from storyrod.model.machining import Setting, Wall
from storyrod.model.workshop import Registration, ToolKind

_BY_TOOL: Final[dict[ToolKind, tuple[LineKind, ...]]] = {
    ToolKind.ROUTER: (LineKind.WORK_HELD, LineKind.CUTTER_IN_COLLET),
    ToolKind.ROUTER_TABLE: (LineKind.ROUTER_TABLE, LineKind.CUTTER_IN_COLLET),
    ToolKind.DISC_CUTTER: (LineKind.WORK_HELD, LineKind.PLUNGING_TOOL),
    ToolKind.LOOSE_TENON_CUTTER: (LineKind.WORK_HELD, LineKind.PLUNGING_TOOL),
    ToolKind.UNDERCUT_CUTTER: (LineKind.WORK_HELD, LineKind.PLUNGING_TOOL),
    ToolKind.HAND_DRILL: (LineKind.DRILL,),
    ToolKind.DRILL_PRESS: (LineKind.DRILL_PRESS,),
    ToolKind.DRILL_JIG: (LineKind.DRILL,),
    ToolKind.POCKET_JIG: (LineKind.DRILL,),
    ToolKind.TABLE_SAW: (
        *(LineKind.GROOVE_MACHINE, LineKind.GROOVE_GUARD, LineKind.GROOVE_DROP, LineKind.TABLE_SAW_PUSH),
        LineKind.KICKBACK,
    ),
    ToolKind.TRACK_SAW: (LineKind.TRACK_SAW,),
    ToolKind.HAND_SAW: (LineKind.HAND_SAW,),
    ToolKind.JIGSAW: (LineKind.WORK_HELD, LineKind.JIGSAW),
    ToolKind.NC_ROUTER: (LineKind.PROGRAM,),
}

_BY_HAND: Final = (ToolKind.HAND_SAW,)
_ROUTERS: Final = (ToolKind.ROUTER, ToolKind.ROUTER_TABLE, ToolKind.NC_ROUTER)
_FIBREBOARD: Final = {BoardKind.MDF, BoardKind.CHIPBOARD, BoardKind.FACED_CHIPBOARD}


def cautions_for(
    setting: Setting, kinds: Iterable[BoardKind], shape: Shape, lengths: LengthWriter, *, cap: float
) -> tuple[BenchLine, ...]:
    """Return the lines for one set-up, the closing line last.

    Args:
        kinds: of the boards that are cut.
        shape: of the cut.
        lengths: how the job writes a length.
        cap: the deepest pass that the workshop allows.
    """
    gaps = length_gaps(lengths)
    powered = setting.tool_kind not in _BY_HAND
    lines = [
        *(bench_line(kind, **gaps) for kind in _BY_TOOL[setting.tool_kind]),
        *(_router_lines(setting, shape, lengths, cap) if setting.tool_kind in _ROUTERS else ()),
        *((bench_line(kind) for kind in POWERED) if powered else ()),
        *((bench_line(LineKind.DUST_FIBREBOARD),) if powered and _FIBREBOARD & set(kinds) else ()),
        bench_line(LineKind.REMINDER),
    ]
    return tuple(lines)


def _router_lines(setting: Setting, shape: Shape, lengths: LengthWriter, cap: float) -> Iterator[BenchLine]:
    deep, beside = setting.passes
    if deep > 1:
        step = lengths.told((setting.plunge - setting.guide) / deep)
        yield bench_line(LineKind.DEPTH, step=step, cap=lengths.told(cap), passes=f"{deep} passes")
    if setting.speed_rpm:
        diameter = lengths.bought(setting.cutter_diameter)
        yield bench_line(LineKind.SPEED, rpm=f"{setting.speed_rpm:,}", diameter=diameter)
    if beside > 1:
        first = setting.beside[0].wall
        by_strip = setting.registration is Registration.LINE
        far = first is Wall.FAR or (first is Wall.OPEN and by_strip)
        yield bench_line(LineKind.WIDEN_FAR_FIRST if far else LineKind.WIDEN_NEAR_FIRST)
    if setting.tool_kind is ToolKind.ROUTER_TABLE and isinstance(shape, Channel) and any(shape.stopped):
        yield bench_line(LineKind.STOPPED_ON_TABLE)
    if setting.bush is not None:
        yield bench_line(LineKind.TEMPLATE)
    core = _core(setting, shape)
    if core > 0:
        is_large = setting.through and core >= LEAST_CORE
        yield bench_line(LineKind.CORE_SCREWED if is_large else LineKind.CORE_CLEARED, width=lengths.about(core))
    if isinstance(shape, Keyhole | UndercutSlot):
        yield bench_line(LineKind.UNDERCUT)


def _core(setting: Setting, shape: Shape) -> float:
    """Return the width of what stands within a router's way round an opening (mm); 0 where nothing is left."""
    if setting.feed is None or setting.feed.kind is not FeedKind.ROUND_OPENING:
        return 0.0
    if isinstance(shape, Hole):
        width = shape.diameter
    elif isinstance(shape, Slot):
        width = min(shape.width, shape.length)
    elif isinstance(shape, CutOut):
        width = shape.length if shape.outline == "round" else min(shape.length, shape.height)
    else:
        return 0.0
    return max(0.0, width - 2 * setting.cutter_diameter)
