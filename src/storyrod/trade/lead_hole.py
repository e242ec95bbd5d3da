"""Lead holes of screws in solid wood: a share of the screw's root, which splits nothing and leaves the thread its hold.

70 % of the root's diameter in softwood, 90 % in hardwood: Screws, web page of the Canadian Wood Council (one
restatement reads them as of the thread's outside). A wood screw's root is about two thirds of its outside: Wood
Handbook, FPL-GTR-190, USDA Forest Service, 2010, chapter 8.
"""

from __future__ import annotations

from typing import Final

ROOT_SHARE: Final = 2 / 3
"""Root of a wood screw as a share of its outside diameter, where its own is not known."""

IN_SOFTWOOD: Final = 0.70
IN_HARDWOOD: Final = 0.90
"""Lead hole as a share of the root."""

DRILL_STEP: Final = 0.5
"""Drills are kept in steps of this (mm): a hole nearer to its lead hole than a step is as near as it can be bored;
common practice, no source."""


def root_of(diameter: float) -> float:
    """Return the usual root (mm) of a wood screw of an outside diameter (mm)."""
    return diameter * ROOT_SHARE


def lead_hole(root: float, *, softwood: bool) -> float:
    """Return the lead hole (mm) for a screw of a root (mm) in solid wood."""
    return root * (IN_SOFTWOOD if softwood else IN_HARDWOOD)
