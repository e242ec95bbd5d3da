"""The break-even plot: what a dearer method has cost more, or saved, after so many carcasses."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from storyrod.drawing._drawing import Drawing
from storyrod.drawing._pens import HEIGHTS, Fill, Hatch, Pen, Role, Tint
from storyrod.drawing._types import Anchor, Circle, Entity, Group, Path, Place, Text
from storyrod.model.account import about, show_money
from storyrod.model.comparison import BreakEven, Comparison

WIDTH: Final = 150.0
HEIGHT: Final = 82.0
MOST_LINES: Final = 3
"""More than three bands over one another are not to be told apart."""

_PENS: Final = (Pen.OUTLINE, Pen.HIDDEN, Pen.CENTRE)
_FILLS: Final = (
    Fill(Tint.BOARD_1, Hatch.SLANT),
    Fill(Tint.BOARD_2, Hatch.BACK_SLANT),
    Fill(Tint.BOARD_3, Hatch.DOTS),
)
_WITHOUT_VOLUME: Final = 100.0


@dataclass(frozen=True, slots=True)
class _Scale:
    """From carcasses and money to the paper; x starts at 0 carcasses, y at the lowest money shown."""

    carcasses: float
    low: float
    high: float

    def x(self, carcasses: float) -> float:
        return carcasses / self.carcasses * WIDTH

    def y(self, cents: float) -> float:
        return (cents - self.low) / (self.high - self.low) * HEIGHT

    def at(self, carcasses: float, cents: float) -> Place:
        return self.x(carcasses), self.y(cents)


def break_even_plot(comparison: Comparison, base: str | None = None) -> Drawing | None:
    """Return the plot of the methods that lay out more than `base` (the job's own unless set); None where none does.

    Each line starts at what is laid out more, and falls by what a carcass saves; the band holds eight times in ten.
    Where a line meets nought the method has paid. Drawn at full size, in mm of paper.
    """
    row = comparison.row(base) if base is not None else comparison.own
    if row is None:
        return None
    told = _chosen(comparison, row.candidate.method)
    if not told:
        return None
    names = {r.candidate.method: r.candidate.name for r in comparison.rows}
    scale = _scale(told, comparison)
    bands = [_band(one, scale, n) for n, one in enumerate(told)]
    lines = [_line(one, scale, n) for n, one in enumerate(told)]
    items: list[Entity] = [*bands, *_axes(scale, comparison), *lines, *_labels(told, names)]
    against = row.candidate.name
    listed = " ".join(b.text for b in told)
    note = f"Above zero a method has cost more than {against}; below zero it has saved."
    return Drawing(
        id="break-even",
        title=f"When does it pay against {against}?",
        alt=f"Money spent beyond {against}, falling with every carcass made. {listed}",
        items=tuple(items),
        notes=(note, "Eight times in ten the line stays in its band, if the low and high minutes are right."),
    )


def _chosen(comparison: Comparison, base: str) -> list[BreakEven]:
    """Return the break-evens of dearer methods against the base, those that pay soonest first."""
    pairs = [b for b in comparison.break_evens if b.cheap == base and b.outlay_cents > 0]
    pairs.sort(key=lambda b: (math.inf if b.at is None else b.at, -b.saves_cents, b.dear))
    return pairs[:MOST_LINES]


def _scale(told: Sequence[BreakEven], comparison: Comparison) -> _Scale:
    terms = comparison.terms
    lifetime = terms.carcasses_per_year * terms.write_off_years
    paid = [b.at for b in told if b.at is not None]
    most = max([1.5 * n for n in paid] + [2.0 * lifetime or _WITHOUT_VOLUME])
    if lifetime:
        most = min(most, 40 * lifetime)  # Beyond that nobody plans; the line then leaves the plot unpaid.
    carcasses = _round_up(most)
    top = max(b.outlay_cents for b in told)
    ends = [b.outlay_cents - saves * carcasses for b in told for saves in (b.saves_cents, b.saves_low_cents)]
    high = max(top * 1.15, min(max(ends), top * 1.6))
    return _Scale(carcasses, -0.45 * top, high)


def _round_up(value: float) -> float:
    step = 10 ** math.floor(math.log10(max(value, 10)))
    return float(next(s * step for s in (1, 1.5, 2, 3, 4, 5, 6, 8, 10) if s * step >= value - 1e-9))


def _steps(low: float, high: float, wanted: int) -> Iterator[float]:
    """Yield round values between two, about so many."""
    raw = (high - low) / wanted
    size = 10 ** math.floor(math.log10(raw))
    step = next(s * size for s in (1, 2, 2.5, 5, 10) if s * size >= raw - 1e-9)
    value = math.ceil(low / step) * step
    while value <= high + 1e-9:
        yield value
        value += step


def _axes(scale: _Scale, comparison: Comparison) -> Iterator[Entity]:
    height = HEIGHTS[Role.NOTE]
    for cents in _steps(scale.low, scale.high, 6):
        y = scale.y(cents)
        yield Path(points=((0.0, y), (WIDTH, y)), pen=Pen.OUTLINE if cents == 0 else Pen.EXTENSION)
        yield Text(at=(-2.0, y), text=f"{cents / 100:,.0f}", height=height, anchor=Anchor.END)
    for n in _steps(0.0, scale.carcasses, 6):
        x = scale.x(n)
        yield Path(points=((x, 0.0), (x, -1.5)), pen=Pen.THIN)
        yield Text(at=(x, -4.2), text=f"{n:,.0f}", height=height)
    yield Path(points=((0.0, HEIGHT), (0.0, 0.0), (WIDTH, 0.0)), pen=Pen.THIN)
    currency = comparison.terms.currency
    yield Text(at=(-2.0, HEIGHT + 7.5), text=f"{currency} more".strip(), height=height, anchor=Anchor.START)
    yield Text(at=(WIDTH, -9.0), text="carcasses made", height=height, anchor=Anchor.END)
    terms = comparison.terms
    lifetime = terms.carcasses_per_year * terms.write_off_years
    if 0 < lifetime < scale.carcasses:
        x = scale.x(lifetime)
        yield Path(points=((x, 0.0), (x, HEIGHT)), pen=Pen.GHOST)
        words = f"made in {terms.write_off_years:g} years: {lifetime:g}"
        yield Text(at=(x + 1.5, HEIGHT + 2.4), text=words, height=height, anchor=Anchor.START)


def _band(told: BreakEven, scale: _Scale, n: int) -> Entity:
    """Return the area between the tenth and ninetieth mark, cut off where it leaves the plot."""
    upper = _inside(told.outlay_cents, told.saves_low_cents, scale)
    lower = _inside(told.outlay_cents, told.saves_high_cents, scale)
    corners = []
    if upper[-1][1] >= HEIGHT - 1e-6:
        corners.append((WIDTH, HEIGHT))
    if lower[-1][1] <= 1e-6:
        corners.append((WIDTH, 0.0))
    points = (*upper, *corners, *reversed(lower))
    return Path(points=points, closed=True, fill=_FILLS[n])


def _inside(outlay: float, saves: float, scale: _Scale) -> list[Place]:
    """Return a falling (or rising) straight line as far as it stays within the plot."""
    end = outlay - saves * scale.carcasses
    bound = scale.low if end < scale.low else scale.high if end > scale.high else None
    last = scale.carcasses if bound is None else (outlay - bound) / saves
    return [scale.at(0.0, outlay), scale.at(last, outlay - saves * last)]


def _line(told: BreakEven, scale: _Scale, n: int) -> Entity:
    items: list[Entity] = [Path(points=tuple(_inside(told.outlay_cents, told.saves_cents, scale)), pen=_PENS[n])]
    if told.at is not None and told.at <= scale.carcasses:
        place = scale.at(told.at, 0.0)
        items.append(Circle(centre=place, radius=1.2, pen=Pen.MARK, fill=Fill(Tint.PAPER)))
        words = about(told.at)
        height = HEIGHTS[Role.FIGURE]
        items.append(
            Text(at=(place[0] + 2.0, place[1] + 3.4), text=words, height=height, anchor=Anchor.START, bold=True)
        )
    return Group(items=tuple(items), id=f"break-even-{n + 1}", name=told.dear, kind="break-even")


def _labels(told: Sequence[BreakEven], names: dict[str, str]) -> Iterator[Entity]:
    """Yield a key above the plot: a piece of each line with its band, its name, and what is laid out."""
    height = HEIGHTS[Role.NAME]
    for n, one in enumerate(told):
        y = HEIGHT + 8.0 + 6.5 * (len(told) - n)
        box = ((0.0, y - 2.0), (12.0, y - 2.0), (12.0, y + 2.0), (0.0, y + 2.0))
        yield Path(points=box, closed=True, fill=_FILLS[n])
        yield Path(points=((0.0, y), (12.0, y)), pen=_PENS[n])
        money = show_money(one.outlay_cents)
        words = f"{names[one.dear]}: {money} laid out first"
        yield Text(at=(15.0, y), text=words, height=height, anchor=Anchor.START)
