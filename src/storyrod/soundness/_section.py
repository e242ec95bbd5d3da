"""Sections of planks: plain boards, and boards with a lipping or a rail that bend with them as one.

Composite sections by the transformed section of plane bending: the elastic axis, and EI about it. Twisting toward
an edge that is stiffer than the other is left out, so what a lipping or rail gains is an upper bound.
"""

from __future__ import annotations

from dataclasses import dataclass

from storyrod.faults import JobError, raise_if_any, within

SHEAR_SHARE = 5 / 6
"""Share of a rectangle's area that counts in shear (Wood Handbook, chapter on structural analysis equations)."""

MOE_OVER_G = 16.0
"""Bending modulus over shear modulus of wood; from memory (Wood Handbook: about 16)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One rectangle of a section: its top lies `top` below the section's top; stiff by E (N/mm2)."""

    width: float
    height: float
    stiffness_n_mm2: float
    top: float = 0.0

    def __post_init__(self) -> None:
        raise_if_any(
            (
                *within("width", self.width, 0.1, 6000, do="Give the plank a width."),
                *within("height", self.height, 0.1, 1000, do="Give the plank a thickness: measure the board."),
                *within(
                    "stiffness_n_mm2",
                    self.stiffness_n_mm2,
                    10,
                    30_000,
                    unit="N/mm2",
                    do="Take the bending modulus from the board's data sheet.",
                ),
            )
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """How stiff a section is: `rigidity_n_mm2` is EI, `shear_n` is G times the shear area, `axis` lies below its top.

    `modulus_mm3` is the section modulus of the stiffest-reckoned fibre of the first part: its bending stress is
    the moment times `stress_per_moment`.
    """

    rigidity_n_mm2: float
    shear_n: float
    axis: float
    stress_per_moment: float


def section_of(*parts: Part) -> Section:
    """Return the section made of rectangles that bend as one; shear is carried by the first (the board) alone."""
    if not parts:
        raise JobError(*within("width", 0.0, 0.1, 6000, do="Give the plank a width."))
    stiff = sum(p.stiffness_n_mm2 * p.width * p.height for p in parts)
    axis = sum(p.stiffness_n_mm2 * p.width * p.height * (p.top + p.height / 2) for p in parts) / stiff
    rigidity = sum(
        p.stiffness_n_mm2 * p.width * (p.height**3 / 12 + p.height * (p.top + p.height / 2 - axis) ** 2) for p in parts
    )
    board = parts[0]
    farthest = max(abs(board.top - axis), abs(board.top + board.height - axis))
    return Section(
        rigidity_n_mm2=rigidity,
        shear_n=board.stiffness_n_mm2 / MOE_OVER_G * SHEAR_SHARE * board.width * board.height,
        axis=axis,
        stress_per_moment=board.stiffness_n_mm2 * farthest / rigidity,
    )


def plank(width: float, thickness: float, stiffness_n_mm2: float) -> Section:
    """Return the section of a plain board.

    Raises:
        JobError: a width, thickness or stiffness that no board has.
    """
    return section_of(Part(width=width, height=thickness, stiffness_n_mm2=stiffness_n_mm2))
