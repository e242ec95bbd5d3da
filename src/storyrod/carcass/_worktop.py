"""A worktop on a case: whether it can lie there, its blank, and the holes through which it is screwed on from below.

Solid wood is held fast in front alone; behind it the screws stand in slots, which let it grow and shrink. Sheet
material moves by less than a screw has play in its hole.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from storyrod.carcass._drawer_box import FIXING_HOLE
from storyrod.carcass._fixings import Draft, Driven
from storyrod.carcass._making import Blank, Making, box_of
from storyrod.carcass._shell import Shell, rails_are_upright
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.space import Axis, PanelAxis, Point
from storyrod.model.feature import CutOut, Feature, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.job import BetweenOrOver, BoardKind, Worktop
from storyrod.model.panel import Grain, Panel, Role, Surface
from storyrod.trade.growth import room_for_growth

FROM_FRONT: Final = 50.0
"""The first row of screws stands so far behind the front edge (mm): clear of inset fronts; no source."""

FROM_BACK: Final = 50.0
"""The last row stands so far before the back (mm): clear of what holds it. Common practice, no source."""

FROM_SIDE: Final = 75.0
"""Screws stand so far from the sides (mm): clear of their joints, room for a driver; common practice, no source."""

SCREWS_APART: Final = 400.0
"""Screws of a worktop are no farther apart than this (mm); common practice, no source."""

BESIDE: Final = 20.0
"""A driver needs so much room beside a divider (mm); common practice, no source."""

LEAST_BITE: Final = 9.0
"""A screw that goes less deep into a worktop than this (mm) does not hold it; common practice, no source."""

SLOT_WIDE: Final = 8.0
"""Slots for the screws of solid wood are so wide (mm), as a straight cutter; common practice, no source."""

WASHER: Final = "washer 4.3 x 16"
WASHER_MM: Final = 1.0
"""What lies over a slot under the head of a screw, and how thick it is; common practice, no source."""

MOVES: Final = 1.0
"""A worktop that grows by less than this between two rows of screws (mm) has play enough in its holes; no source."""

NARROWEST: Final = 40.0
"""A rail takes screws where so much of its width is free before the back (mm); common practice, no source."""


def check_worktop(making: Making) -> None:
    """Note why a worktop cannot lie on the case as it is written: one reason at a time."""
    case, worktop = making.case, making.case.worktop
    if worktop is None:
        return
    way = WayOut(field=worktop.field, value=None)
    if case.hung is not None:
        making.fault(
            "worktop-hung",
            worktop.field,
            found="a worktop on a case that hangs on a wall",
            allowed="a worktop, or a case that hangs",
            do="Let the case stand, or give it a top over its sides instead: anyone leaning on a worktop would pull "
            "it off the wall.",
            ways=(way, WayOut(field=case.hung.field, value=None)),
        )
    elif case.top is BetweenOrOver.NONE or rails_are_upright(making):
        flat = case.top is BetweenOrOver.RAILS
        making.fault(
            "worktop-seat",
            making.path("rails_stand" if flat else "top"),
            found=f"a worktop over {'upright rails' if flat else 'no top'}, which its screws do not pass",
            allowed='a top "between sides" or "over sides", or "rails" that lie "flat"',
            do="Lay the rails flat." if flat else "Give the case rails, or a top, to screw the worktop down through.",
            ways=(WayOut(field="", value="flat"),)
            if flat
            else tuple(WayOut(field="", value=t.value) for t in (BetweenOrOver.RAILS, BetweenOrOver.BETWEEN_SIDES)),
        )


def add_worktop(making: Making) -> None:
    """Put the worktop on the case, with its overhangs."""
    case, worktop, unit = making.case, making.case.worktop, making.job.unit
    if worktop is None:
        return
    board = making.board(worktop.board)
    ends = (Surface.DATUM_END, Surface.FAR_END)
    making.add(
        Blank(
            suffix="worktop",
            role=Role.WORKTOP,
            name="worktop",
            board=board,
            box=box_of(
                (-worktop.left, case.width + worktop.right),
                (-worktop.front, case.depth + worktop.back),
                (case.height, case.height + board.measured),
            ),
            sums=(
                told(unit, case.width, Term(1, worktop.left), Term(1, worktop.right)),
                told(unit, case.depth, Term(1, worktop.front), Term(1, worktop.back)),
            ),
            cause=worktop.field,
            body="",
            edged=(Surface.FACE_EDGE, *((Surface.FAR_EDGE,) if worktop.edged_back else ()), *ends),
        )
    )


def fix_worktop(making: Making, shell: Shell) -> None:
    """Bore the top, or the flat rails, for the screws that hold the worktop from below."""
    worktop = making.case.worktop
    top = making.panels.get(making.id_of("worktop"))
    if worktop is None or top is None:
        return
    rows = list(_rows(making, shell))
    if len(rows) < 2:
        making.fault(
            "worktop-rows",
            making.path("rail_width" if making.case.top is BetweenOrOver.RAILS else "depth"),
            found=f"room for {'one row' if rows else 'no row'} of screws under the worktop, before the back",
            allowed=f"two rows: rails with {making.mm(NARROWEST)} of their width before the back, or a top "
            f"{making.mm(FROM_FRONT + FROM_BACK + NARROWEST)} deep before it",
            do="Make the rails wider or the case deeper, set the back in by less, or leave the worktop out.",
            ways=(WayOut(field=worktop.field, value=None),),
        )
        return
    first = rows[0][1]
    by_panel: dict[str, tuple[Panel, list[float]]] = {}
    for panel, y in rows:
        by_panel.setdefault(panel.id, (panel, []))[1].append(y)
    moves = any(_slack(making, top, y - first) for _, y in rows)
    for panel, levels in by_panel.values():
        cuts = [_cut(making, panel, (x, y), _slack(making, top, y - first), n) for n, (x, y) in enumerate(
            ((x, y) for y in levels for x in _along(making, shell, panel)), start=1)]  # fmt: skip
        _screw(making, worktop, top, panel, cuts, moves=moves)


def _rows(making: Making, shell: Shell) -> Iterator[tuple[Panel, float]]:
    """Yield the panels that carry screws, with how far behind the front edge each row stands (case y)."""
    rear = shell.inside.high.y
    own = [
        p for p in making.panels.values() if p.role is Role.TOP or (p.role is Role.RAIL and p.frame.u.axis is Axis.X)
    ]
    for panel in sorted(own, key=lambda p: p.box.low.y):
        low, high = panel.box.low.y, min(panel.box.high.y, rear)
        if panel.role is Role.RAIL:
            if high - low >= NARROWEST:
                yield panel, (low + high) / 2
            continue
        last = high - FROM_BACK
        if last - FROM_FRONT < NARROWEST:
            continue
        count = max(2, math.ceil((last - FROM_FRONT) / SCREWS_APART) + 1)
        for n in range(count):
            yield panel, FROM_FRONT + n * (last - FROM_FRONT) / (count - 1)


def _along(making: Making, shell: Shell, panel: Panel) -> list[float]:
    """Return where a row's screws stand from side to side (case x), clear of what stands under the panel."""
    low, high = shell.inside.low.x, shell.inside.high.x
    end = min(FROM_SIDE, (high - low) / 4)
    count = max(2, math.ceil((high - low - 2 * end) / SCREWS_APART) + 1)
    under = [
        p.box.span(Axis.X)
        for p in making.panels.values()
        if p.role is Role.DIVIDER and abs(p.box.high.z - panel.box.low.z) < 1.0
    ]
    found = []
    for n in range(count):
        x = low + end + n * (high - low - 2 * end) / (count - 1)
        met = next((s for s in under if s[0] - BESIDE < x < s[1] + BESIDE), None)
        found.append(x if met is None else met[0] - BESIDE if x <= (met[0] + met[1]) / 2 else met[1] + BESIDE)
    return found


def _slack(making: Making, top: Panel, away: float) -> float:
    """Return how far a solid worktop may move at a row so far behind the one that holds it fast; 0 for what does not.

    Its grain runs from end to end, so that it moves from front to back.
    """
    board, use = making.job.board(top.board), making.job.use
    if board.kind is not BoardKind.SOLID or top.grain is Grain.ACROSS or away <= 0:
        return 0.0
    grows = room_for_growth(away, board.name, use.humidity_low, use.humidity_high)
    return float(math.ceil(grows)) if grows >= MOVES else 0.0


def _cut(making: Making, panel: Panel, at: tuple[float, float], slack: float, number: int) -> Feature:
    shape: Hole | CutOut = Hole(diameter=FIXING_HOLE, depth=panel.thickness, through=True)
    if slack:
        shape = CutOut(
            outline="slot",
            length=SLOT_WIDE + 2 * slack,
            height=SLOT_WIDE,
            corner=0.0,
            depth=panel.thickness,
            run=PanelAxis.V,
        )
    return making.cut(
        panel,
        f"worktop-screw-{number}",
        Surface.FAR_FACE,
        Point(at[0], at[1], panel.box.low.z),
        shape,
        why="screw of the worktop",
        item="worktop screw",
    )


def _screw(making: Making, worktop: Worktop, top: Panel, panel: Panel, cuts: list[Feature], *, moves: bool) -> None:
    under = WASHER_MM if moves else 0.0
    making.drafts.append(
        Draft(
            kind=FixingKind.WORKTOP,
            panel=top,
            about=panel.id,
            item=WASHER if moves else "",
            name=top.name,
            where="worktop",
            cause=worktop.field,
            count=len(cuts),
            features=tuple(cuts),
            driven=Driven(
                code=worktop.fixed_with or making.workshop.front_screw,
                count=len(cuts),
                seat=panel.thickness + under,
                board=top.thickness,
                room=top.thickness - making.job.limits.skin - under,
                place=f"{worktop.field}.board",
                least=LEAST_BITE,
            ),
        )
    )
    if moves:
        making.stock(WASHER, WASHER, len(cuts), "piece", "worktop", worktop.field)
