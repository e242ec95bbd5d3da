"""A case from the front with its doors and fronts off, and what stands in each opening: the picture one chooses by."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._elevation import _boards, _sizes
from storyrod.drawing._figures import Figures
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import rectangle
from storyrod.drawing._types import Entity, Group, Text
from storyrod.measure.space import Axis, Box
from storyrod.model.detail import DetailedCase

LEAST_THING: Final = 1.0
"""Things narrower than this on paper (mm) are drawn as one block."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """Things in an opening: its id, what is written in it, and a box for each thing."""

    opening: str
    words: str
    things: tuple[Box, ...]


def wish_front(
    case: DetailedCase,
    standing: Sequence[Standing],
    *,
    figures: Figures | None = None,
    room: tuple[float, float] = (120.0, 110.0),
) -> Drawing:
    """Return a case from the front, its doors and fronts off, with what stands in each opening and its sizes."""
    shown = replace(figures or Figures(), seen=True)
    about = case.built.case
    told = "; ".join(s.words for s in standing)
    size = f"{shown.of(about.width)} wide, {shown.of(about.height)} high"

    def draw(unit: float) -> Drawing:
        items: list[Entity] = [*_boards(case, (), fronts=False)]
        for one in standing:
            items += _standing(case, one, unit)
        return Drawing(
            id=f"{about.code}.wish",
            title=f"{about.code} {about.name}, what stands where",
            alt=f"Case {about.code} from the front, {size}: {told}.",
            items=(*items, *_sizes(case, shown, unit, fronts=False)),
            unit=unit,
            notes=(shown.said,),
        )

    return fitted(draw, room, (about.width, about.height))


def _standing(case: DetailedCase, one: Standing, unit: float) -> Iterator[Entity]:
    opening = next(o for o in case.built.openings if o.id == one.opening)
    shapes = [rectangle((x[0], z[0]), (x[1], z[1]), pen=Pen.THIN) for x, z in _outlines(one.things, unit)]
    yield Group(items=tuple(shapes), id=f"{one.opening}.things", name=one.words, kind="things")
    yield from _words(opening.box, one.words, unit)


def _outlines(things: Sequence[Box], unit: float) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    """Yield what is seen of the things, those behind others once; narrow ones as one block a level."""
    seen = dict.fromkeys((b.span(Axis.X), b.span(Axis.Z)) for b in things)
    if all(x[1] - x[0] >= LEAST_THING * unit for x, _ in seen):
        yield from seen
        return
    for level in dict.fromkeys(z for _, z in seen):
        row = [x for x, z in seen if z == level]
        yield (min(x[0] for x in row), max(x[1] for x in row)), level


def _words(box: Box, words: str, unit: float) -> Iterator[Entity]:
    """Yield the words on a ground of their own, so that no line runs through them; nothing where there is no room."""
    note = HEIGHTS[Role.NOTE]
    wide, high = box.size(Axis.X) / unit, box.size(Axis.Z) / unit
    sign = width_of("n", note)
    lines = textwrap.wrap(words, max(1, int((wide - 2.0) / sign))) or [words]
    longest = max(width_of(line, note) for line in lines)
    step = 1.5 * note
    if longest > wide - 1.0 or len(lines) * step > high - 0.5:
        return
    x, z = (box.low.x + box.high.x) / 2, (box.low.z + box.high.z) / 2
    half_wide, half_high = (longest / 2 + 0.6) * unit, (len(lines) * step / 2) * unit
    yield rectangle((x - half_wide, z - half_high), (x + half_wide, z + half_high), fill=Fill(Tint.PAPER))
    for n, line in enumerate(lines):
        at = z + ((len(lines) - 1) / 2 - n) * step * unit
        yield Text(at=(x, at), text=line, height=note, role=Role.NOTE)
