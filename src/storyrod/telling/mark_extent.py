"""From where to where a cut goes along an axis of its panel: as set-out sheets and bench cards tell it."""

from __future__ import annotations

from typing import Literal

from storyrod.model.feature import Channel, CutOut
from storyrod.model.mark import Mark
from storyrod.model.panel import Panel

PlaceAxis = Literal["u", "v", "w"]


def extent(mark: Mark, panel: Panel, axis: PlaceAxis) -> tuple[float, float]:
    """Return from where to where a channel or notch goes along an axis; of all else, its middle twice. In mm."""
    at = float(getattr(mark, axis))
    shape = mark.feature.shape
    if isinstance(shape, Channel):
        half = (shape.length if shape.run.value == axis else shape.width) / 2
        return at - half, at + half
    if isinstance(shape, CutOut) and is_channel(mark):
        if shape.run.value == axis:
            return at - shape.length / 2, at + shape.length / 2
        size = {"u": panel.length, "v": panel.width, "w": panel.thickness}[axis]
        return (0.0, shape.height) if at < size / 2 else (size - shape.height, size)
    return at, at


def is_channel(mark: Mark) -> bool:
    """Whether a cut is told by its walls and ends instead of its middle."""
    shape = mark.feature.shape
    return isinstance(shape, Channel) or (isinstance(shape, CutOut) and shape.outline in ("notch", "scoop"))
