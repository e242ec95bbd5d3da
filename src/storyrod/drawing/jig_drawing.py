"""A jig drawn from above, as it is made: outline, openings, fence, stops, line-up marks, and running dimensions.

x runs along the openings from the jig's zero, y across them from their centre line toward the reference.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import spread
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import line, rectangle
from storyrod.drawing._types import Anchor, Bounds, Circle, Dimension, Entity, Path, Running, Stop, Text
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.machining import FENCE_THICKNESS, STOP_LENGTH, STOP_THICKNESS, Area, JigKind, JigPlan

ROOM: Final = (180.0, 110.0)
"""Room on the page that a jig's drawing is fitted to (mm)."""

_LETTER_ROOM: Final = 2.2  # from the middle of a stop's letter to any line beside it, on paper
_TEMPLATE, _OPENING, _LINES = "JIG OUTLINE", "JIG OPENINGS", "JIG MARKS"


def jig_drawing(jig: JigPlan, *, figures: Figures | None = None, room: tuple[float, float] = ROOM) -> Drawing:
    """Return a jig with its dimensions, at the largest usual scale that fits `room`."""
    shown = figures or Figures()
    # A jig's stations are made to a tenth at least, whatever the marks of the job are rounded to.
    size = (jig.length, jig.width + FENCE_THICKNESS)
    return fitted(lambda unit: _drawn(jig, shown, unit), room, size)


def jig_true_size(jig: JigPlan) -> Drawing:
    """Return a jig at full size without figures, for a DXF file or to be pasted on a board."""
    items = (*_template(jig), *_openings(jig, 1.0), *_fence(jig), *_stops(jig, 1.0), *_marks(jig, 1.0))
    return Drawing(id=f"jig-{jig.id}-true", title=f"{jig.id}: {jig.name}", alt=_alt(jig, METRIC), items=items)


def jig_extent(jig: JigPlan) -> Bounds:
    """Return what of a jig is worked: openings, stops, fence and marks, with some board round them.

    Beyond it lies plain board for the base and for clamps.
    """
    (long, wide), room = jig.opening, 40.0
    top = jig.reference + (FENCE_THICKNESS if jig.has_fence else 0.0)
    stops = min((s.at - STOP_THICKNESS for s in jig.stops), default=0.0)
    return Bounds(
        left=max(jig.start, min(stops, jig.stations[0] - long / 2 - room)),
        bottom=max(jig.near, min(-wide / 2, jig.reference - STOP_LENGTH) - room / 2),
        right=min(jig.end, jig.stations[-1] + long / 2 + room),
        top=max(min(jig.far, wide / 2 + room), top),
    )


def _drawn(jig: JigPlan, figures: Figures, unit: float) -> Drawing:
    items: tuple[Entity, ...] = (
        *_template(jig),
        *_fence(jig),
        *_path(jig),
        *_openings(jig, unit),
        *_stops(jig, unit),
        *_clamps(jig),
        *_marks(jig, unit),
        *_along(jig, figures, unit),
        *_across(jig, figures, unit),
        *_size(jig, figures, unit),
    )
    return Drawing(
        id=f"jig-{jig.id}",
        title=f"{jig.id}: {jig.name}",
        alt=_alt(jig, figures.lengths),
        items=items,
        unit=unit,
        notes=(" ".join((figures.said, *_said(jig))),),
    )


def _said(jig: JigPlan) -> Iterator[str]:
    """Yield what the drawing's signs mean."""
    side = ", the fence side at the top" if jig.has_fence else ""
    yield f"Seen from above{side}; you stand at the bottom."
    if jig.base is not None:
        yield "Dashed: what the router's base passes over."
    if any(not h.across for h in jig.holds):
        yield "Rings with a cross: clamps."


def _path(jig: JigPlan) -> Iterator[Entity]:
    """What the base of a router passes over, dashed."""
    if jig.base is not None:
        s = jig.sweep
        yield rectangle((s.left, s.near), (s.right, s.far), pen=Pen.HIDDEN_SMALL, layer=_LINES)


def _clamps(jig: JigPlan) -> Iterator[Entity]:
    """Where clamps press on the template, each place once."""
    places = dict.fromkeys(c for h in jig.holds if not h.across for c in h.clamps)
    for place in places:
        yield from clamp_sign(place)


def clamp_sign(place: Area) -> Iterator[Entity]:
    """Yield a ring with a cross in it, as large as the pad of a clamp."""
    x, y = (place.left + place.right) / 2, (place.near + place.far) / 2
    r = min(place.right - place.left, place.far - place.near) / 2 - 4.0
    yield Circle(centre=(x, y), radius=r, pen=Pen.FEATURE, layer=_LINES)
    s = r * 0.7071
    yield line((x - s, y - s), (x + s, y + s), pen=Pen.THIN, layer=_LINES)
    yield line((x - s, y + s), (x + s, y - s), pen=Pen.THIN, layer=_LINES)


def _alt(jig: JigPlan, lengths: LengthWriter) -> str:
    count = len(jig.stations)
    size = lengths.told_size(jig.length, jig.width)
    return f"{jig.name}: a template {size} with {count} opening{'s' if count > 1 else ''}."


def _template(jig: JigPlan) -> Iterator[Entity]:
    yield rectangle((jig.start, jig.near), (jig.end, jig.far), pen=Pen.OUTLINE, fill=Fill(Tint.JIG), layer=_TEMPLATE)


def _fence(jig: JigPlan) -> Iterator[Entity]:
    if not jig.has_fence:
        return
    a, b = (jig.start, jig.reference), (jig.end, jig.reference + FENCE_THICKNESS)
    yield rectangle(a, b, pen=Pen.HIDDEN, fill=Fill(Tint.JIG, Hatch.LEVEL), layer=_LINES)


def _openings(jig: JigPlan, unit: float) -> Iterator[Entity]:
    long, wide = jig.opening
    reach = max(long, wide) / 2 + 4.0 * unit
    for at in jig.stations:
        yield _opening(at, long, wide, jig)
        yield line((at, -wide / 2 - 4.0 * unit), (at, wide / 2 + 4.0 * unit), pen=Pen.CENTRE, layer=_LINES)
        if len(jig.stations) == 1:
            yield line((at - reach, 0.0), (at + reach, 0.0), pen=Pen.CENTRE, layer=_LINES)
    if len(jig.stations) > 1:
        yield line((jig.stations[0] - reach, 0.0), (jig.stations[-1] + reach, 0.0), pen=Pen.CENTRE, layer=_LINES)


def _opening(at: float, long: float, wide: float, jig: JigPlan) -> Entity:
    paper = Fill(Tint.PAPER)
    if jig.round_ or (abs(long - wide) < 1e-6 <= 2 * jig.corner - 1e-6 and 2 * jig.corner >= long - 1e-6):
        return Circle(centre=(at, 0.0), radius=long / 2, pen=Pen.CUT, fill=paper, layer=_OPENING)
    r = min(jig.corner, long / 2, wide / 2)
    x0, x1, y0, y1 = at - long / 2, at + long / 2, -wide / 2, wide / 2
    quarter = 0.41421356237309503  # tangent of a quarter of a right angle
    points = (
        *((x0 + r, y0), (x1 - r, y0), (x1, y0 + r), (x1, y1 - r)),
        *((x1 - r, y1), (x0 + r, y1), (x0, y1 - r), (x0, y0 + r)),
    )
    bulges = (0.0, quarter, 0.0, quarter, 0.0, quarter, 0.0, quarter) if r > 0 else ()
    return Path(points=points, bulges=bulges, closed=True, pen=Pen.CUT, fill=paper, layer=_OPENING)


def _stops(jig: JigPlan, unit: float) -> Iterator[Entity]:
    """Stops, each with its face at the place where the panel's edge comes to lie; A is filled, others dashed."""
    high = min(jig.reference, jig.far)
    for stop, name_at in zip(jig.stops, _letter_places(jig, unit), strict=True):
        a, b = (stop.at - STOP_THICKNESS, high - STOP_LENGTH), (stop.at, high)
        pen = Pen.FEATURE if stop.label == "A" else Pen.HIDDEN_SMALL
        yield rectangle(a, b, pen=pen, fill=Fill(Tint.JIG, Hatch.UPRIGHT), layer=_LINES)
        at = (name_at, jig.near - 4.0 * unit)
        yield Text(at=at, text=stop.label, height=HEIGHTS[Role.NAME], bold=True, role=Role.NAME, layer=_LINES)


def _letter_places(jig: JigPlan, unit: float) -> tuple[float, ...]:
    return spread([s.at - STOP_THICKNESS / 2 for s in jig.stops], 4.0 * unit)


def _below_letters(at: float, start: float, jig: JigPlan, unit: float) -> float:
    """Return where an extension line down from `start` begins, so that it runs through no letter of a stop."""
    met = any(abs(at - letter) < _LETTER_ROOM * unit for letter in _letter_places(jig, unit))
    return jig.near - 7.0 * unit if met else start


def _marks(jig: JigPlan, unit: float) -> Iterator[Entity]:
    """Line-up marks, scribed across both ends, and the centre lines of a template."""
    if jig.kind is JigKind.TEMPLATE:
        yield line((jig.start, 0.0), (jig.end, 0.0), pen=Pen.THIN, layer=_LINES)
        yield line((0.0, jig.near), (0.0, jig.far), pen=Pen.THIN, layer=_LINES)
        return
    for mark in jig.line_ups:
        for a, b in ((jig.start, jig.start + 24.0), (jig.end - 24.0, jig.end)):
            yield line((a, mark.from_centre), (b, mark.from_centre), pen=Pen.MARK, layer=_LINES)
        at = (jig.end + 2.0 * unit, mark.from_centre)
        yield Text(at=at, text=mark.words, height=HEIGHTS[Role.NOTE], anchor=Anchor.START, layer=_LINES)


def _along(jig: JigPlan, figures: Figures, unit: float) -> Iterator[Entity]:
    """Stations and stops as running dimensions from the zero."""
    if jig.kind is JigKind.TEMPLATE:
        return
    height = HEIGHTS[Role.FIGURE]
    ends = (jig.start, jig.end)
    places = sorted({0.0, *jig.stations, *(s.at for s in jig.stops if abs(s.at) > 1e-6), *ends})
    labels = spread(places, (height + 1.0) * unit)
    starts = {s.at: min(jig.reference, jig.far) - STOP_LENGTH for s in jig.stops}
    starts |= dict.fromkeys((0.0, *ends), jig.near)
    # No line runs through the sign of a clamp.
    pads = [c for h in jig.holds if not h.across for c in h.clamps if c.far < 0]
    starts |= {at: jig.near for at in places if any(c.left <= at <= c.right for c in pads)}
    line_at = jig.near - 12.0 * unit
    stops = tuple(
        Stop(
            at=at,
            start=_below_letters(at, starts.get(at, -jig.opening[1] / 2), jig, unit),
            label_at=label,
            value=at,
            text=figures.of(at),
        )
        for at, label in zip(places, labels, strict=True)
    )
    yield Running(origin=(0.0, line_at), along_x=True, line_at=line_at, toward=-1, stops=stops, height=height)


def _across(jig: JigPlan, figures: Figures, unit: float) -> Iterator[Entity]:
    """The reference from the centre line, and the size of an opening."""
    height = HEIGHTS[Role.FIGURE]
    left = jig.start
    if jig.kind is not JigKind.TEMPLATE:
        text = figures.of(-jig.near)
        yield line((left, 0.0), (left - 9.0 * unit, 0.0), pen=Pen.EXTENSION)
        yield Dimension(a=(left, 0.0), b=(left, jig.near), away=-8.0 * unit, text=text, height=height)
    if jig.reference > 0 and not jig.line_ups:
        text = figures.of(jig.reference)
        fits = jig.reference / unit >= width_of(text, height) + 6.0
        shown = text if fits else ""
        yield Dimension(a=(left, jig.reference), b=(left, 0.0), away=-8.0 * unit, text=shown, height=height)
        if not fits:
            at = (left - 10.5 * unit, jig.reference / 2)
            yield Text(at=at, text=text, height=height, anchor=Anchor.END, role=Role.FIGURE)
    end, (long, wide) = jig.stations[-1], jig.opening
    drill = figures.lengths.bought_n(long) if jig.bush is None else figures.of(long)
    size = f"Ø{drill}" if jig.round_ else f"{figures.of(long)} x {figures.of(wide)}"
    count = f"{len(jig.stations)} x " if len(jig.stations) > 1 else ""
    top = max(jig.far, jig.reference + (FENCE_THICKNESS if jig.has_fence else 0.0)) + 6.0 * unit
    yield line((end, wide / 2), (end + 4.0 * unit, top), (end + 6.0 * unit, top), pen=Pen.EXTENSION)
    text_at = (end + 3.0 * unit, top)
    yield Text(at=(text_at[0], top), text=f"{count}{size}", height=height, anchor=Anchor.END, role=Role.FIGURE)


def _size(jig: JigPlan, figures: Figures, unit: float) -> Iterator[Entity]:
    height = HEIGHTS[Role.FIGURE]
    top = max(jig.far, jig.reference + (FENCE_THICKNESS if jig.has_fence else 0.0))
    text = figures.of(jig.length)
    yield Dimension(a=(jig.start, top), b=(jig.end, top), away=16.0 * unit, text=text, height=height)
    words = ["fence"] if jig.has_fence else [w.words for w in jig.line_ups] if jig.kind is not JigKind.TEMPLATE else []
    right = jig.end + max((width_of(w, HEIGHTS[Role.NOTE] * unit) + 3.0 * unit for w in words), default=0.0)
    wide = figures.of(jig.width)
    fits = jig.width / unit >= width_of(wide, height) + 6.0
    shown = wide if fits else ""
    yield Dimension(a=(right, jig.near), b=(right, jig.far), away=-9.0 * unit, text=shown, height=height)
    if not fits:  # beside the line, not across its ends
        at = (right + 11.5 * unit, (jig.near + jig.far) / 2)
        yield Text(at=at, text=wide, height=height, anchor=Anchor.START, role=Role.FIGURE)
    if jig.has_fence:
        # Beside the fence, not on it: no word stands on a hatch.
        at = (jig.end + 2.0 * unit, jig.reference + FENCE_THICKNESS / 2)
        yield Text(at=at, text="fence", height=HEIGHTS[Role.NOTE], anchor=Anchor.START)
