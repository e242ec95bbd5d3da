"""What a cut is called on a set-out: size and depth, as a maker writes them."""

from __future__ import annotations

from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Hole,
    Keyhole,
    SegmentPocket,
    Shape,
    Slot,
    UndercutSlot,
)


def size_words(shape: Shape, lengths: LengthWriter) -> str:
    """Return size and depth of a cut in words, as `hole \u00d88, 13 deep`.

    What a bit makes at one go keeps the bit's trade size.
    """
    n, bought = lengths.n, lengths.bought_n
    match shape:
        case Hole():
            deep = "through" if shape.through else f"{n(shape.depth)} deep"
            sunk = f", countersunk \u00d8{bought(shape.countersink)}" if shape.countersink else ""
            return f"hole \u00d8{bought(shape.diameter)}, {deep}{sunk}"
        case Slot():
            return f"slot {n(shape.length)} \u00d7 {bought(shape.width)}, {n(shape.depth)} deep"
        case Keyhole():
            entry = bought(shape.entry_diameter)
            return f"keyhole, entry \u00d8{entry}, travel {n(shape.travel)}, {n(shape.depth)} deep"
        case SegmentPocket():
            return f"disc pocket {lengths.outcome_n(shape.chord)} \u00d7 {bought(shape.width)}, {n(shape.depth)} deep"
        case UndercutSlot():
            return f"undercut slot {n(shape.length)} \u00d7 {bought(shape.width)}, {n(shape.depth)} deep"
        case Channel():
            return f"{shape.kind} {n(shape.width)} wide, {n(shape.depth)} deep, {n(shape.length)} long"
        case CutOut():
            return _cut_out_words(shape, n(shape.length), n(shape.height), n(shape.corner))
        case AngledPocket():
            return f"pocket \u00d8{bought(shape.diameter)} at {shape.angle_deg:g}\u00b0, {n(shape.length)} long"


def _cut_out_words(shape: CutOut, length: str, height: str, corner: str) -> str:
    match shape.outline:
        case "round":
            return f"cut-out \u00d8{length}, through"
        case "slot":
            return f"cut-out {length} \u00d7 {height}, round ends, through"
        case "scoop":
            return f"scoop {length} \u00d7 {height}, corners {corner}"
    return f"notch {length} \u00d7 {height}"
