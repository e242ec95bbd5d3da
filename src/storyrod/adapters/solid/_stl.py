"""A case as a binary STL file: all machined panels in place, tubes of clothes rails and feet, in mm, z up."""

from __future__ import annotations

import struct
from collections.abc import Mapping
from typing import TYPE_CHECKING

from storyrod.adapters.solid._build import case_solids, foot_solid, tube_solid
from storyrod.model.detail import DetailedCase
from storyrod.model.panel import PanelId

if TYPE_CHECKING:
    from manifold3d import Manifold


def stl_bytes(case: DetailedCase, solids: Mapping[PanelId, Manifold] | None = None) -> bytes:
    """Return a case as a binary STL file; `solids` may be handed in where they are built already."""
    import numpy as np

    built = case_solids(case) if solids is None else solids
    triangle = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("spare", "<u2")])
    blocks = []
    raised = case.built.case.raised
    bought = (*map(tube_solid, case.built.rails), *(foot_solid(f, raised) for f in case.built.feet))
    for solid in (*(built[p.id] for p in case.panels), *bought):
        mesh = solid.to_mesh64()
        places = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
        corners = places[np.asarray(mesh.tri_verts)]
        normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        lengths = np.linalg.norm(normals, axis=1, keepdims=True)
        block = np.zeros(len(corners), dtype=triangle)
        block["normal"] = normals / np.where(lengths > 0, lengths, 1.0)
        block["corners"] = corners
        blocks.append(block.tobytes())
    count = sum(len(b) for b in blocks) // triangle.itemsize
    header = f"storyrod, case {case.built.case.code}, millimetres, z up".encode("ascii", "replace")[:80].ljust(80)
    return header + struct.pack("<I", count) + b"".join(blocks)
