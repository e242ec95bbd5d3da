"""A whole drawing, and how its groups and dimensions are opened into plain lines and words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from storyrod.drawing._dimensions import parts_of
from storyrod.drawing._types import (
    Arc,
    Bounds,
    Circle,
    Dimension,
    Entity,
    Group,
    Path,
    Place,
    Running,
    Text,
    around,
    text_corners,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """One drawing that answers one question.

    Attributes:
        id: names it among the drawings of a job; letters, figures, dots and dashes.
        title: what it shows, in a few words.
        alt: the same for who cannot see it, in a sentence or two.
        unit: mm of the thing drawn for one mm on paper.
        notes: sentences that belong under it.
        window: what of it is shown; all of it, with a small margin, where None.
    """

    id: str
    title: str
    alt: str
    items: tuple[Entity, ...]
    unit: float = 1.0
    notes: tuple[str, ...] = ()
    window: Bounds | None = None
    _measured: list[Bounds] = field(default_factory=list, init=False, repr=False, compare=False)

    @property
    def bounds(self) -> Bounds:
        """The rectangle that holds everything shown, in mm of the thing drawn; measured once."""
        if self.window is not None:
            return self.window
        if not self._measured:
            self._measured.append(bounds_of(self.items, self.unit).grown(1.0 * self.unit))
        return self._measured[0]

    @property
    def paper_size(self) -> tuple[float, float]:
        """Its width and height on paper in mm."""
        bounds = self.bounds
        return bounds.width / self.unit, bounds.height / self.unit

    @property
    def scale(self) -> str:
        """The scale as it is written, `1:10` or `full size`."""
        if abs(self.unit - 1) < 1e-9:
            return "full size"
        return f"1:{self.unit:g}" if self.unit > 1 else f"{1 / self.unit:g}:1"

    def flat(self) -> Iterator[Path | Circle | Arc | Text]:
        """Return every entity with groups opened and dimensions drawn out."""
        return flattened(self.items, self.unit)


def flattened(items: Iterable[Entity], unit: float) -> Iterator[Path | Circle | Arc | Text]:
    """Return the plain entities that groups and dimensions are made of."""
    for item in items:
        if isinstance(item, Group):
            yield from flattened(item.items, unit)
        elif isinstance(item, Running | Dimension):
            yield from parts_of(item, unit)
        else:
            yield item


def bounds_of(items: Iterable[Entity], unit: float) -> Bounds:
    """Return the rectangle that holds all `items`, or an empty one at the origin."""
    corners: list[Place] = []
    for item in flattened(items, unit):
        if isinstance(item, Path):
            corners.extend(item.points)
            corners.extend(_bulge_corners(item))
        elif isinstance(item, Text):
            corners.extend(text_corners(item, unit))
        else:
            (x, y), r = item.centre, item.radius
            corners += [(x - r, y - r), (x + r, y + r)]
    return around(corners) if corners else Bounds(left=0, bottom=0, right=0, top=0)


def _bulge_corners(path: Path) -> Iterator[Place]:
    """The whole circle's extremes would be too much: half a chord beside the middle of each arc is enough."""
    count = len(path.points)
    for n, bulge in enumerate(path.bulges):
        if bulge and (path.closed or n + 1 < count):
            (x0, y0), (x1, y1) = path.points[n], path.points[(n + 1) % count]
            middle = (x0 + x1) / 2 + bulge * (y1 - y0) / 2, (y0 + y1) / 2 - bulge * (x1 - x0) / 2
            yield middle
