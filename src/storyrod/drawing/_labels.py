"""Placing words so that none overlaps another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from storyrod.drawing._types import Bounds, Place, Text, text_box


def spread(wanted: Sequence[float], gap: float) -> tuple[float, ...]:
    """Return places as near to `wanted` as can be, in the same order, no two closer than `gap`.

    Least squares with a least distance: neighbours that are too close are joined into a block that stands about the
    mean of what its members want (the pool-adjacent-violators method). `wanted` may be in any order.
    """
    order = sorted(range(len(wanted)), key=lambda n: (wanted[n], n))
    blocks: list[tuple[float, int]] = []  # the mean wanted by the block's first member, and how many it has
    for place, n in enumerate(order):
        mean, count = wanted[n] - place * gap, 1
        while blocks and blocks[-1][0] > mean:
            before, many = blocks.pop()
            mean = (before * many + mean * count) / (many + count)
            count += many
        blocks.append((mean, count))
    firsts = [mean for mean, count in blocks for _ in range(count)]
    placed = [0.0] * len(wanted)
    for place, n in enumerate(order):
        placed[n] = firsts[place] + place * gap
    return tuple(placed)


@dataclass(slots=True)
class Taken:
    """The rectangles already taken in a drawing; a new word looks for one that is free.

    Kept in squares of 10 mm on paper, so that asking stays quick with hundreds of words. `unit` is mm of the thing
    drawn for one on paper.
    """

    unit: float
    _cells: dict[tuple[int, int], list[Bounds]] = field(default_factory=dict)
    _thin: set[Bounds] = field(default_factory=set)

    def take(self, box: Bounds, *, thin: bool = False) -> None:
        """Note that `box` is taken; by an extension line where `thin`, which may be broken for a word."""
        if thin:
            self._thin.add(box)
        for key in self._keys(box):
            self._cells.setdefault(key, []).append(box)

    def is_free(self, box: Bounds, gap: float = 0.0, *, over_thin: bool = False) -> bool:
        """Return whether nothing taken comes closer to `box` than `gap`; extension lines do not count `over_thin`."""
        left, right, bottom, top = box.left - gap, box.right + gap, box.bottom - gap, box.top + gap
        c, cells = 10.0 * self.unit, self._cells
        for i in range(int(left // c), int(right // c) + 1):
            for j in range(int(bottom // c), int(top // c) + 1):
                for other in cells.get((i, j), ()):  # as `meets`, which is asked here hundreds of thousands of times
                    if left < other.right and other.left < right and bottom < other.top and other.bottom < top:
                        if over_thin and other in self._thin:
                            continue
                        return False
        return True

    def stretches(self, start: Place, end: Place, gap: float) -> list[tuple[Place, Place]]:
        """Return the parts of a line that keep `gap` to all that is taken: a leader never strikes a figure through.

        The line is level or upright; parts come in the order from `start` to `end`.
        """
        n = 0 if start[1] == end[1] else 1
        low, high = sorted((start[n], end[n]))
        across = start[1 - n]
        (left, right), (bottom, top) = ((low, high), (across, across))[:: 1 if n == 0 else -1]
        line = Bounds(left=left, bottom=bottom, right=right, top=top)
        wide = line.grown(gap)
        met = {box for key in self._keys(wide) for box in self._cells.get(key, ()) if wide.meets(box)}
        struck = sorted((b.left - gap, b.right + gap) if n == 0 else (b.bottom - gap, b.top + gap) for b in met)
        parts, at = [], low
        for first, last in struck:
            if first > at:
                parts.append((at, min(first, high)))
            at = max(at, last)
        if at < high:
            parts.append((at, high))

        def place(value: float) -> Place:
            return (value, across) if n == 0 else (across, value)

        found = [(place(a), place(b)) for a, b in parts if b > a]
        return found if start[n] <= end[n] else [(b, a) for a, b in reversed(found)]

    def first_free(
        self, texts: Iterable[Text], unit: float, gap: float = 0.0, *, over_thin: bool = False
    ) -> Text | None:
        """Return the first of `texts` that stands free, and take its place; None where none does.

        `over_thin` lets it stand on extension lines.
        """
        for text in texts:
            box = text_box(text, unit)
            if self.is_free(box, gap, over_thin=over_thin):
                self.take(box)
                return text
        return None

    def _keys(self, box: Bounds) -> list[tuple[int, int]]:
        c = 10.0 * self.unit
        return [
            (i, j)
            for i in range(int(box.left // c), int(box.right // c) + 1)
            for j in range(int(box.bottom // c), int(box.top // c) + 1)
        ]
