"""What a cut is called on a set-out: size and depth, as a maker writes them."""

from __future__ import annotations

from storyrod.measure.length import Unit, show_length
from storyrod.model.feature import (
    AngledPocket,
    Channel,
    CutOut,
    Hole,
    Keyhole,
    ProfileSlot,
    SegmentPocket,
    Shape,
    Slot,
)


def size_words(shape: Shape, unit: Unit, parts: int) -> str:
    """Return size and depth of a cut in words, as `hole \u00d88, 13 deep`."""

    def n(mm: float) -> str:
        return show_length(mm, unit, parts)

    match shape:
        case Hole():
            deep = "through" if shape.through else f"{n(shape.depth)} deep"
            sunk = f", countersunk \u00d8{n(shape.countersink)}" if shape.countersink else ""
            return f"hole \u00d8{n(shape.diameter)}, {deep}{sunk}"
        case Slot():
            return f"slot {n(shape.length)} \u00d7 {n(shape.width)}, {n(shape.depth)} deep"
        case Keyhole():
            return f"keyhole, entry \u00d8{n(shape.entry_diameter)}, travel {n(shape.travel)}, {n(shape.depth)} deep"
        case SegmentPocket():
            return f"disc pocket {n(shape.chord)} \u00d7 {n(shape.width)}, {n(shape.depth)} deep"
        case ProfileSlot():
            return f"profile slot {n(shape.length)} \u00d7 {n(shape.width)}, {n(shape.depth)} deep"
        case Channel():
            return f"{shape.kind} {n(shape.width)} wide, {n(shape.depth)} deep, {n(shape.length)} long"
        case CutOut():
            return _cut_out_words(shape, n(shape.length), n(shape.height), n(shape.corner))
        case AngledPocket():
            return f"pocket \u00d8{n(shape.diameter)} at {shape.angle_deg:g}\u00b0, {n(shape.length)} long"


def _cut_out_words(shape: CutOut, length: str, height: str, corner: str) -> str:
    match shape.outline:
        case "round":
            return f"cut-out \u00d8{length}, through"
        case "slot":
            return f"cut-out {length} \u00d7 {height}, round ends, through"
        case "scoop":
            return f"scoop {length} \u00d7 {height}, corners {corner}"
    return f"notch {length} \u00d7 {height}"
