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


def fitted(draw: Callable[[float], Drawing], room: tuple[float, float], size: tuple[float, float]) -> Drawing:
    """Return the drawing at the largest usual scale at which it fits `room`.

    Where its words alone need more than the room, the drawing that goes least beyond it.

    `size` is that of the thing itself (mm). A first drawing shows how much paper the words and gaps round it need; from
    that the scale is worked out, tried, and made smaller, or larger by a step, where that proves wrong.
    """
    first = _enough(size, (room[0] * 0.7, room[1] * 0.7))
    drawings = {first: draw(USUAL[first])}

    def at(step: int) -> Drawing:
        if step not in drawings:
            drawings[step] = draw(USUAL[step])
        return drawings[step]

    step = _enough(size, _left_over(drawings[first], room, size))
    if _fits(at(step), room):
        return at(step - 1) if step and _fits(at(step - 1), room) else at(step)
    for smaller in range(step + 1, min(step + _MOST, len(USUAL))):
        if _fits(at(smaller), room):
            return at(smaller)
    return min(drawings.values(), key=lambda d: (round(_overflow(d, room), 2), d.unit))


def _overflow(drawing: Drawing, room: tuple[float, float]) -> float:
    """How many times larger than its room a drawing is, in the worse direction."""
    width, height = drawing.paper_size
    return max(width / room[0], height / room[1])


def _fits(drawing: Drawing, room: tuple[float, float]) -> bool:
    width, height = drawing.paper_size
    return width <= room[0] and height <= room[1]


def _left_over(drawing: Drawing, room: tuple[float, float], size: tuple[float, float]) -> tuple[float, float]:
    """The paper left for the thing itself, when words and gaps take what they took in `drawing`."""
    taken = [whole - thing / drawing.unit for whole, thing in zip(drawing.paper_size, size, strict=True)]
    return room[0] - taken[0], room[1] - taken[1]


def _enough(size: tuple[float, float], room: tuple[float, float]) -> int:
    """The place in `USUAL` of the largest scale at which `size` goes into `room`."""
    wanted = max(s / r if r > 1 else USUAL[-1] for s, r in zip(size, room, strict=True))
    return min(bisect_left(USUAL, wanted - 1e-9), len(USUAL) - 1)
