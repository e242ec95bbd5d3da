"""A plank under its load: how far it hangs at once and in the long run, drawn larger, and what is allowed."""

from __future__ import annotations

import math
from collections.abc import Callable

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import spread
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import arrow_head, line
from storyrod.drawing._types import Anchor, Dimension, Entity, Path, Place, Text
from storyrod.model.soundness import Sag

_HANG = 13.0
"""How deep the greatest sag is drawn, on paper."""

_ARROW = 5.0


def sag_figure(
    sag: Sag, thickness: float, *, figures: Figures | None = None, room: tuple[float, float] = (170.0, 60.0)
) -> Drawing | None:
    """Return the picture of a plank that was bent, or None for one that was not (on four edges, or not known)."""
    if not sag.curve or sag.at_once is None:
        return None
    shown = figures or Figures()
    length = sag.curve[-1][0] - sag.curve[0][0]
    lasting = sag.lasting if sag.lasting is not None else sag.at_once
    deepest = max(lasting, sag.limit, 1e-6)
    words = f"{sag.name}: sags {shown.lengths.about(sag.at_once)} at once"
    size = shown.lengths.about
    words += f", {size(sag.lasting)} in the long run; {size(sag.limit)} allowed." if sag.lasting is not None else "."

    def draw(unit: float) -> Drawing:
        times = _tidy(_HANG * unit / deepest)
        return Drawing(
            id=f"{sag.panel}.sag",
            title=f"{sag.name} under {sag.under_words}",
            alt=words,
            items=tuple(_items(sag, thickness, shown, unit, times)),
            unit=unit,
            notes=(
                f"Sag drawn {times:g} times as large. Allowed: span / {sag.limit_share:g}. {shown.said}",
                *(f"{c.kg:.1f} kg: {c.why}." for c in sag.carried),
            ),
        )

    return fitted(draw, room, (length, thickness * 2))


def _tidy(times: float) -> float:
    """Return 1, 2 or 5 times a power of ten, no more than `times`."""
    power = 10.0 ** math.floor(math.log10(max(times, 1e-6)))
    step = next(s for s in (5.0, 2.0, 1.0) if s * power <= times * (1 + 1e-9))
    return step * power


def _items(sag: Sag, thickness: float, figures: Figures, unit: float, times: float) -> list[Entity]:
    growth = (sag.lasting / sag.at_once) if sag.lasting is not None and sag.at_once else 1.0
    start, end = sag.curve[0][0], sag.curve[-1][0]
    now = [(x, -down * times) for x, down in sag.curve]
    later = [(x, -down * times * growth) for x, down in sag.curve]
    body = (*now, *((x, y - thickness) for x, y in reversed(now)))
    items: list[Entity] = [
        line((start, 0.0), (end, 0.0), pen=Pen.GHOST),
        Path(points=body, closed=True, pen=Pen.OUTLINE, fill=Fill(Tint.BOARD_1)),
    ]
    if sag.lasting is not None:
        items.append(Path(points=tuple((x, y - thickness) for x, y in later), pen=Pen.HIDDEN))
    limit = _limit(sag, now, thickness, times)
    items.append(limit)
    items += _load(sag, unit)
    lowest = min(*(y - thickness for _, y in later), *(y for _, y in limit.points))
    row = min(lowest, -thickness - 3.2 * unit) - 3.0 * unit
    items += _supports(sag, thickness, unit, times, row)
    items += _labels(sag, thickness, unit, (times, growth), end, figures.lengths.about_n)
    items.append(
        Dimension(
            a=(sag.span_from, row - 2.5 * unit),
            b=(sag.span_from + sag.span, row - 2.5 * unit),
            away=-6.0 * unit,
            text=figures.of(sag.span),
            height=HEIGHTS[Role.FIGURE],
        )
    )
    return items


def _chord(sag: Sag, now: list[Place], x: float) -> float:
    """The straight line between the ends of the worst stretch, as drawn."""
    a = _at(now, sag.span_from)
    b = _at(now, sag.span_from + sag.span)
    return a + (b - a) * (x - sag.span_from) / sag.span


def _at(curve: list[Place], x: float) -> float:
    return min(curve, key=lambda p: abs(p[0] - x))[1]


def _limit(sag: Sag, now: list[Place], thickness: float, times: float) -> Path:
    """The lowest that its underside may come."""
    ends = [(x, _chord(sag, now, x) - sag.limit * times - thickness) for x in (sag.span_from, sag.span_from + sag.span)]
    return line(*ends, pen=Pen.CENTRE)


def _load(sag: Sag, unit: float) -> list[Entity]:
    """What lies on it: arrows down onto the plank as it was, and how much."""
    items: list[Entity] = []
    foot, top = 1.2 * unit, (1.2 + _ARROW) * unit
    for carried in sag.carried:
        low, high = max(carried.start, sag.curve[0][0]), min(carried.end, sag.curve[-1][0])
        count = max(2, round((high - low) / (9.0 * unit)))
        items.append(line((low, top), (high, top), pen=Pen.THIN))
        for i in range(count + 1):
            x = low + (high - low) * i / count
            items += [line((x, top), (x, foot), pen=Pen.THIN), arrow_head((x, foot), (0.0, -1.0), unit, Pen.THIN, 1.6)]
        at = ((low + high) / 2, top + 3.2 * unit)
        items.append(Text(at=at, text=f"{carried.kg:.1f} kg", height=HEIGHTS[Role.FIGURE], role=Role.FIGURE))
    return items


def _supports(sag: Sag, thickness: float, unit: float, times: float, row: float) -> list[Entity]:
    """What holds it up, and what an upright above presses on it with; the forces stand in one row below."""
    items: list[Entity] = []
    curve = [(x, -down * times) for x, down in sag.curve]
    size, height = 3.2 * unit, HEIGHTS[Role.NOTE]
    words = [_force(r.force_n) for r in sag.rests]
    gap = max((width_of(w, height) for w in words), default=0.0) * unit + 1.5 * unit
    for rest, word, x in zip(sag.rests, words, spread([r.x for r in sag.rests], gap), strict=True):
        top = _at(curve, rest.x)
        if rest.force_n < -0.5:
            tip = (rest.x, top)
            items += [line((rest.x, top + size), tip, pen=Pen.MOVE), arrow_head(tip, (0.0, -1.0), unit, Pen.MOVE)]
            foot = top - thickness
        else:
            y = top - thickness
            corners = ((rest.x, y), (rest.x - size / 2, y - size), (rest.x + size / 2, y - size))
            items.append(Path(points=corners, closed=True, pen=Pen.FEATURE, fill=Fill(Tint.PAPER)))
            foot = y - size
        items.append(line((rest.x, foot), (x, row + 2.2 * unit), pen=Pen.EXTENSION))
        items.append(Text(at=(x, row), text=word, height=height, role=Role.NOTE))
    return items


def _force(newtons: float) -> str:
    return f"{abs(newtons):,.0f} N" + (" down" if newtons < -0.5 else "")


def _labels(
    sag: Sag, thickness: float, unit: float, drawn: tuple[float, float], end: float, size: Callable[[float], str]
) -> list[Entity]:
    """Figures at the right, each with a line to the level it tells; `drawn` says how many times it is drawn."""
    times, growth = drawn
    curve = [(x, -down * times) for x, down in sag.curve]
    low = _at(curve, sag.at)
    told = [(f"at once {size(sag.at_once or 0.0)}", low - thickness, sag.at, False)]
    limit = _chord(sag, curve, sag.span_from + sag.span) - sag.limit * times - thickness
    told.append((f"allowed {size(sag.limit)}", limit, sag.span_from + sag.span, False))
    if sag.lasting is not None:
        bold = sag.within_limit is False
        told.append((f"in the long run {size(sag.lasting)}", low * growth - thickness, sag.at, bold))
    height = HEIGHTS[Role.FIGURE]
    places = spread([-y for _, y, _, _ in told], height * 1.6 * unit)
    items: list[Entity] = []
    last = width_of(_force(sag.rests[-1].force_n), HEIGHTS[Role.NOTE]) if sag.rests else 0.0
    x = end + max(6.0, last / 2 + 2.0) * unit
    for (words, y, source, bold), place in zip(told, places, strict=True):
        items.append(line((source, y), (x - 3.0 * unit, y), (x - 0.8 * unit, -place), pen=Pen.EXTENSION))
        items.append(Text(at=(x, -place), text=words, height=height, anchor=Anchor.START, bold=bold, role=Role.FIGURE))
    return items
