"""Plain layer names of our own for drawing files: what a line is, and for a cut its kind, size, depth and surface."""

from __future__ import annotations

from storyrod.measure.length import show_mm
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
from storyrod.model.panel import Surface

OUTLINE = "OUTLINE"
JOINTS = "JOINT LINES"
DIMENSIONS = "DIMENSIONS"
DATUM = "DATUM"
SIGNS = "FACE AND EDGE MARKS"
GRAIN = "GRAIN"
WORDS = "WORDS"
AXES = "AXES"


def outline_layer(surface: Surface) -> str:
    """Return the layer of a surface's outline: `OUTLINE` for the faces, `FAR END OUTLINE` and so on for the edges."""
    return OUTLINE if surface in {Surface.FACE, Surface.FAR_FACE} else f"{surface.upper()} {OUTLINE}"


def cut_layer(surface: Surface, shape: Shape) -> str:
    """Return the layer of a cut: `HOLE D8 DEEP 13` on the face side, the surface named before it elsewhere."""
    where = "" if surface is Surface.FACE else f"{surface.upper()} "
    return where + _size(shape) + _depth(shape)


def _depth(shape: Shape) -> str:
    through = isinstance(shape, CutOut) or (isinstance(shape, Hole) and shape.through)
    return " THROUGH" if through else f" DEEP {show_mm(shape.depth)}"


def _size(shape: Shape) -> str:
    match shape:
        case Hole():
            sunk = f" SUNK D{show_mm(shape.countersink)}" if shape.countersink else ""
            return f"HOLE D{show_mm(shape.diameter)}{sunk}"
        case Slot():
            return f"SLOT {show_mm(shape.length)} X {show_mm(shape.width)}"
        case Keyhole():
            return f"KEYHOLE D{show_mm(shape.entry_diameter)} NECK {show_mm(shape.slot_width)}"
        case SegmentPocket():
            return f"POCKET {show_mm(shape.chord, 1)} X {show_mm(shape.width)}"
        case UndercutSlot():
            return f"UNDERCUT SLOT {show_mm(shape.length)} X {show_mm(shape.width)}"
        case Channel():
            return f"{shape.kind.upper()} {show_mm(shape.width)} WIDE"
        case CutOut():
            return f"CUT-OUT {shape.outline.upper()}"
        case AngledPocket():
            return f"ANGLED POCKET D{show_mm(shape.diameter)} AT {shape.angle_deg:g} DEG"
