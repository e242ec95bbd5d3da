"""Where the clamps of a jig go, and what a narrow part is held in, in the frame of the jig."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.machining._choose import Made
from storyrod.machining._hold import PAD, Swept, template_axis, work_of
from storyrod.machining._minutes import MAKING, minutes_of
from storyrod.model.machining import (
    FENCE_THICKNESS,
    STOP_LENGTH,
    STOP_THICKNESS,
    Area,
    Hold,
    HoldKind,
    Piece,
)
from storyrod.model.workshop import Workshop

CHEEK: Final = 60.0
"""Width of a trough's cheeks and of guard boards: a clamp's pad and 20 mm (common practice, no source)."""

WEDGES: Final = 15.0
"""Room for a pair of folding wedges beside a part in a trough (mm); common practice, no source."""

TROUGH_LENGTH: Final = 300.0
"""A trough is at least so long, so that a vice or two clamps hold it on the bench (mm); common practice, no source."""

BACKING_WIDTH: Final = 200.0
"""A board that a narrow part is ganged to reaches so far down into the vice (mm); common practice, no source."""

FENCE_LOW: Final = 30.0
FENCE_HIGH: Final = 60.0
"""How far a fence hangs down: more where clamps grip it across an edge (mm); common practice, no source."""


@dataclass(frozen=True, slots=True)
class Outline:
    """The template of a jig without its holds: what it covers, its reference, and what is swept on it."""

    start: float
    end: float
    near: float
    far: float
    reference: float
    sweep: Swept


@dataclass(frozen=True, slots=True)
class Under:
    """One placing of a jig: what its part takes up under it, and how thick the part is there."""

    made: Made
    part: Area
    thickness: float
    words: str

    @property
    def ends(self) -> tuple[float, float]:
        """Where the part begins and ends along the jig."""
        return self.part.left, self.part.right


def under(made: Made, stop_at: float, words: str) -> Under:
    """Return a placing of a jig whose stop stands at `stop_at`."""
    return Under(made, work_of(made.need, made.reference, stop_at), made.need.panel.thickness, words)


def widened(plain: Outline, placings: Sequence[Under]) -> Outline:
    """Return a template long enough for two clamps and for the cheeks of troughs, with their strip where parts lie."""
    start, end, far = plain.start, plain.end, plain.far
    if any(_needs_far_strip(plain, p) for p in placings):
        far = max(far, -plain.near)
    for p in placings:
        if p.made.choice.hold is HoldKind.TROUGH:
            start = min(start, math.floor(p.part.left - STOP_THICKNESS - CHEEK))
            end = max(end, math.ceil(p.part.right + WEDGES + CHEEK))
        elif plain.reference > 0:
            end = max(end, math.ceil(p.part.left + 2 * PAD))
    return Outline(float(start), float(end), plain.near, far, plain.reference, plain.sweep)


def _needs_far_strip(outline: Outline, p: Under) -> bool:
    is_flat = outline.reference > 0 and p.made.choice.hold is HoldKind.CLAMPED
    return is_flat and p.part.near > outline.near + 1e-6


def holds_of(
    jig: str, outline: Outline, placings: Sequence[Under], workshop: Workshop
) -> list[tuple[Hold, list[Under]]]:
    """Return how a jig is held on all its placings, each with those it serves; as few ways as will do."""
    makers: dict[HoldKind, Callable[[Outline, Sequence[Under]], _Form | None]] = {
        HoldKind.CLAMPED: _clamped,
        HoldKind.FENCES: _fences,
        HoldKind.BOARD: _boards,
        HoldKind.BACKING: _backing,
        HoldKind.TROUGH: _trough,
    }
    found: list[tuple[Hold, list[Under]]] = []
    for kind, make in makers.items():
        alike = [p for p in placings if p.made.choice.hold is kind]
        for group in _gathered(alike, lambda g, make=make: make(outline, g)):  # type: ignore[misc]
            form = make(outline, group)
            assert form is not None  # noqa: S101  # one placing can always be held so
            found.append((form.hold(f"{jig}.{len(found) + 1}", kind, group, workshop), group))
    return found


def _gathered(placings: Sequence[Under], make: Callable[[Sequence[Under]], _Form | None]) -> Iterator[list[Under]]:
    """Yield placings in as few groups as a first fit gives, each of which one way of holding serves."""
    groups: list[list[Under]] = []
    for p in sorted(placings, key=lambda p: (p.part.left, -p.part.right)):
        home = next((g for g in groups if make([*g, p]) is not None), None)
        if home is None:
            groups.append([p])
        else:
            home.append(p)
    yield from groups


@dataclass(frozen=True, slots=True)
class _Form:
    """Clamps and boards of one way of holding."""

    clamps: tuple[Area, ...]
    across: bool = False
    beside: tuple[Area, ...] = ()
    pieces: tuple[Piece, ...] = ()

    def hold(self, number: str, kind: HoldKind, group: Sequence[Under], workshop: Workshop) -> Hold:
        left, right = max(p.part.left for p in group), min(p.part.right for p in group)
        near, far = max(p.part.near for p in group), min(p.part.far for p in group)
        return Hold(
            id=number,
            kind=kind,
            serves=tuple(dict.fromkeys(p.words for p in group)),
            clamps=self.clamps,
            across=self.across,
            part=Area(left=left, right=right, near=near, far=far),
            part_thickness=min(p.thickness for p in group),
            beside=self.beside,
            pieces=self.pieces,
            making_min=minutes_of(workshop, MAKING.get(kind, "")),
        )


def _common(outline: Outline, group: Sequence[Under]) -> tuple[float, float]:
    """Return from where to where all parts of a group lie under the template."""
    return (
        max(outline.start, *(p.part.left for p in group)),
        min(outline.end, *(p.part.right for p in group)),
    )


def _pads(left: float, right: float, near: float, far: float) -> tuple[Area, Area]:
    """Return the places of two clamps as far apart as a strip allows."""
    return (
        Area(left=left, right=left + PAD, near=near, far=far),
        Area(left=right - PAD, right=right, near=near, far=far),
    )


def _clamped(outline: Outline, group: Sequence[Under]) -> _Form | None:
    """Two clamps on a strip beyond the sweep, or at both ends of a template to centre marks."""
    if outline.reference <= 0:
        return _on_template(outline, group)
    left, right = _common(outline, group)
    if right - left < 2 * PAD - 1e-6:
        return None
    if not any(_needs_far_strip(outline, p) for p in group):
        return _Form(_pads(left, right, outline.near, outline.near + PAD))
    if all(p.part.far >= outline.far - 1e-6 for p in group):
        return _Form(_pads(left, right, outline.far - PAD, outline.far))
    return None


def _on_template(outline: Outline, group: Sequence[Under]) -> _Form | None:
    axes = {template_axis(p.part, outline.sweep) for p in group}
    if len(axes) > 1:
        return None
    if axes == {"along"}:
        at = _nearest_zero(max(p.part.near for p in group), min(p.part.far for p in group))
        return None if at is None else _Form(_pads(outline.start, outline.end, at - PAD / 2, at + PAD / 2))
    at = _nearest_zero(max(p.part.left for p in group), min(p.part.right for p in group))
    if at is None:
        return None
    left, right = at - PAD / 2, at + PAD / 2
    return _Form(
        (
            Area(left=left, right=right, near=outline.near, far=outline.near + PAD),
            Area(left=left, right=right, near=outline.far - PAD, far=outline.far),
        )
    )


def _nearest_zero(low: float, high: float) -> float | None:
    """Return the middle of a clamp's pad that lies nearest to zero between two edges of a part, or None."""
    if high - low < PAD - 1e-6:
        return None
    return max(low + PAD / 2, min(0.0, high - PAD / 2))


def _fences(outline: Outline, group: Sequence[Under]) -> _Form | None:
    """Two clamps across the fence, the part on edge, and the second fence where a base must not tip."""
    left, right = _common(outline, group)
    if right - left < 2 * PAD - 1e-6:
        return None
    behind = min(p.part.near for p in group)
    far = outline.reference + FENCE_THICKNESS
    if outline.sweep.base is None:
        return _Form(_pads(left, right, behind, far), across=True)
    second = Area(left=left, right=right, near=behind - FENCE_THICKNESS, far=behind)
    piece = Piece(
        name="second fence, for parts on edge",
        count=1,
        length=math.floor(right - left),
        width=FENCE_HIGH,
        thickness=FENCE_THICKNESS,
    )
    return _Form(_pads(left, right, second.near, far), across=True, beside=(second,), pieces=(piece,))


def _boards(outline: Outline, group: Sequence[Under]) -> _Form | None:
    """Boards as thick as the part, where it ends short of the clamps.

    Where it ends under them, they stand half on it: along the length that both have, so that all of a pad is borne.
    """
    if not _same_thickness(group):
        return None
    if outline.reference <= 0:
        return _beside_template(outline, group)
    edges = {round(p.part.near, 2) for p in group}
    if len(edges) > 1:
        return None
    edge = group[0].part.near
    board = Area(left=outline.start, right=outline.end, near=min(edge - CHEEK, outline.near), far=edge)
    left, right = _common(outline, group) if edge < outline.near + PAD else (outline.start, outline.end)
    if right - left < 2 * PAD - 1e-6:
        return None
    pads = _pads(left, right, outline.near, outline.near + PAD)
    return _Form(pads, beside=(board,), pieces=(_board("guard board", 1, board, group[0].thickness),))


def _beside_template(outline: Outline, group: Sequence[Under]) -> _Form | None:
    left, right = group[0].part.left, group[0].part.right
    if any(abs(p.part.left - left) + abs(p.part.right - right) > 0.01 for p in group):
        return None
    start, end = min(outline.start, left - PAD), max(outline.end, right + PAD)
    boards = (
        Area(left=min(start, left - CHEEK), right=left, near=outline.near, far=outline.far),
        Area(left=right, right=max(end, right + CHEEK), near=outline.near, far=outline.far),
    )
    wide = max(b.right - b.left for b in boards)
    piece = Piece(
        name="guard board",
        count=2,
        length=math.ceil(outline.far - outline.near),
        width=math.ceil(wide),
        thickness=group[0].thickness,
    )
    at = _nearest_zero(outline.near, min(p.part.far for p in group)) or 0.0
    return _Form(_pads(outline.start, outline.end, at - PAD / 2, at + PAD / 2), beside=boards, pieces=(piece,))


def _backing(outline: Outline, group: Sequence[Under]) -> _Form | None:
    """A board behind the part, its edge flush with the edge that is worked, in the vice."""
    left, right = _common(outline, group)
    if not _same_thickness(group) or right - left < 2 * PAD - 1e-6:
        return None
    behind = min(p.part.near for p in group)
    board = Area(left=left, right=right, near=behind - FENCE_THICKNESS, far=behind)
    piece = Piece(
        name="board to gang the part to",
        count=1,
        length=math.floor(right - left),
        width=BACKING_WIDTH,
        thickness=FENCE_THICKNESS,
    )
    pads = _pads(left, right, board.near, outline.reference + FENCE_THICKNESS)
    return _Form(pads, across=True, beside=(board,), pieces=(piece,))


def _trough(outline: Outline, group: Sequence[Under]) -> _Form | None:
    """Two cheeks as thick as the part on a floor: the part lies between stop and wedges, its end flush with theirs."""
    first = group[0]
    same = all(abs(p.part.left - first.part.left) + abs(p.part.right - first.part.right) < 0.01 for p in group)
    on_edge = first.made.need.on_edge
    if not same or not _same_thickness(group) or any(p.made.need.on_edge != on_edge for p in group):
        return None
    left, right = first.part.left - STOP_THICKNESS, first.part.right + WEDGES
    near, far = outline.near, outline.near + PAD
    if on_edge:
        near, far = first.part.near - FENCE_THICKNESS, outline.reference + FENCE_THICKNESS
    top = first.part.far if on_edge else min(first.part.far, outline.far)
    bottom = first.part.near if on_edge else outline.near
    cheeks = (
        Area(left=left - CHEEK, right=left, near=bottom, far=top),
        Area(left=right, right=right + CHEEK, near=bottom, far=top),
    )
    inner = (CHEEK - PAD) / 2
    clamps = tuple(Area(left=c.left + inner, right=c.right - inner, near=near, far=far) for c in cheeks)
    long = max(TROUGH_LENGTH, math.ceil(outline.far - outline.near))
    between = right - left
    pieces = (
        Piece(name="floor of the trough", count=1, length=long, width=between + 2 * CHEEK, thickness=FENCE_THICKNESS),
        Piece(name="cheek of the trough", count=2, length=long, width=CHEEK, thickness=first.thickness),
        Piece(
            name="strip beside the stop",
            count=1,
            length=long - STOP_LENGTH - 20.0,
            width=STOP_THICKNESS,
            thickness=first.thickness,
        ),
        Piece(name="folding wedge", count=2, length=120.0, width=WEDGES, thickness=first.thickness - 3.0),
    )
    return _Form(clamps, across=on_edge, beside=cheeks, pieces=pieces)


def _same_thickness(group: Sequence[Under]) -> bool:
    return all(abs(p.thickness - group[0].thickness) < 0.01 for p in group)


def _board(name: str, count: int, area: Area, thickness: float) -> Piece:
    return Piece(
        name=name,
        count=count,
        length=math.ceil(area.right - area.left),
        width=math.ceil(area.far - area.near),
        thickness=thickness,
    )
