"""What kinds of cuts are called, in the plural and with their size."""

from __future__ import annotations

from typing import Final

from storyrod.machining._needs import Need
from storyrod.measure.writing import LengthWriter
from storyrod.model.feature import Channel, CutOut
from storyrod.model.workshop import Cutter

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


def cutter_words(cutter: Cutter, lengths: LengthWriter) -> str:
    """Return what a cutter is called, as `drill 8`, or `drill 8 mm` in an inch job."""
    return f"{cutter.kind.value} {lengths.bought_n(cutter.diameter)}"


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
