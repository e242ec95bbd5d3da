"""The neutral drawing: what every figure is made of and every writer reads.

Coordinates are millimetres of the thing drawn, x to the right and y up. Text heights, line widths and gaps are
millimetres on paper; `Drawing.unit` says how many mm of the thing are one mm on paper (10 for a scale of
1:10), so that one drawing serves paper, screen and a file at true size.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from storyrod.drawing._lettering import CAP, width_of
from storyrod.drawing._pens import Fill, Pen, Role

Place = tuple[float, float]


class Anchor(StrEnum):
    """Which part of a text stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """A line, a chain of lines and arcs, or an area.

    `bulges` belong to the piece that starts at each point: the tangent of a quarter of the arc's angle, positive
    for an arc that turns left (counter-clockwise), 0 for a straight piece.
    """

    points: tuple[Place, ...]
    pen: Pen | None = None
    bulges: tuple[float, ...] = ()
    closed: bool = False
    fill: Fill | None = None
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle, filled or not."""

    centre: Place
    radius: float
    pen: Pen | None = None
    fill: Fill | None = None
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A piece of a circle, counter-clockwise from `start_deg` to `end_deg`, from the x axis."""

    centre: Place
    radius: float
    start_deg: float
    end_deg: float
    pen: Pen = Pen.THIN
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text, centred on `at` in height; `height` of its figures in mm on paper."""

    at: Place
    text: str
    height: float
    anchor: Anchor = Anchor.MIDDLE
    angle_deg: float = 0.0
    bold: bool = False
    role: Role = Role.NOTE
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """One value of a running dimension.

    Attributes:
        at: where it lies along the dimension's axis.
        start: where its extension line starts, across the axis.
        label_at: where its figure stands along the axis, after neighbours were moved apart.
        value: the figure itself in mm.
        text: the figure as it is written; empty where it is left out.
        is_step: whether it tells the step of an even row whose other figures are left out.
        shown: from where to where its extension line is drawn, across the axis, where words break it; the whole of it
            where None.
    """

    at: float
    start: float
    label_at: float
    value: float
    text: str
    is_step: bool = False
    shown: tuple[tuple[float, float], ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """Running dimensions from one origin, after ISO 129-1: nothing is added up in the head.

    `along_x` says which way they run; `origin` is the datum; the dimension line lies at `line_at` across the axis,
    the figures beyond it, to the side of `toward` (+1 or -1).
    """

    origin: Place
    along_x: bool
    line_at: float
    toward: int
    stops: tuple[Stop, ...]
    height: float
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """One length between two places, its line `away` from them (to the left of the way from a to b if positive)."""

    a: Place
    b: Place
    away: float
    text: str
    height: float
    layer: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Entities that belong to one thing. `id` names it to the page, `name` says it to a reader."""

    items: tuple[Entity, ...]
    id: str = ""
    name: str = ""
    kind: str = ""


Entity = Path | Circle | Arc | Text | Running | Dimension | Group


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """An upright rectangle in the drawing."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Its extent to the right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Its extent upward."""
        return self.top - self.bottom

    def grown(self, by: float) -> Bounds:
        """Return it larger by `by` on every side."""
        return Bounds(left=self.left - by, bottom=self.bottom - by, right=self.right + by, top=self.top + by)

    def meets(self, other: Bounds, gap: float = 0.0) -> bool:
        """Return whether the two come closer than `gap`."""
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.bottom < other.top + gap
            and other.bottom < self.top + gap
        )

    def holds(self, other: Bounds, slack: float = 1e-6) -> bool:
        """Return whether `other` lies wholly within it."""
        return (
            self.left <= other.left + slack
            and self.bottom <= other.bottom + slack
            and self.right >= other.right - slack
            and self.top >= other.top - slack
        )


def width_in(text: Text, unit: float) -> float:
    """Return how wide a text comes out, in mm of the thing drawn."""
    return width_of(text.text, text.height * unit, bold=text.bold)


def text_corners(text: Text, unit: float) -> tuple[Place, Place, Place, Place]:
    """Return the corners of the box a text fills, with room above and below for strokes that reach out."""
    height = text.height * unit
    width = width_of(text.text, height, bold=text.bold)
    left = -_before(text.anchor, width)
    half = height * 0.62
    if not text.angle_deg:
        (x, y), right = text.at, left + width
        return (x + left, y - half), (x + right, y - half), (x + right, y + half), (x + left, y + half)
    cos, sin = math.cos(math.radians(text.angle_deg)), math.sin(math.radians(text.angle_deg))

    def turned(x: float, y: float) -> Place:
        return text.at[0] + x * cos - y * sin, text.at[1] + x * sin + y * cos

    right = left + width
    return turned(left, -half), turned(right, -half), turned(right, half), turned(left, half)


def _before(anchor: Anchor, width: float) -> float:
    """Return how much of a text's width lies before its place."""
    if anchor is Anchor.MIDDLE:
        return width / 2
    return width if anchor is Anchor.END else 0.0


def text_box(text: Text, unit: float) -> Bounds:
    """Return the upright rectangle that a text fills."""
    if text.angle_deg:
        return around(text_corners(text, unit))
    height = text.height * unit
    width = width_of(text.text, height, bold=text.bold)
    left = text.at[0] - _before(text.anchor, width)
    half, y = height * 0.62, text.at[1]
    return Bounds(left=left, bottom=y - half, right=left + width, top=y + half)


def foot_of(text: Text, unit: float) -> Place:
    """Return where the foot of the text stands: its place, half a figure's height down as it is turned."""
    down = text.height * unit / 2
    angle = math.radians(text.angle_deg)
    return text.at[0] + down * math.sin(angle), text.at[1] - down * math.cos(angle)


def em_of(text: Text, unit: float) -> float:
    """Return the em (the font's size) of a text in mm of the thing drawn."""
    return text.height * unit / CAP


def around(corners: Iterable[Place]) -> Bounds:
    """Return the rectangle that holds all `corners`, of which there is one at least."""
    xs, ys = zip(*corners, strict=True)
    return Bounds(left=min(xs), bottom=min(ys), right=max(xs), top=max(ys))
