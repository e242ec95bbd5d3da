"""Arithmetic of guide bushes, templates, fences and plunges.

Source: geometry; the same sums stand in a forum's thread on guide bush sums (2004) and in every router's manual. All
lengths in mm; `bush` is the outside diameter that runs in the template, `cutter` the cutting diameter.
"""

from __future__ import annotations

import math

from storyrod.faults import Fault, JobError


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
                found=f"a bush of {bush:g} mm for a cutter of {cutter:g} mm",
                allowed="a bush wider than its cutter",
                do="Take a wider bush or a thinner cutter.",
            )
        )
    return (bush - cutter) / 2


def template_opening(cut: float, bush: float, cutter: float) -> float:
    """Return the template's opening for a cut that wide or long, `cut + (bush - cutter)`."""
    return cut + 2 * bush_offset(bush, cutter)


def cut_from_opening(opening: float, bush: float, cutter: float) -> float:
    """Return what an opening in a template cuts, `opening - bush + cutter`."""
    return opening - 2 * bush_offset(bush, cutter)


def part_round_template(template: float, bush: float, cutter: float) -> float:
    """Return the size of the part kept when the bush runs round the outside of a template."""
    return template + 2 * bush_offset(bush, cutter)


def walls_from_straight_edge(bush: float, cutter: float) -> tuple[float, float]:
    """Return how far the near and the far wall of a cut lie from a straight edge that the bush runs along."""
    return bush_offset(bush, cutter), (bush + cutter) / 2


def near_wall_from_base(base_half: float, cutter: float) -> float:
    """Return how far the near wall lies from a fence that the tool's base runs along, `base_half - cutter / 2`."""
    return base_half - cutter / 2


def plunge(template: float, depth: float) -> float:
    """Return the depth stop's setting: template thickness and depth of cut together."""
    return template + depth


def corner_of_cut(opening_corner: float, bush: float, cutter: float) -> float:
    """Return the radius of the cut's corner for an opening with that corner radius.

    A corner tighter than the bush leaves the bush's centre a sharp turn: the cutter's own radius remains.
    """
    if opening_corner < bush / 2:
        return cutter / 2
    return opening_corner - bush_offset(bush, cutter)


def slot_travel(length: float, cutter: float) -> float:
    """Return how far the cutter travels in a round-ended slot of that overall length."""
    return length - cutter


def disc_slot(radius: float, depth: float) -> float:
    """Return the length on the surface of a disc cutter's plunge, `2 sqrt(2 R d - d^2)`.

    Raises:
        JobError: for a plunge that is not above 0, or deeper than the disc's radius.
    """
    if not 0 < depth <= radius:
        raise JobError(
            Fault(
                code="disc-depth",
                field="depth",
                found=f"{depth:g} mm with a disc of {2 * radius:g} mm",
                allowed=f"more than 0, up to {radius:g} mm",
                do="Plunge less deep, or take a larger disc.",
            )
        )
    return 2 * math.sqrt(2 * radius * depth - depth * depth)


def packer_for_base(base_to_centre: float, wanted: float) -> float:
    """Return `base_to_centre - wanted`: above 0 the packer lies under the work, below 0 under the tool."""
    return base_to_centre - wanted
