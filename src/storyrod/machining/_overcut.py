"""How far a round blade runs past a corner: why no saw of the table or the rail cuts a notch."""

from __future__ import annotations

import math
from typing import Final

from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import CutOut, Shape
from storyrod.model.workshop import Cutter, CutterKind

BLADE_BELOW: Final = 3.0
"""A saw blade reaches at least this far through the board (mm); common practice, no source."""

LEAST_OVERCUT: Final = 0.5
"""A blade that runs less far past a corner leaves no more than a scratch (mm); design of the project."""


def overcut(diameter: float, board: float) -> float:
    """Return how far a round blade runs past a corner on the worked face when it has cut the corner through below.

    Geometry of the circle: a blade of radius R that goes h deep is 2 sqrt(2 R h - h^2) long on the surface. It is
    half as long as that at the worked face, h = board + 3, less half as long as it is at the far face, h = 3.
    """
    radius = diameter / 2
    top, low = (math.sqrt(max(0.0, 2 * radius * h - h * h)) for h in (min(board + BLADE_BELOW, radius), BLADE_BELOW))
    return top - low


def overcut_words(cutter: Cutter | None, shape: Shape, lengths: LengthWriter) -> str:
    """Return what is missing where a round blade would run past the corner of a cut-out, or ""."""
    if not isinstance(shape, CutOut) or cutter is None or cutter.kind is not CutterKind.SAW_BLADE:
        return ""
    past = overcut(cutter.diameter, shape.depth)
    if past <= LEAST_OVERCUT:
        return ""
    size = lengths.told_size(shape.length, shape.height)
    return (
        f"a hand saw or a jigsaw for the notch of {size} "
        f"(a blade of {lengths.bought(cutter.diameter)} would run {lengths.about(past)} "
        "past its corner)"
    )
