"""What would mend a sag: a thicker board, a lipping, an upright; each worked out alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from storyrod.measure.space import Axis
from storyrod.measure.writing import LengthWriter
from storyrod.model.panel import Role
from storyrod.model.soundness import Remedy, RemedyKind, Sag
from storyrod.model.thresholds import GRAVITY
from storyrod.soundness._beam import FIRM, Bent, Line, PointLoad, Spread, Support, bend
from storyrod.soundness._carry import Plank
from storyrod.soundness._plate import plate_sag
from storyrod.soundness._section import Part, plank, section_of
from storyrod.trade.woods import UNNAMED_WOOD_N_MM2

THICKER: Final = (12.0, 15.0, 18.0, 22.0, 25.0, 30.0, 38.0)
"""Usual thicknesses of boards; common practice, no source."""

LIPPING: Final = (20.0, 40.0)
"""Width and height of the lipping that is tried as a remedy; common practice, no source."""


def alone(bent: Bent) -> Line:
    """Return a plank by itself: what uprights that may go down give it, or take from it, set on it as loads."""
    pairs = list(zip(bent.supports, bent.reactions_n, strict=True))
    moving = tuple(PointLoad(x=s.x, n=-n) for s, n in pairs if s.level != FIRM)
    firm = tuple(s for s, _ in pairs if s.level == FIRM)
    if len(firm) < 2:  # Held by uprights alone: they are taken to stand where they are.
        return replace(bent.line, supports=tuple(replace(s, level=FIRM) for s, _ in pairs))
    return replace(bent.line, supports=firm, points=(*bent.line.points, *moving))


def below(line: Line, start: float, end: float) -> float:
    """Return how far a plank hangs, at most, below the straight line between two places."""
    return max(0.0, bend([line])[0].lowest(start, end)[1])


def remedies_for(plank_: Plank, bent: Bent, found: Sag, factor: float, lengths: LengthWriter) -> Iterator[Remedy]:
    """Work out a rail behind, a thicker board, a lipping in front, and an upright under the middle, each alone."""
    e = plank_.stiffness.along
    if e is None:
        return
    if plank_.rear_free:
        yield _railed(plank_, found, factor, e)
    yield from _thicker(plank_, bent, found, factor, lengths)
    yield _lipped(plank_, bent, found, factor, lengths)
    yield _propped(plank_, bent, found, factor)


def _railed(plank_: Plank, found: Sag, factor: float, e: float) -> Remedy:
    """A second board under the rear of a base that has a plinth in front alone: it then rests on all four edges."""
    length, depth = (plank_.panel.box.size(axis) for axis in (Axis.X, Axis.Y))
    whole = (plank_.own_kg + found.load_kg) * GRAVITY / (length * depth)
    across = plank_.stiffness.across or e / 20
    sag = plate_sag(length, depth, plank_.panel.thickness, whole, e, across) * factor
    note = "uprights on it must reach over both plinth and rail, and press on them"
    return remedy(RemedyKind.RAIL, "a second plinth board under its rear (`back_rail = true`)", sag, found.limit, note)


def _thicker(plank_: Plank, bent: Bent, found: Sag, factor: float, lengths: LengthWriter) -> Iterator[Remedy]:
    e = plank_.stiffness.along or 0.0
    by_itself = alone(bent)
    tried: Remedy | None = None
    for thickness in (t for t in THICKER if t > plank_.panel.thickness + 1):
        section = plank(plank_.panel.width, thickness, e)
        more = plank_.own_kg * (thickness / plank_.panel.thickness - 1) * GRAVITY / (by_itself.end - by_itself.start)
        line = replace(
            by_itself,
            rigidity_n_mm2=section.rigidity_n_mm2,
            shear_n=section.shear_n,
            spreads=(*by_itself.spreads, Spread(start=by_itself.start, end=by_itself.end, n_per_mm=more)),
        )
        sag = below(line, *_ends(found)) * factor
        tried = remedy(
            RemedyKind.THICKER, f"a board {lengths.bought(thickness)} thick", sag, found.limit, "of the same stiffness"
        )
        if tried.enough:
            break
    if tried is not None:
        yield tried


def _ends(found: Sag) -> tuple[float, float]:
    return found.span_from, found.span_from + found.span


def _lipped(plank_: Plank, bent: Bent, found: Sag, factor: float, lengths: LengthWriter) -> Remedy:
    e = plank_.stiffness.along or 0.0
    width, height = LIPPING
    section = section_of(
        Part(width=plank_.panel.width, height=plank_.panel.thickness, stiffness_n_mm2=e),
        Part(width=width, height=height, stiffness_n_mm2=UNNAMED_WOOD_N_MM2),
    )
    line = replace(alone(bent), rigidity_n_mm2=section.rigidity_n_mm2, shear_n=section.shear_n)
    name = f"a solid lipping {lengths.told_size(width, height)} along the front edge, flush on top"
    note = f"upper bound: twisting is left out; wood of {UNNAMED_WOOD_N_MM2:,.0f} N/mm2"
    return remedy(RemedyKind.LIPPING, name, below(line, *_ends(found)) * factor, found.limit, note)


def _propped(plank_: Plank, bent: Bent, found: Sag, factor: float) -> Remedy:
    start, end = _ends(found)
    middle = (start + end) / 2
    by_itself = alone(bent)
    # An upright that stands where another already presses takes over that load.
    points = tuple(p for p in by_itself.points if abs(p.x - middle) > 1)
    line = replace(by_itself, points=points, supports=(*by_itself.supports, Support(x=middle)))
    sag = max(below(line, start, middle), below(line, middle, end)) * factor
    loose = plank_.panel.role is Role.LOOSE_SHELF
    name = "a divider in the middle, the shelf in one piece over it" if loose else "an upright under its middle"
    return remedy(RemedyKind.UPRIGHT, name, sag, found.limit / 2, "halves the span; it must be firm itself")


def remedy(kind: RemedyKind, what: str, sag: float, limit: float, note: str = "") -> Remedy:
    return Remedy(kind=kind, what=what, sag=sag, limit=limit, enough=sag <= limit + 1e-9, note=note)
