"""Solids of the machined panels: an independent witness to the proof, and files to look at or work on.

The modelling kernels are imported when a solid is first built, never before.
"""

from storyrod.adapters.solid._build import case_solids, panel_solid, placed
from storyrod.adapters.solid._glb import glb_bytes
from storyrod.adapters.solid._step import has_step, step_bytes
from storyrod.adapters.solid._stl import stl_bytes
from storyrod.adapters.solid._witness import witness
from storyrod.model.proof import SolidWitness

__all__ = [
    "SolidWitness",
    "case_solids",
    "glb_bytes",
    "has_step",
    "panel_solid",
    "placed",
    "step_bytes",
    "stl_bytes",
    "witness",
]
