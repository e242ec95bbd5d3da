"""A case as a binary glTF file (glTF 2.0, Khronos): one named node a panel, a tube of a clothes rail and a
levelling foot, one material a board and one for tubes and feet.

Written by hand: the format is a JSON text and a block of numbers, the bytes are the same every time, and nothing
heavy need be imported for it. glTF wants metres with y up and the front toward +z: (x, y, z) of the case becomes
(x, z, -y) / 1000. Each node's own origin is the middle of its panel, so that a viewer can pull the case apart.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.solid._build import case_solids, foot_solid, tube_solid
from storyrod.adapters.solid._colours import board_tints
from storyrod.measure.space import Point
from storyrod.model.carcass import RailPlace
from storyrod.model.detail import DetailedCase
from storyrod.model.feet import FootPlace
from storyrod.model.job import Job
from storyrod.model.panel import Panel, PanelId

if TYPE_CHECKING:
    from manifold3d import Manifold

_FLOAT: Final = 5126
_UINT: Final = 5125
_VERTICES: Final = 34962
_INDICES: Final = 34963
_TUBE: Final = (0.62, 0.64, 0.66)
"""The tint of a clothes rail's tube and of a levelling foot, whatever they are made of."""


def glb_bytes(case: DetailedCase, job: Job, solids: Mapping[PanelId, Manifold] | None = None) -> bytes:
    """Return a case as a binary glTF file; `solids` may be handed in where they are built already."""
    built = case_solids(case) if solids is None else solids
    tints = board_tints(job)
    boards = [b for b in job.boards if any(p.board == b.code for p in case.panels)]
    book = _Book()
    nodes = [book.node(p, built[p.id], [b.code for b in boards].index(p.board)) for p in case.panels]
    nodes += [book.tube(rail, tube_solid(rail), len(boards)) for rail in case.built.rails]
    feet, raised = case.built.feet, case.built.case.raised
    metal = len(boards)
    nodes += [
        book.foot((f.id, f"levelling foot {n}"), f, foot_solid(f, raised), metal) for n, f in enumerate(feet, start=1)
    ]
    tubes = [_material("tube", _TUBE)] if case.built.rails or feet else []
    top = {"name": f"case {case.built.case.code}", "children": list(range(1, len(nodes) + 1))}
    document = {
        "asset": {"version": "2.0", "generator": "storyrod"},
        "scene": 0,
        "scenes": [{"name": case.built.case.name, "nodes": [0]}],
        "nodes": [top, *nodes],
        "meshes": book.meshes,
        "materials": [*(_material(b.name, tints[b.code]) for b in boards), *tubes],
        "accessors": book.accessors,
        "bufferViews": book.views,
        "buffers": [{"byteLength": len(book.numbers)}],
    }
    return _packed(document, bytes(book.numbers))


class _Book:
    """The lists of a glTF document as they grow, panel by panel."""

    def __init__(self) -> None:
        self.meshes: list[dict[str, Any]] = []
        self.accessors: list[dict[str, Any]] = []
        self.views: list[dict[str, Any]] = []
        self.numbers = bytearray()

    def node(self, panel: Panel, solid: Manifold, material: int) -> dict[str, Any]:
        """Add a panel's mesh and return its node."""
        told = {"id": panel.id, "mark": panel.mark, "role": panel.role.value, "board": panel.board}
        return self._node((panel.id, f"{panel.mark} {panel.name}"), panel.box.centre, solid, material, told)

    def tube(self, rail: RailPlace, solid: Manifold, material: int) -> dict[str, Any]:
        """Add the mesh of a clothes rail's tube and return its node."""
        return self._node((rail.id, f"tube of {rail.name}"), rail.box.centre, solid, material, {"id": rail.id})

    def foot(self, named: tuple[str, str], foot: FootPlace, solid: Manifold, material: int) -> dict[str, Any]:
        """Add the mesh of a levelling foot and return its node."""
        return self._node(named, Point(foot.x, foot.y, 0.0), solid, material, {"id": foot.id})

    def _node(
        self, named: tuple[str, str], middle: Point, solid: Manifold, material: int, told: dict[str, Any]
    ) -> dict[str, Any]:
        import numpy as np

        mesh = solid.to_mesh64()
        rel = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3] - (middle.x, middle.y, middle.z)
        places = np.stack([rel[:, 0], rel[:, 2], -rel[:, 1]], axis=1).astype("<f4") / np.float32(1000)
        corners = np.asarray(mesh.tri_verts, dtype="<u4")
        position = self._accessor(places.astype("<f4").tobytes(), _VERTICES, len(places), _FLOAT, "VEC3")
        self.accessors[position] |= {"min": places.min(axis=0).tolist(), "max": places.max(axis=0).tolist()}
        indices = self._accessor(corners.tobytes(), _INDICES, corners.size, _UINT, "SCALAR")
        primitive = {"attributes": {"POSITION": position}, "indices": indices, "material": material}
        self.meshes.append({"name": named[0], "primitives": [primitive]})
        return {
            "name": named[1],
            "mesh": len(self.meshes) - 1,
            "translation": _in_metres(middle),
            "extras": told,
        }

    def _accessor(self, data: bytes, target: int, count: int, component: int, kind: str) -> int:
        self.views.append({"buffer": 0, "byteOffset": len(self.numbers), "byteLength": len(data), "target": target})
        self.numbers += data  # floats and whole numbers of four bytes each: always aligned
        self.accessors.append(
            {"bufferView": len(self.views) - 1, "componentType": component, "count": count, "type": kind}
        )
        return len(self.accessors) - 1


def _in_metres(at: Point) -> list[float]:
    return [round(at.x / 1000, 9), round(at.z / 1000, 9), round(-at.y / 1000, 9)]


def _material(name: str, tint: tuple[float, float, float]) -> dict[str, Any]:
    surface = {"baseColorFactor": [*tint, 1.0], "metallicFactor": 0.0, "roughnessFactor": 0.85}
    return {"name": name, "pbrMetallicRoughness": surface}


def _packed(document: dict[str, Any], numbers: bytes) -> bytes:
    text = json.dumps(document, separators=(",", ":"), ensure_ascii=False).encode()
    text += b" " * (-len(text) % 4)
    numbers += b"\0" * (-len(numbers) % 4)
    chunks = struct.pack("<I4s", len(text), b"JSON") + text + struct.pack("<I4s", len(numbers), b"BIN\0") + numbers
    return struct.pack("<4sII", b"glTF", 2, 12 + len(chunks)) + chunks
