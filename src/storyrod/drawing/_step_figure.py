"""The step to be expected at the joints: a bar for each, from what half keep under to the worst that could be."""

from __future__ import annotations

import math
from collections.abc import Sequence

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._lettering import width_of
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._symbols import line, rectangle
from storyrod.drawing._types import Anchor, Entity, Text
from storyrod.measure.writing import METRIC, LengthWriter
from storyrod.model.soundness import ExpectedStep

_ROW = 7.0
_BAR = 2.6
_CLEAR = 2.0  # from a bar or a line to a figure
_MOST = 8
_LEGEND = (
    "Solid: half of such joints stay under it. Hatched: 19 in 20 do. Thin line: every error at its worst. "
    "{unit}, either way."
)
_TICKS = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0)


def step_figure(
    case: str, steps: Sequence[ExpectedStep], shows: float, *, width: float = 170.0, lengths: LengthWriter = METRIC
) -> Drawing | None:
    """Return bars for the joints most likely to show a step, alike ones together; None where there is no joint.

    Solid to the step that half of such joints keep under, hatched to the one that 19 in 20 keep under, a thin line to
    the worst case; the line `shows` stands where a finger feels it.
    """
    groups = _alike(steps)[:_MOST]
    if not groups:
        return None
    names = [_name(g) for g in groups]
    left = max(width_of(n, HEIGHTS[Role.NAME]) for n in names) + 3.0
    most = max(*(g[0].worst for g in groups), shows * 1.1)
    scale = max(20.0, width - left - 22.0) / most
    items: list[Entity] = []
    for row, (group, name) in enumerate(zip(groups, names, strict=True)):
        items += _bar(group[0], name, left, -row * _ROW, scale, left + shows * scale)
    items += _axis(len(groups), left, scale, (most, shows), lengths)
    worst = groups[0][0]
    return Drawing(
        id=f"{case}.steps",
        title=f"{case}: the step to be expected at the joints",
        alt=f"Bars of expected steps; most likely to show: {worst.number} {worst.about}, "
        f"19 in 20 under {lengths.told(worst.most)}, at worst {lengths.told(worst.worst)}.",
        items=tuple(items),
        unit=1.0,
        notes=(_LEGEND.format(unit=lengths.named.capitalize()),),
    )


def _alike(steps: Sequence[ExpectedStep]) -> list[list[ExpectedStep]]:
    groups: dict[tuple[float, ...], list[ExpectedStep]] = {}
    for step in steps:
        groups.setdefault((step.worst, step.rss, step.most), []).append(step)
    return sorted(groups.values(), key=lambda g: (-g[0].chance, -g[0].rss))


def _name(group: list[ExpectedStep]) -> str:
    first, others = group[0], len(group) - 1
    return f"{first.number} {first.about}" + (f" + {others}" if others else "")


def _bar(step: ExpectedStep, name: str, left: float, y: float, scale: float, shows: float) -> list[Entity]:
    """Return a bar and its figure, which stands beyond the line at `shows` where that would strike it through."""
    half = _BAR / 2
    middle, most, worst = (left + v * scale for v in (step.middle, step.most, step.worst))
    figure, at = f"{step.most:.2f}", worst + _CLEAR
    if at - _CLEAR < shows < at + width_of(figure, HEIGHTS[Role.FIGURE]) + _CLEAR:
        at = shows + _CLEAR
    return [
        Text(at=(left - 2.0, y), text=name, height=HEIGHTS[Role.NAME], anchor=Anchor.END, role=Role.NAME),
        rectangle((left, y - half), (most, y + half), pen=Pen.FEATURE, fill=Fill(Tint.BOARD_2, Hatch.SLANT)),
        rectangle((left, y - half), (middle, y + half), pen=Pen.FEATURE, fill=Fill(Tint.INK)),
        line((most, y), (worst, y), pen=Pen.FEATURE),
        line((worst, y - half), (worst, y + half), pen=Pen.FEATURE),
        Text(
            at=(at, y),
            text=figure,
            height=HEIGHTS[Role.FIGURE],
            anchor=Anchor.START,
            role=Role.FIGURE,
        ),
    ]


def _axis(rows: int, left: float, scale: float, to: tuple[float, float], lengths: LengthWriter) -> list[Entity]:
    most, shows = to
    bottom = -(rows - 1) * _ROW - _ROW * 0.7
    top = _ROW * 0.7
    step = next((t for t in _TICKS if t * scale >= 14.0), _TICKS[-1])
    items: list[Entity] = [line((left, bottom), (left + most * scale, bottom), pen=Pen.THIN)]
    for n in range(math.floor(most / step + 1e-9) + 1):
        x = left + n * step * scale
        items.append(line((x, bottom), (x, bottom - 1.2), pen=Pen.THIN))
        words = lengths.about_n(n * step) if lengths.is_inch else lengths.n(n * step)
        items.append(
            Text(
                at=(x, bottom - 3.4),
                text=words,
                height=HEIGHTS[Role.NOTE],
                role=Role.NOTE,
            )
        )
    x = left + shows * scale
    items.append(line((x, bottom), (x, top), pen=Pen.CENTRE))
    items.append(Text(at=(x, top + 2.2), text="shows", height=HEIGHTS[Role.NOTE], role=Role.NOTE))
    return items
