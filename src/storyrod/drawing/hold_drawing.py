"""How a jig is held on a part, drawn from above: the part, what lies beside it, fence and stop, and the clamps."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._figures import Figures
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._scale import fitted
from storyrod.drawing._symbols import line, rectangle
from storyrod.drawing._types import Anchor, Dimension, Entity, Text
from storyrod.drawing.jig_drawing import clamp_sign
from storyrod.model.machining import FENCE_THICKNESS, STOP_LENGTH, STOP_THICKNESS, Area, Hold, HoldKind, JigPlan

ROOM: Final = (150.0, 62.0)
"""Room on the page that the drawing is fitted to (mm)."""

_BESIDE: Final = {
    HoldKind.BOARD: "guard board",
    HoldKind.BACKING: "board behind",
    HoldKind.TROUGH: "cheek",
    HoldKind.FENCES: "second fence",
}


def is_drawn(hold: Hold) -> bool:
    """Return whether a way of holding has a drawing of its own: where more than the part lies under the jig."""
    return bool(hold.beside) or hold.across


def hold_drawing(
    jig: JigPlan, hold: Hold, *, figures: Figures | None = None, room: tuple[float, float] = ROOM
) -> Drawing:
    """Return a jig on a part and on what holds it, at the largest usual scale that fits `room`."""
    shown = figures or Figures()
    whole = _whole(jig, hold)
    size = (whole.right - whole.left, whole.far - whole.near)
    return fitted(lambda unit: _drawn(jig, hold, shown, unit), room, size)


def _shown_part(jig: JigPlan, hold: Hold) -> Area:
    """Return the part as far as it is drawn: a little further than the jig."""
    over = 30.0
    p = hold.part
    return Area(
        left=max(p.left, jig.start - over),
        right=min(p.right, jig.end + over),
        near=max(p.near, jig.near - over),
        far=min(p.far, jig.far + over),
    )


def _whole(jig: JigPlan, hold: Hold) -> Area:
    areas = (*hold.beside, *hold.clamps, _shown_part(jig, hold))
    return Area(
        left=min(jig.start, *(a.left for a in areas)),
        right=max(jig.end, *(a.right for a in areas)),
        near=min(jig.near, *(a.near for a in areas)),
        far=max(jig.far, *(a.far for a in areas)),
    )


def _drawn(jig: JigPlan, hold: Hold, figures: Figures, unit: float) -> Drawing:
    items: tuple[Entity, ...] = (
        *_under(jig, hold),
        *_jig(jig),
        *_clamps(hold, unit),
        *_along(jig, hold, figures, unit),
        *_words(jig, hold, unit),
    )
    return Drawing(
        id=f"hold-{hold.id}".replace(".", "-"),
        title=f"Jig {jig.id}, {hold.kind.value}",
        alt=f"Jig {jig.id} {hold.kind.value}, seen from above, with two clamps.",
        items=items,
        unit=unit,
        notes=(f"{figures.said} Seen from above, the jig dashed.",),
    )


def _under(jig: JigPlan, hold: Hold) -> Iterator[Entity]:
    p = _shown_part(jig, hold)
    yield rectangle((p.left, p.near), (p.right, p.far), pen=Pen.OUTLINE, fill=Fill(Tint.BOARD_1))
    for a in hold.beside:
        yield rectangle((a.left, a.near), (a.right, a.far), pen=Pen.OUTLINE, fill=Fill(Tint.JIG, Hatch.LIGHT))
    if hold.kind is HoldKind.TROUGH and len(hold.beside) == 2:
        b = hold.beside[1]
        yield rectangle((p.right, p.near), (b.left, p.far), pen=Pen.FEATURE, fill=Fill(Tint.JIG, Hatch.SLANT))
        if not hold.across:
            a, top = hold.beside[0], min(jig.reference, jig.far) - STOP_LENGTH - 20.0
            strip = (a.right, a.near), (a.right + STOP_THICKNESS, top)
            yield rectangle(*strip, pen=Pen.FEATURE, fill=Fill(Tint.JIG, Hatch.CROSSED))


def _jig(jig: JigPlan) -> Iterator[Entity]:
    yield rectangle((jig.start, jig.near), (jig.end, jig.far), pen=Pen.HIDDEN)
    if jig.has_fence:
        a, b = (jig.start, jig.reference), (jig.end, jig.reference + FENCE_THICKNESS)
        yield rectangle(a, b, pen=Pen.HIDDEN, fill=Fill(Tint.JIG, Hatch.LEVEL))
    high = min(jig.reference, jig.far)
    for stop in jig.stops:
        yield rectangle((stop.at - STOP_THICKNESS, high - STOP_LENGTH), (stop.at, high), pen=Pen.HIDDEN_SMALL)
    for at in jig.stations:
        yield line((at, -jig.opening[1] / 2), (at, jig.opening[1] / 2), pen=Pen.CENTRE)


def _clamps(hold: Hold, unit: float) -> Iterator[Entity]:
    for clamp in hold.clamps:
        if not hold.across:
            yield from clamp_sign(clamp)
            continue
        # Two short strokes with a bar each: a clamp that grips from both sides, below the template.
        x, half = (clamp.left + clamp.right) / 2, (clamp.right - clamp.left) / 2 - 4.0
        for at, away in ((clamp.far, 1.0), (clamp.near, -1.0)):
            yield line((x - half, at), (x + half, at), pen=Pen.FEATURE)
            yield line((x, at), (x, at + away * 6.0 * unit), pen=Pen.FEATURE)


def _along(jig: JigPlan, hold: Hold, figures: Figures, unit: float) -> Iterator[Entity]:
    """Widths of a trough below the drawing: cheek, what is between, cheek; else where the clamps are."""
    height, low = HEIGHTS[Role.FIGURE], _whole(jig, hold).near
    if hold.kind is HoldKind.TROUGH and len(hold.beside) == 2:
        one, two = hold.beside
        places = [one.left, one.right, two.left, two.right]
    elif hold.beside and hold.kind is HoldKind.BOARD:
        places = [hold.beside[0].left, hold.beside[0].right]
    else:
        return
    for a, b in pairwise(places):
        text = figures.of(b - a)
        shown = text if (b - a) / unit >= width_of(text, height) + 3.0 else ""
        yield Dimension(a=(a, low), b=(b, low), away=-9.0 * unit, text=shown, height=height)


def _words(jig: JigPlan, hold: Hold, unit: float) -> Iterator[Entity]:
    """What is what, beside the drawing, each with a leader to it."""
    whole = _whole(jig, hold)
    named: list[tuple[str, float, float]] = []
    p = _shown_part(jig, hold)
    named.append(("part", p.right - 3.0, (p.near + p.far) / 2))
    if hold.beside:
        b = hold.beside[-1]
        named.append((_BESIDE[hold.kind], b.right - 3.0, (b.near + b.far) / 2))
    if hold.kind is HoldKind.TROUGH:
        named.append(("wedges", (p.right + hold.beside[1].left) / 2, (p.near * 2 + p.far) / 3))
        if not hold.across:
            named.append(("strip", hold.beside[0].right + STOP_THICKNESS / 2, hold.beside[0].near + 12.0))
    if jig.has_fence:
        named.append(("fence", jig.end - 3.0, jig.reference + FENCE_THICKNESS / 2))
    clamp = hold.clamps[-1]
    named.append(("clamp", (clamp.left + clamp.right) / 2, clamp.far if hold.across else (clamp.near + clamp.far) / 2))
    x = whole.right + 12.0 * unit
    step = 5.0 * unit
    ordered = sorted(named, key=lambda n: -n[2])
    top = (whole.near + whole.far) / 2 + step * (len(ordered) - 1) / 2
    for n, (word, at_x, at_y) in enumerate(ordered):
        y = top - n * step
        yield line((at_x, at_y), (x - 5.0 * unit, y), (x - 1.0 * unit, y), pen=Pen.EXTENSION)
        yield Text(at=(x, y), text=word, height=HEIGHTS[Role.NOTE], anchor=Anchor.START)
