"""Clothes rails as they are drawn: the tube, its two sockets, and how deep clothes on hangers are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing._pens import Fill, Pen, Tint
from storyrod.drawing._symbols import line, rectangle
from storyrod.drawing._types import Circle, Entity, Group
from storyrod.measure.space import Axis, Box
from storyrod.model.assembly import Step, StepKind
from storyrod.model.carcass import BuiltCase, OpeningPlace, RailPlace
from storyrod.model.detail import DetailedCase
from storyrod.model.fitting import HANGER_DEPTH

_ROUND: Final = 6.0
"""A socket is drawn so much larger than its tube, to every side (mm)."""

_SHOULDER: Final = 110.0
"""A hanger is drawn so high (mm), from the tube to its shoulders."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """Something bought that a picture shows among the panels: it has no mark."""

    id: str
    name: str
    mark: str = ""
    board: str = ""


def rails_shown(case: DetailedCase, step: Step, earlier: Sequence[Step]) -> Iterator[tuple[Bought, Box]]:
    """Yield the sockets of all clothes rails, and the tubes that lie in theirs or go in, once the case stands."""
    if step.kind in {StepKind.JOIN, StepKind.FIT, StepKind.TURN}:
        return
    laid = {s.body for s in (*earlier, step) if s.kind is StepKind.RAIL}
    for rail in case.built.rails:
        if rail.id in laid:
            yield Bought(id=rail.id, name=f"tube of {rail.name}"), rail.box
        for end, box in zip(("left", "right"), sockets_of(case.built, rail), strict=True):
            yield Bought(id=f"{rail.id}.socket-{end}", name=f"{end} socket of {rail.name}"), box


def sockets_of(built: BuiltCase, rail: RailPlace) -> tuple[Box, Box]:
    """Return the boxes of a rail's two sockets, between the uprights and the ends of its tube."""
    opening = _opening(built, rail)
    (low, high), (start, end) = opening.box.span(Axis.X), rail.box.span(Axis.X)
    y, z = rail.box.span(Axis.Y), rail.box.span(Axis.Z)
    wide = rail.box.with_span(Axis.Y, y[0] - _ROUND, y[1] + _ROUND).with_span(Axis.Z, z[0] - _ROUND, z[1] + _ROUND)
    return wide.with_span(Axis.X, low, start), wide.with_span(Axis.X, end, high)


def _opening(built: BuiltCase, rail: RailPlace) -> OpeningPlace:
    return next(o for o in built.openings if o.id == rail.opening)


def rails_from_front(case: DetailedCase) -> Iterator[Entity]:
    """Yield every tube and its sockets as they are seen from the front."""
    for rail in case.built.rails:
        boxes = (rail.box, *sockets_of(case.built, rail))
        shapes = [
            rectangle((b.low.x, b.low.z), (b.high.x, b.high.z), pen=Pen.EDGE, fill=Fill(Tint.PAPER)) for b in boxes
        ]
        yield Group(items=tuple(shapes), id=rail.id, name=rail.name, kind="rail")


def rails_cut(case: DetailedCase, at: float) -> Iterator[Entity]:
    """Yield the tubes that a cut at `at` (case x) goes through, with how deep clothes on their hangers are."""
    for rail in case.built.rails:
        low, high = rail.box.span(Axis.X)
        if not low < at < high:
            continue
        centre = rail.box.centre
        tip, half = (centre.y, centre.z), HANGER_DEPTH / 2
        left, right = (centre.y - half, centre.z - _SHOULDER), (centre.y + half, centre.z - _SHOULDER)
        hanger = line(tip, left, right, tip, pen=Pen.GHOST)
        tube = Circle(centre=tip, radius=rail.diameter / 2, pen=Pen.CUT, fill=Fill(Tint.PAPER))
        yield Group(
            items=(hanger, tube), id=rail.id, name=f"{rail.name}, and the depth of clothes on hangers", kind="rail"
        )
