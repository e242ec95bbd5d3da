"""The scale at which a drawing fits its room."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable

from storyrod.drawing._drawing import Drawing

USUAL = (
    0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0,
    25.0, 30.0, 35.0, 40.0, 50.0, 60.0, 75.0, 100.0, 150.0, 200.0,
)  # fmt: skip
"""Scales a drawing may have, as mm of the thing for one mm on paper."""


_MOST = 8  # scales tried below the one worked out
_LEAST = 0.3  # of the room that is left to the thing itself, however much its words take up
_HOPE = 1.08  # a larger scale is tried where it misses by no more than this by what words took at the smaller one


def fitted(draw: Callable[[float], Drawing], room: tuple[float, float], size: tuple[float, float]) -> Drawing:
    """Return the drawing at the largest usual scale at which it fits `room`.

    Where its words need nearly all of the room or more, the thing keeps a share of it, by which the drawing goes
    beyond: what is too small to be seen says nothing.

    `size` is that of the thing itself (mm). A first drawing shows how much paper the words and gaps round it need; from
    that the scale is worked out, tried, and made smaller, or larger by a step, where that proves wrong.
    """
    tried = _Tried(draw, room)
    first = _enough(size, (room[0] * 0.7, room[1] * 0.7))
    step = _enough(size, tried.left_over(first, size))
    if tried.fits(step):
        larger = step and _enough(size, _grown(tried.left_over(step, size))) < step
        return tried.at(step - 1) if larger and tried.fits(step - 1) else tried.at(step)
    for smaller in range(step + 1, min(step + _MOST, len(USUAL))):
        if tried.fits(smaller):
            return tried.at(smaller)
    return tried.least()


class _Tried:
    """Drawings by scale, each drawn and measured once."""

    def __init__(self, draw: Callable[[float], Drawing], room: tuple[float, float]) -> None:
        self._draw = draw
        self._room = room
        self._known: dict[int, tuple[Drawing, tuple[float, float]]] = {}

    def at(self, step: int) -> Drawing:
        """Return the drawing at a scale."""
        return self._measured(step)[0]

    def _measured(self, step: int) -> tuple[Drawing, tuple[float, float]]:
        if step not in self._known:
            drawing = self._draw(USUAL[step])
            self._known[step] = drawing, drawing.paper_size
        return self._known[step]

    def fits(self, step: int) -> bool:
        """Return whether the drawing at a scale fits the room."""
        width, height = self._measured(step)[1]
        return width <= self._room[0] and height <= self._room[1]

    def left_over(self, step: int, size: tuple[float, float]) -> tuple[float, float]:
        """Return the paper left for the thing itself, when words and gaps take what they take at a scale."""
        drawing, paper = self._measured(step)
        taken = [whole - thing / drawing.unit for whole, thing in zip(paper, size, strict=True)]
        left = self._room[0] - taken[0], self._room[1] - taken[1]
        return max(left[0], _LEAST * self._room[0]), max(left[1], _LEAST * self._room[1])

    def least(self) -> Drawing:
        """Return the drawing that goes least beyond the room, in its worse direction."""
        width, height = self._room

        def beyond(told: tuple[Drawing, tuple[float, float]]) -> tuple[float, float]:
            drawing, paper = told
            return round(max(paper[0] / width, paper[1] / height), 2), drawing.unit

        return min(self._known.values(), key=beyond)[0]


def _grown(room: tuple[float, float]) -> tuple[float, float]:
    return room[0] * _HOPE, room[1] * _HOPE


def _enough(size: tuple[float, float], room: tuple[float, float]) -> int:
    """The place in `USUAL` of the largest scale at which `size` goes into `room`."""
    wanted = max(s / r if r > 1 else USUAL[-1] for s, r in zip(size, room, strict=True))
    return min(bisect_left(USUAL, wanted - 1e-9), len(USUAL) - 1)
