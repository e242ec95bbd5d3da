"""Panels as blocks: what is left of a panel where another is let in, and what a moving block sweeps over.

A `Block` is (x low, y low, z low, x high, y high, z high) in the case frame, in mm. Directions are numbered:
+x, -x, +y, -y, +z, -z; a direction's reverse is its number with the last bit turned.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from storyrod.measure.space import AXES, Box, Direction
from storyrod.model.feature import Channel, Feature
from storyrod.model.panel import Panel
from storyrod.model.removal import removed

Block = tuple[float, float, float, float, float, float]

WAYS: Final = (
    Direction.RIGHT,
    Direction.LEFT,
    Direction.BACKWARD,
    Direction.FORWARD,
    Direction.UP,
    Direction.DOWN,
)
NUMBER: Final = {way: i for i, way in enumerate(WAYS)}

GRAZE: Final = 1e-3
"""Blocks that share less than this do not stop each other (mm)."""


def block_of(box: Box) -> Block:
    """Return a box as a block."""
    lo, hi = box.low, box.high
    return (lo.x, lo.y, lo.z, hi.x, hi.y, hi.z)


def channels_of(panel: Panel, fittings: Iterable[Feature]) -> tuple[Block, ...]:
    """Return the grooves and rebates that the carcass cut into a panel."""
    found = []
    for feature in fittings:
        if feature.panel == panel.id and isinstance(feature.shape, Channel):
            for solid in removed(feature):
                low, high = panel.frame.to_case(solid.bounds.low), panel.frame.to_case(solid.bounds.high)
                a, b = [low.along(x) for x in AXES], [high.along(x) for x in AXES]
                found.append((*map(min, a, b), *map(max, a, b)))
    return tuple(_block(f) for f in found)


def _block(values: tuple[float, ...]) -> Block:
    x0, y0, z0, x1, y1, z1 = values
    return (x0, y0, z0, x1, y1, z1)


def common(a: Block, b: Block) -> Block | None:
    """Return the block that two share, or None where they share no more than a graze."""
    low = [max(a[i], b[i]) for i in range(3)]
    high = [min(a[i + 3], b[i + 3]) for i in range(3)]
    if any(high[i] - low[i] <= GRAZE for i in range(3)):
        return None
    return _block((*low, *high))


def without(blocks: tuple[Block, ...], hole: Block) -> tuple[Block, ...]:
    """Return what is left of `blocks` when `hole` is taken out, in as few blocks as slicing gives."""
    left: list[Block] = []
    for block in blocks:
        shared = common(block, hole)
        if shared is None:
            left.append(block)
            continue
        rest = list(block)
        for axis in range(3):
            if shared[axis] - rest[axis] > GRAZE:
                piece = [*rest]
                piece[axis + 3] = shared[axis]
                left.append(_block(tuple(piece)))
                rest[axis] = shared[axis]
            if rest[axis + 3] - shared[axis + 3] > GRAZE:
                piece = [*rest]
                piece[axis] = shared[axis + 3]
                left.append(_block(tuple(piece)))
                rest[axis + 3] = shared[axis + 3]
    return tuple(left)


def moved(block: Block, way: int, by: float) -> Block:
    """Return the block moved `by` mm in a direction."""
    axis, step = way >> 1, -by if way & 1 else by
    values = list(block)
    values[axis] += step
    values[axis + 3] += step
    return _block(tuple(values))


def hits(mover: Block, still: Block, way: int, by: float | None) -> bool:
    """Return whether `mover`, going `by` mm (to the end of the world for None) in a direction, meets `still`."""
    axis = way >> 1
    for i in range(3):
        if i != axis and (mover[i + 3] - still[i] <= GRAZE or still[i + 3] - mover[i] <= GRAZE):
            return False
    if way & 1:
        ahead = mover[axis + 3] - still[axis] > GRAZE
        reached = by is None or still[axis + 3] - (mover[axis] - by) > GRAZE
    else:
        ahead = still[axis + 3] - mover[axis] > GRAZE
        reached = by is None or mover[axis + 3] + by - still[axis] > GRAZE
    return ahead and reached
