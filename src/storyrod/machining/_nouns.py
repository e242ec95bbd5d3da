"""What kinds of cuts are called, in the plural and with their size."""

from __future__ import annotations

from typing import Final

from storyrod.machining._needs import Need
from storyrod.model.feature import Channel, CutOut

_NOUNS: Final = {
    "hole": "holes",
    "slot": "slots",
    "keyhole": "keyholes",
    "segment pocket": "biscuit slots",
    "undercut slot": "undercut slots",
    "groove": "grooves",
    "housing": "housings",
    "rebate": "rebates",
    "cut-out": "cut-outs",
    "angled pocket": "screw pockets",
}


def noun_of(need: Need) -> str:
    """Return what a need cuts, as `holes 8` or `cut-outs 110 x 28`."""
    noun, shape = _NOUNS.get(need.kind, need.kind), need.first
    if isinstance(shape, CutOut):
        n = need.lengths.n
        size = n(shape.length)
        noun = "notches" if shape.outline == "notch" else noun
        return f"{noun} {size}" if shape.outline == "round" else f"{noun} {size} x {n(shape.height)}"
    if isinstance(shape, Channel):
        return f"{noun} {need.lengths.n(shape.width)}"
    for name in ("diameter", "width", "disc", "entry_diameter"):
        value = getattr(shape, name, None)
        if value is not None:
            return f"{noun} {need.lengths.bought_n(float(value))}"
    return noun
