"""Running dimensions laid out: figures moved apart, long even rows told by their step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from storyrod.drawing._figures import Figures
from storyrod.drawing._labels import spread
from storyrod.drawing._pens import HEIGHTS, Role
from storyrod.drawing._types import Place, Running, Stop

LINE_GAP = 1.32
"""From figure to figure in heights: room for the bar of a fraction and a little air."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """A value to be shown: `value` in mm from the datum, and where its extension line starts, across the axis.

    `needed` is false for a figure that may be left out where room is short.
    """

    value: float
    start: float
    needed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """Where a running dimension stands.

    `way` is the sign in which the drawing's coordinate grows with the value, `line_at` and `toward` are as in
    `Running`, `extent` is how long the panel is that way. `every` shows every figure, whatever room that takes.
    """

    along_x: bool
    way: int
    line_at: float
    toward: int
    extent: float
    every: bool = False


def laid_out(wanted: Sequence[Wanted], figures: Figures, unit: float, side: Side) -> Running:
    """Return the running dimension with its figures apart.

    Where the figures would need more room than the panel gives, those that are not needed are left out; then rows in
    even steps keep their first and last figure and say the step once; what is left is spread beyond the ends.
    """
    height = HEIGHTS[Role.FIGURE]
    gap = LINE_GAP * height * unit
    merged = _merged(wanted, figures, side.toward)
    capacity = len(merged) if side.every else int((side.extent + 4 * gap) / gap) + 1
    if len(merged) > capacity:
        merged = [w for w in merged if w.needed]
    texts = [figures.of(w.value) for w in merged]
    steps: frozenset[int] = frozenset()
    if len(merged) > capacity:
        texts, steps = _with_steps(merged, texts, figures)
    shown = [n for n, text in enumerate(texts) if text]
    places = dict(zip(shown, spread([side.way * merged[n].value for n in shown], gap), strict=True))
    stops = tuple(
        Stop(
            at=side.way * w.value,
            start=side.line_at if n in steps else w.start,
            label_at=places.get(n, side.way * w.value),
            value=w.value,
            text=texts[n],
            is_step=n in steps,
        )
        for n, w in enumerate(merged)
    )
    origin: Place = (0.0, side.line_at) if side.along_x else (side.line_at, 0.0)
    return Running(
        origin=origin,
        along_x=side.along_x,
        line_at=side.line_at,
        toward=side.toward,
        stops=stops,
        height=height,
    )


def _merged(wanted: Sequence[Wanted], figures: Figures, toward: int) -> list[Wanted]:
    """One of each value as written, its line starting at the nearest of its places to the dimension line."""
    by_text: dict[str, Wanted] = {}
    for w in sorted(wanted, key=lambda w: w.value):
        text = figures.of(w.value)
        old = by_text.get(text)
        if old is None:
            by_text[text] = w
        else:
            nearest = max(old.start * toward, w.start * toward) * toward
            by_text[text] = Wanted(old.value, nearest, old.needed or w.needed)
    return list(by_text.values())


def _with_steps(merged: list[Wanted], texts: list[str], figures: Figures) -> tuple[list[str], frozenset[int]]:
    """Leave only the first and last figure of each even row of five or more, and the step in its middle.

    Returns the figures, and at which of them a step is told.
    """
    out = list(texts)
    steps: set[int] = set()
    first = 0
    while first < len(merged) - 1:
        step = merged[first + 1].value - merged[first].value
        last = first + 1
        while last + 1 < len(merged) and abs(merged[last + 1].value - merged[last].value - step) < 1e-6:
            last += 1
        if last - first >= 4:
            for n in range(first + 1, last):
                out[n] = ""
            middle = (first + last) // 2
            out[middle] = f"each {figures.of(step)}"
            steps.add(middle)
        first = last
    return out, frozenset(steps)
