"""Loose shelves and their rows of pin holes, on the 32 mm system.

A row is a level: one hole in each of two columns on both bounding uprights. Rows stand `pitch` apart, at least
`margin` from either end of the opening, as many as fit, symmetric about the opening's middle. Where they would meet
holes from the other face of a divider, one row fewer is bored, which moves all of them by half a pitch and keeps
them symmetric; where that meets them too, all move by a quarter of a pitch more, up or down. A row that still meets
something is left out whole, so that every row left can be used. Where the job asks for so many rows above and below
each shelf, no others are bored.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from storyrod.carcass._bores import Bore, in_the_way, meets
from storyrod.carcass._fixings import Draft
from storyrod.carcass._inside import DOORS, Bay, inner_front, stands_inset
from storyrod.carcass._making import Blank, Making, box_of
from storyrod.carcass._shell import LEAST_INSIDE
from storyrod.carcass._sums import Term, told
from storyrod.faults import WayOut
from storyrod.measure.space import PanelPoint, Point
from storyrod.measure.tolerance import EXACT
from storyrod.model.carcass import Clearance, ClearanceKind
from storyrod.model.feature import SHELF_PIN, Feature, Hole
from storyrod.model.fixing import FixingKind
from storyrod.model.job import LooseShelves
from storyrod.model.panel import Panel, Role, Surface

LEAST_PIN = 8.0
"""Pin holes less deep than this (mm) let pins tip; common practice, no source. Where a board is too thin for the depth
asked for, as much is bored as leaves the job's `skin`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Column:
    """One column of holes: its upright, the face it is bored from, its place (y), what may be in the way, its depth."""

    panel: Panel
    surface: Surface
    y: float
    near: tuple[Feature, ...]
    depth: float


def add_loose_shelves(making: Making, bay: Bay) -> None:
    """Put the bay's loose shelves in their places, and bore their rows of pin holes."""
    if bay.node.loose_shelves <= 0 or bay.left.is_open or bay.right.is_open:
        return
    columns = _columns(making, bay)
    rows = _rows(making, bay, columns) if columns else ()
    levels = _levels(making, bay, rows, making.board(making.case.loose_shelves.board).measured) if rows else ()
    if levels:
        bored = _in_zones(making.case.loose_shelves, rows, levels)
        _add_shelves(making, bay, levels, bored, _bore(making, bay, columns, bored))


def _in_zones(asked: LooseShelves, rows: tuple[float, ...], levels: tuple[float, ...]) -> tuple[float, ...]:
    """Return the rows that are bored: all of them, or so many above and below the row under each shelf."""
    reach = asked.rows_each_way
    if reach is None:
        return rows
    under = [rows.index(level) for level in levels]
    return tuple(z for i, z in enumerate(rows) if any(abs(i - own) <= reach for own in under))


def row_count(clear: float, margin: float, pitch: float) -> int:
    """Return how many rows fit between the margins of an opening `clear` high."""
    room = clear - 2 * margin
    return int((room + EXACT) // pitch) + 1 if room >= -EXACT else 0


def _columns(making: Making, bay: Bay) -> tuple[_Column, ...]:
    """Return the four columns, or none after noting that the bay is too shallow or its uprights too thin."""
    asked, skin = making.case.loose_shelves, making.job.limits.skin
    front = _front_edge(making, bay) + asked.from_front
    back = bay.box.high.y - asked.from_back
    if back - front < asked.pitch - EXACT:
        making.fault(
            "pin-columns",
            making.path("depth"),
            found=f"{making.mm(bay.box.high.y - _front_edge(making, bay))} deep in {bay.name}",
            allowed=f"at least {making.least(asked.from_front + asked.from_back + asked.pitch)} "
            "for two columns of holes",
            do="Make the case deeper, or set the columns nearer to the front and back edges.",
            ways=(making.at_least(making.case.depth + asked.pitch - (back - front)),),
        )
        return ()
    columns: list[_Column] = []
    for bound, toward in ((bay.left, "+x"), (bay.right, "-x")):
        if bound.panel is None:
            return ()
        panel = making.panels[bound.panel]
        depth = min(asked.hole_depth, panel.thickness - skin)
        if depth < min(LEAST_PIN, asked.hole_depth) - EXACT:
            making.fault(
                "pin-depth",
                f"{asked.field}.hole_depth",
                found=f"{making.mm(asked.hole_depth)} in {panel.name}, {making.mm(panel.thickness)} thick",
                allowed=f"boards of {making.mm(LEAST_PIN + skin)} or more",
                do="Choose a thicker board.",
                ways=(WayOut(field=f"{bay.node.field}.loose_shelves", value=None),),
            )
            return ()
        for y in (front, back):
            v = y - panel.box.low.y
            near = in_the_way(making, panel, v - asked.hole, v + asked.hole)
            columns.append(_Column(panel=panel, surface=panel.surface_toward(toward), y=y, near=near, depth=depth))
    return tuple(columns)


def _front_edge(making: Making, bay: Bay) -> float:
    """Return where the front column is measured from: the front edge, or the back of an inset door."""
    fronts = making.case.fronts
    if bay.node.holds in DOORS and stands_inset(making, bay):
        return fronts.back + making.board(fronts.board).measured
    return bay.box.low.y


def _rows(making: Making, bay: Bay, columns: tuple[_Column, ...]) -> tuple[float, ...]:
    """Return the heights of the rows, or none after noting why there can be none."""
    asked = making.case.loose_shelves
    count = row_count(bay.height, asked.margin, asked.pitch)
    best: tuple[float, ...] = ()
    for n, moved in ((count, 0.0), (count - 1, 0.0), (count - 1, 0.25), (count - 1, -0.25)):
        if n <= 0:
            continue
        start = (bay.box.low.z + bay.box.high.z - (n - 1) * asked.pitch) / 2 + moved * asked.pitch
        levels = tuple(start + i * asked.pitch for i in range(n))
        clear = tuple(z for z in levels if _is_clear(making, asked, columns, z))
        if len(clear) > len(best):
            best = clear
        if len(clear) == n:
            break
    if len(best) < bay.node.loose_shelves:
        least = 2 * asked.margin + (bay.node.loose_shelves - 1) * asked.pitch
        making.fault(
            "pin-rows",
            f"{bay.node.field}.loose_shelves",
            found=f"{bay.node.loose_shelves} in {bay.name}, {making.mm(bay.height)} high, "
            f"with room for {len(best)} rows of pins",
            allowed=f"at least {making.least(least)} clear height, with nothing else drilled where the pins go",
            do="Ask for fewer loose shelves, make the opening higher, or make the margin smaller.",
            ways=_fewer(making, bay, len(best)),
        )
        return ()
    return best


def _is_clear(making: Making, asked: LooseShelves, columns: tuple[_Column, ...], z: float) -> bool:
    for column in columns:
        if not column.near:
            continue
        at = column.panel.frame.to_panel(Point(column.panel.box.low.x, column.y, z))
        bore = Bore(surface=column.surface, at=PanelPoint(at.u, at.v, 0.0), diameter=asked.hole, depth=column.depth)
        if meets(making, column.panel, bore, column.near):
            return False
    return True


type _Bored = tuple[tuple[_Column, tuple[Feature, ...]], ...]
"""Each column with its holes, from the lowest row up."""


def _bore(making: Making, bay: Bay, columns: tuple[_Column, ...], rows: tuple[float, ...]) -> _Bored:
    asked = making.case.loose_shelves
    number = bay.id.split(".", 1)[1]
    bored = []
    for c, column in enumerate(columns):
        place = "back" if c % 2 else "front"
        shape = Hole(diameter=asked.hole, depth=column.depth)
        holes = tuple(
            making.cut(
                column.panel,
                f"{number}-pin-{place}-{i}",
                column.surface,
                Point(0.0, column.y, z),
                shape,
                why=f"shelf pin, row {i} of {bay.name}",
                item=SHELF_PIN,
                pattern=f"{bay.id}-pins",
            )
            for i, z in enumerate(rows, start=1)
        )
        bored.append((column, holes))
    return tuple(bored)


def _note_pins(making: Making, bay: Bay, shelf: Panel, bored: _Bored, row: int) -> None:
    """Note the pins that a shelf lies on, upright by upright."""
    for upright in dict.fromkeys(c.panel.id for c, _ in bored):
        holes = tuple(h[row] for c, h in bored if c.panel.id == upright)
        making.drafts.append(
            Draft(
                kind=FixingKind.SHELF_PIN,
                panel=making.panels[upright],
                about=shelf.id,
                item=SHELF_PIN,
                name=f"pins of {shelf.name}, row {row + 1} from below",
                where=bay.name,
                cause=bay.node.field,
                count=len(holes),
                features=holes,
            )
        )


def _add_shelves(making: Making, bay: Bay, levels: tuple[float, ...], rows: tuple[float, ...], bored: _Bored) -> None:
    asked, unit, node = making.case.loose_shelves, making.job.unit, bay.node
    board = making.board(asked.board)
    front = inner_front(making, bay) + asked.set_back
    y = (front, bay.box.high.y - asked.behind)
    x = (bay.box.low.x + asked.slack, bay.box.high.x - asked.slack)
    if min(x[1] - x[0], y[1] - y[0]) < LEAST_INSIDE:
        making.fault(
            "loose-shelf-size",
            asked.field,
            found=f"a loose shelf {making.mm(x[1] - x[0])} by {making.mm(y[1] - y[0])} in {bay.name}",
            allowed=f"at least {making.least(LEAST_INSIDE)} either way",
            do="Make slack, set_back or behind smaller, or the case larger.",
        )
        return
    for level in levels:
        number = 1 + sum(p.role is Role.LOOSE_SHELF for p in making.panels.values())
        low = level + asked.hole / 2
        panel = making.add(
            Blank(
                suffix=f"loose-shelf-{number}",
                role=Role.LOOSE_SHELF,
                name=f"loose shelf {number}",
                board=board,
                box=box_of(x, y, (low, low + board.measured)),
                sums=(
                    told(unit, bay.width, Term(-2, asked.slack)),
                    told(unit, making.case.depth, *bay.rear, Term(-1, front), Term(-1, asked.behind)),
                ),
                cause=node.field,
                body="",
                opening=bay.id,
                edged=(Surface.FACE_EDGE,),
            )
        )
        _leave_slack(making, bay, panel)
        _note_pins(making, bay, panel, bored, rows.index(level))
    making.stock(SHELF_PIN, f"shelf pins, {making.mm(asked.hole)}", 4 * len(levels), "piece", bay.name, node.field)


def _levels(making: Making, bay: Bay, rows: tuple[float, ...], thick: float) -> tuple[float, ...]:
    """Return the row under each shelf, from the top down: those nearest to equal spaces, in order."""
    count, height, pin = bay.node.loose_shelves, bay.height, making.case.loose_shelves.hole / 2
    space = (height - count * thick) / (count + 1)
    chosen: list[int] = []
    for k in range(count):
        wanted = bay.box.low.z + (k + 1) * space + k * thick - pin
        free = range(chosen[-1] + 1 if chosen else 0, len(rows) - (count - 1 - k))
        chosen.append(min((round(abs(rows[i] - wanted), 6), i) for i in free)[1])
    levels = [rows[i] for i in chosen]
    apart = [b - a for a, b in pairwise(levels)]
    if min(apart, default=thick + LEAST_INSIDE) < thick + LEAST_INSIDE - EXACT or (
        levels[-1] + pin + thick > bay.box.high.z
    ):
        making.fault(
            "pin-rows",
            f"{bay.node.field}.loose_shelves",
            found=f"{count} shelves of {making.mm(thick)} in {bay.name}, {making.mm(height)} high",
            allowed=f"shelves with at least {making.least(LEAST_INSIDE)} between them",
            do="Ask for fewer loose shelves, or make the opening higher.",
            ways=_fewer(making, bay, len(rows)),
        )
        return ()
    return tuple(reversed(levels))


def _fewer(making: Making, bay: Bay, rows: int) -> tuple[WayOut, ...]:
    """Return the ways out that ask for fewer shelves: as many as so many rows hold with room between, or one less."""
    asked = making.case.loose_shelves
    apart = math.ceil((making.board(asked.board).measured + LEAST_INSIDE) / asked.pitch - EXACT)
    most = min((rows - 1) // max(1, apart) + 1, bay.node.loose_shelves - 1)
    return tuple(WayOut(field="", value=n or None) for n in dict.fromkeys((most, max(0, most - 1))) if n >= 0)


def _leave_slack(making: Making, bay: Bay, panel: Panel) -> None:
    asked = making.case.loose_shelves
    rooms = (
        ("left", asked.slack, panel.box.low.x - bay.box.low.x),
        ("right", asked.slack, bay.box.high.x - panel.box.high.x),
        ("behind", asked.behind, bay.box.high.y - panel.box.high.y),
        ("in front", asked.set_back, panel.box.low.y - inner_front(making, bay)),
    )
    for side, wanted, left in rooms:
        making.leave(Clearance(kind=ClearanceKind.SHELF, about=panel.name, side=side, wanted=wanted, left=left))
