"""The checker: whether a way out asks nothing of what is cut already, and comes to what it says.

It shares no code with the search: it is given the case as planned, the pieces as they lie there, and the way, and works
everything out afresh from these.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Final

from storyrod.faults import Fault
from storyrod.measure.space import AXES, PANEL_AXES, Frame, PanelPoint
from storyrod.model.detail import DetailedCase
from storyrod.model.feature import Channel, Feature, Hole, Slot
from storyrod.model.panel import Panel, PanelId, Surface, surface_at
from storyrod.model.rescue import Piece, Plug, Signs, Way

IN_PLACE: Final = 0.1
"""A cut so near to a wanted one (mm) is that one."""

CLEAR_OF_GLUE: Final = 1.0
"""What is cut anew keeps so far from a plug (mm), or lies within it."""

ONE_LINE: Final = 1e-6
"""Mates' axes agree to this (mm)."""

_DO: Final = "This is a mistake in storyrod, not yours. Please report it with the job file and what was recorded."


def check_way(
    planned: DetailedCase, pieces: Mapping[PanelId, Piece], way: Way, *, wall: float, size: float
) -> tuple[Fault, ...]:
    """Return what is wrong with a way out; nothing where it can be gone.

    Args:
        planned: the case as it was planned.
        pieces: what lies on the bench, by the panel each was marked for.
        way: the way out.
        wall: the least board beside a cut within a plug (mm).
        size: how far off a panel's length or width may be (mm).
    """
    told = [*_of_seats(way, pieces), *_of_pieces(way, pieces), *_of_sizes(way, size), *_of_mates(way)]
    if {p.id for p in planned.panels} != {p.id for p in way.case.panels}:
        told.append("panels that are not those of the case")
    for panel in way.case.panels:
        told += _of_panel(way, panel, wall)
    return tuple(
        Fault(code="rescue-way", field="", found=found, allowed="a way that asks nothing of what is cut", do=_DO)
        for found in told
    )


def _of_seats(way: Way, pieces: Mapping[PanelId, Piece]) -> Iterator[str]:
    used = [s.piece for s in way.seats.values()]
    if len(set(used)) != len(used):
        yield "one piece in two places"
    for panel in way.case.panels:
        seat = way.seats.get(panel.id)
        piece = way.pieces.get(seat.piece) if seat is not None else None
        if seat is None or piece is None:
            yield f"no piece in the place of {panel.id}"
            continue
        if piece.is_lost:
            yield f"a lost piece in the place of {panel.id}"
        if piece.board != panel.board:
            yield f"another board in the place of {panel.id}"
        handed = 1 if piece.is_mirrored == panel.frame.is_mirrored else -1
        if math.prod(seat.signs) != handed:
            yield f"a piece in the place of {panel.id} that no turning brings there"
        there = pieces.get(panel.id)
        if there is not None and there.glued and (piece.id != there.id or seat.signs != (1, 1, 1)):
            yield f"{panel.id}, which is glued in, moved"


def _of_pieces(way: Way, pieces: Mapping[PanelId, Piece]) -> Iterator[str]:
    """Yield pieces whose cuts are not those that lie there: a piece made longer carries them all along."""
    before = {p.id: p for p in pieces.values()}
    for piece in way.pieces.values():
        was = before.get(piece.id)
        if was is None:
            if piece.cuts:
                yield f"a new piece {piece.id} with cuts in it"
            continue
        if len(was.cuts) != len(piece.cuts):
            yield f"cuts of {piece.id} that are gone or new"
            continue
        grown = [b - a for a, b in zip(was.sizes, piece.sizes, strict=True)]
        for old, new in zip(was.cuts, piece.cuts, strict=True):
            off = [new.at.along(a) - old.at.along(a) for a in PANEL_AXES]
            can_be = all(min(abs(d), abs(d - g)) <= ONE_LINE for d, g in zip(off, grown, strict=True))
            if old.shape != new.shape or old.surface is not new.surface or not can_be:
                yield f"a cut of {piece.id} that would have to be elsewhere than it is"


def _of_sizes(way: Way, size: float) -> Iterator[str]:
    left = " ".join(way.left)
    for panel in way.case.panels:
        piece = way.pieces[way.seats[panel.id].piece]
        for word, is_, wanted in (
            ("length", piece.length, panel.length),
            ("width", piece.width, panel.width),
        ):
            if abs(is_ - wanted) > size and f"{word} {panel.id}" not in left:
                yield f"{panel.id} of another {word} than is wanted"


def _of_mates(way: Way) -> Iterator[str]:
    by_id = {f.id: f for f in way.case.features}
    frames: dict[PanelId, Frame] = {p.id: p.frame for p in way.case.panels}
    for one in way.case.features:
        other = by_id.get(one.mate) if one.mate is not None else None
        if one.mate is not None and other is None:
            yield f"{one.id} without its mate"
        if other is None or one.id > other.id:
            continue
        ways = {frames[f.panel].direction(f.surface.axis).axis for f in (one, other)}
        here, there = (frames[f.panel].to_case(f.at) for f in (one, other))
        if math.hypot(*(here.along(a) - there.along(a) for a in AXES if a not in ways)) > ONE_LINE:
            yield f"{one.id} and its mate that do not meet"


def _of_panel(way: Way, panel: Panel, wall: float) -> Iterator[str]:
    seat = way.seats[panel.id]
    piece = way.pieces[seat.piece]
    wanted = [f for f in way.case.features if f.panel == panel.id]
    open_, serving = {}, set()
    for number, cut in enumerate(piece.cuts):
        lies = _Lies(cut, piece, seat.signs)
        found = next((w for w in wanted if w.id not in serving and lies.is_(w)), None)
        if found is not None:
            serving.add(found.id)
        else:
            open_[number] = lies
    said = {n for p, n in way.old if p == piece.id}
    if set(open_) != said:
        yield f"old cuts of {panel.id} that are not told, or told and not there"
    to_cut = [f for f in wanted if f.id in way.to_cut]
    if any(f.id not in serving and f.id not in way.to_cut for f in wanted):
        yield f"a cut of {panel.id} that is neither there nor to be cut"
    if to_cut and piece.glued:
        yield f"a cut in {panel.id}, which is glued in"
    plugs = {p.cut: p for p in way.plugs if p.piece == piece.id}
    for number, lies in open_.items():
        for new in to_cut:
            if new.surface is lies.surface:
                yield from _too_near(lies, new, plugs.get(number), wall, panel)


class _Lies:
    """A cut of a piece as it lies in a place."""

    def __init__(self, cut: Feature, piece: Piece, signs: Signs) -> None:
        self.cut = cut
        turned = dict(zip(PANEL_AXES, signs, strict=True))
        sizes = dict(zip(PANEL_AXES, piece.sizes, strict=True))
        self.at = PanelPoint(*(cut.at.along(a) if turned[a] > 0 else sizes[a] - cut.at.along(a) for a in PANEL_AXES))
        is_far = cut.surface.is_far is (turned[cut.surface.axis] > 0)
        self.surface: Surface = surface_at(cut.surface.axis, far=is_far)
        run = getattr(cut.shape, "run", None)
        self.turned = run is not None and turned[run] < 0

    def is_(self, wanted: Feature) -> bool:
        """Return whether the cut is the wanted one, or part of it."""
        a, b = self.cut.shape, wanted.shape
        if self.surface is not wanted.surface or type(a) is not type(b) or a.kind != b.kind:
            return False
        if getattr(a, "run", None) is not getattr(b, "run", None):
            return False
        for name in ("lock_sign", "sign"):
            own = getattr(a, name, 0)
            if (-own if self.turned else own) != getattr(b, name, 0):
                return False
        room = IN_PLACE
        if isinstance(a, Channel) and isinstance(b, Channel):
            room += abs(a.width - b.width) / 2
        if isinstance(a, Channel | Slot) and isinstance(b, Channel | Slot) and abs(a.length - b.length) > IN_PLACE:
            return False
        flat = [x for x in PANEL_AXES if x is not self.surface.axis]
        return all(abs(self.at.along(x) - wanted.at.along(x)) <= room for x in flat)


def _too_near(lies: _Lies, new: Feature, plug: Plug | None, wall: float, panel: Panel) -> Iterator[str]:
    """Yield a round cut that would run into an old one, or across the glue line of its plug."""
    old = lies.cut.shape
    if not isinstance(old, Hole) or not isinstance(new.shape, Hole):
        return
    flat = [x for x in PANEL_AXES if x is not lies.surface.axis]
    apart = math.hypot(*(lies.at.along(x) - new.at.along(x) for x in flat))
    across = new.shape.diameter / 2
    if plug is not None:
        clear = apart - across - plug.size / 2 >= CLEAR_OF_GLUE - ONE_LINE
        within = apart + across + wall <= plug.size / 2 + ONE_LINE
        if not clear and not within:
            yield f"{new.id} across the glue line of a plug in {panel.id}"
        return
    meets = apart - across - old.diameter / 2 < -ONE_LINE
    takes_all = apart + old.diameter / 2 <= across + ONE_LINE and new.shape.depth + new.shape.point >= old.depth
    if meets and not takes_all:
        yield f"{new.id} across an old hole of {panel.id}"
