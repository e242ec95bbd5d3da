"""Frames and their diagonals."""

from __future__ import annotations

import math


def diagonal_difference(width: float, height: float, lean: float) -> float:
    """Return by how much (mm) the diagonals of a frame differ when its top leans over by `lean`.

    Exact for a parallelogram: the root of (w + s)^2 + h^2 less the root of (w - s)^2 + h^2 (plane geometry).
    """
    return math.hypot(width + lean, height) - math.hypot(width - lean, height)
