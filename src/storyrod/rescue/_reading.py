"""What a state comes to, panel by panel: which cuts are there, which are still to be made, which serve nothing."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Final, get_args

from storyrod.measure.space import PANEL_AXES
from storyrod.model.feature import Channel, Feature, FeatureId, Hole, Keyhole, Shape, Slot
from storyrod.model.panel import Panel
from storyrod.model.rescue import Piece, Signs
from storyrod.rescue._draft import Draft
from storyrod.rescue._limits import NEAR
from storyrod.rescue._turn import turned


@dataclass(frozen=True, slots=True)
class Lying:
    """A piece in a panel's place.

    Attributes:
        wanted: every cut that is wanted in the place.
        there: cuts that are where they are wanted, by the wanted one's id: as they really are, and their numbers.
        to_cut: wanted cuts that are not there yet, or not deep or wide enough.
        old: cuts that serve nothing, in the panel's frame, by their number in the piece.
    """

    panel: Panel
    piece: Piece
    signs: Signs
    wanted: tuple[Feature, ...]
    there: Mapping[FeatureId, tuple[int, Feature]]
    to_cut: tuple[Feature, ...]
    old: Mapping[int, Feature]


_TELLS_APART: Final[Mapping[type[object], tuple[str, ...]]] = {
    shape: tuple(f.name for f in fields(shape) if f.name in {"kind", "run", "lock_sign", "sign", "outline"})
    for shape in get_args(Shape)
}
"""What tells cuts of one sort apart, besides their sizes."""


def flat_distance(one: Feature, other: Feature) -> float:
    """Return how far apart two cuts are on the surface they are cut in (mm)."""
    axis = one.surface.axis
    return max(abs(one.at.along(a) - other.at.along(a)) for a in PANEL_AXES if a is not axis)


def same_kind(one: Feature, other: Feature) -> bool:
    """Return whether two cuts are of one kind and lie one way, whatever their sizes."""
    a, b = one.shape, other.shape
    if type(a) is not type(b):
        return False
    for way in _TELLS_APART[type(a)]:  # noqa: SIM110  # asked tens of thousands of times: twice as quick as all()
        if getattr(a, way) != getattr(b, way):
            return False
    return True


def width_of(feature: Feature) -> float:
    """Return how wide a cut is: a hole's diameter, else its narrower size on the surface."""
    shape = feature.shape
    if isinstance(shape, Hole):
        return shape.diameter
    if isinstance(shape, Keyhole):
        return shape.slot_width
    return float(getattr(shape, "width", getattr(shape, "height", getattr(shape, "diameter", 0.0))))


def serves(cut: Feature, wanted: Feature) -> bool:
    """Return whether a cut is the wanted one, or part of it: in its place, of its kind, no longer than it."""
    if cut.surface is not wanted.surface or not same_kind(cut, wanted):
        return False
    if isinstance(cut.shape, Channel) and isinstance(wanted.shape, Channel):
        within = abs(cut.shape.width - wanted.shape.width) / 2  # one wall stays where it is while the other moves out
        return flat_distance(cut, wanted) <= within + NEAR and abs(cut.shape.length - wanted.shape.length) <= NEAR
    if isinstance(cut.shape, Slot) and isinstance(wanted.shape, Slot):
        return flat_distance(cut, wanted) <= NEAR and abs(cut.shape.length - wanted.shape.length) <= NEAR
    return flat_distance(cut, wanted) <= NEAR


def is_whole(cut: Feature, wanted: Feature) -> bool:
    """Return whether nothing more is to be cut: it is as deep and as wide as is wanted."""
    return cut.depth >= wanted.depth - NEAR and width_of(cut) >= width_of(wanted) - NEAR


class Reader:
    """Reads states; what a piece comes to in a place is worked out once."""

    def __init__(self) -> None:
        self._known: dict[tuple[object, ...], tuple[Lying, object, object]] = {}

    def lying(self, draft: Draft, panel: Panel) -> Lying:
        """Return what the piece in a panel's place comes to."""
        seat = draft.seats[panel.id]
        piece, wanted = draft.pieces[seat.piece], draft.case.on(panel.id)
        key = (panel.id, id(piece), id(panel), seat.signs, tuple(map(id, wanted)))
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = (_lying(panel, piece, seat.signs, wanted), piece, (wanted, panel))
        return known[0]

    def all(self, draft: Draft) -> Iterator[Lying]:
        """Yield every panel of a state."""
        for panel in draft.case.panels:
            yield self.lying(draft, panel)


def _lying(panel: Panel, piece: Piece, signs: Signs, wanted: tuple[Feature, ...]) -> Lying:
    cuts = {n: turned(c, piece, signs, panel) for n, c in enumerate(piece.cuts)}
    there: dict[FeatureId, tuple[int, Feature]] = {}
    to_cut: list[Feature] = []
    free = dict(cuts)
    for one in wanted:
        found = next((n for n, c in free.items() if serves(c, one)), None)
        if found is None:
            to_cut.append(one)
            continue
        cut = free.pop(found)
        there[one.id] = (found, cut)
        if not is_whole(cut, one):
            to_cut.append(one)
    return Lying(panel, piece, signs, wanted, there, tuple(to_cut), free)


@dataclass(frozen=True)
class Count:
    """What is still to be cut in a state, beside what was to be cut anyway."""

    reader: Reader
    draft: Draft

    @cached_property
    def to_cut(self) -> tuple[Feature, ...]:
        """Every cut still to be made."""
        return tuple(f for lying in self.reader.all(self.draft) for f in lying.to_cut)

    def again(self, before: frozenset[FeatureId]) -> tuple[Feature, ...]:
        """Return the cuts to be made that were not among those still to be made `before` anything went wrong."""
        return tuple(f for f in self.to_cut if f.id not in before)


def as_cut(wanted: Feature, cut: Feature) -> Feature:
    """Return a wanted cut with the depth and width that it really has, where these are greater."""
    shape = wanted.shape
    if isinstance(shape, Hole) and isinstance(cut.shape, Hole):
        shape = replace(
            shape, diameter=max(shape.diameter, cut.shape.diameter), depth=max(shape.depth, cut.shape.depth)
        )
    elif isinstance(shape, Slot | Channel) and isinstance(cut.shape, Slot | Channel):
        shape = replace(shape, width=max(shape.width, cut.shape.width), depth=max(shape.depth, cut.shape.depth))
    return replace(wanted, shape=shape)
