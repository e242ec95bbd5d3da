"""Arithmetic of guide bushes, templates, fences and plunges.

Source: geometry; the same sums stand in a forum's thread on guide bush sums (2004) and in every router's manual. All
lengths in mm; `bush` is the outside diameter that runs in the template, `cutter` the cutting diameter (of a cutter with
a neck, the neck's).
"""

from __future__ import annotations

from storyrod.faults import Fault, JobError
from storyrod.measure.writing import METRIC


def bush_offset(bush: float, cutter: float) -> float:
    """Return the distance from the bush's outside to the cutting edge, `(bush - cutter) / 2`.

    Raises:
        JobError: for a bush smaller than its cutter; equal ones are a bearing-guided cutter, offset 0.
    """
    if bush < cutter:
        raise JobError(
            Fault(
                code="bush-small",
                field="bushes",
                found=f"a bush of {METRIC.bought(bush)} for a cutter of {METRIC.bought(cutter)}",
                allowed="a bush wider than its cutter",
                do="Use a wider bush or a thinner cutter.",
            )
        )
    return (bush - cutter) / 2


def template_opening(cut: float, bush: float, cutter: float) -> float:
    """Return the template's opening for a cut that wide or long, `cut + (bush - cutter)`."""
    return cut + 2 * bush_offset(bush, cutter)


def cut_from_opening(opening: float, bush: float, cutter: float) -> float:
    """Return what an opening in a template cuts, `opening - bush + cutter`."""
    return opening - 2 * bush_offset(bush, cutter)


def opening_corner(corner: float, bush: float, cutter: float) -> float:
    """Return the corner radius of an opening for a cut whose inner corners have that radius; 0 stays sharp."""
    return corner + bush_offset(bush, cutter) if corner else 0.0


def corner_of_cut(corner: float, bush: float, cutter: float) -> float:
    """Return the radius of the cut's corner for an opening with that corner radius.

    A corner tighter than the bush leaves the bush's centre a sharp turn: the cutter's own radius remains.
    """
    return cutter / 2 if corner < bush / 2 else corner - bush_offset(bush, cutter)


def near_wall_from_base(base_half: float, cutter: float) -> float:
    """Return how far the near wall lies from a fence that the tool's base runs along, `base_half - cutter / 2`."""
    return base_half - cutter / 2


def plunge(template: float, depth: float) -> float:
    """Return the depth stop's setting: template thickness and depth of cut together."""
    return template + depth


def packer_for_base(base_to_centre: float, wanted: float) -> float:
    """Return `base_to_centre - wanted`: above 0 the packer lies under the work, below 0 under the tool."""
    return base_to_centre - wanted
