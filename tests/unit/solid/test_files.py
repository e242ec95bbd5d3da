"""GLB, STL and STEP files of a case, read back by a library that had no hand in writing them."""

from __future__ import annotations

import io
import json
import struct
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import pytest

from storyrod.adapters.solid import glb_bytes, has_step, step_bytes, stl_bytes, witness
from storyrod.adapters.solid._colours import board_tints
from storyrod.faults import JobError
from tests import builders
from tests.unit.proof import small

TOLD = small.details()
CASE = TOLD.cases[0]


def document(data: bytes) -> dict[str, Any]:
    """Return the JSON text of a binary glTF file."""
    magic, version, length = struct.unpack_from("<4sII", data)
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack_from("<I4s", data, 12)
    assert kind == b"JSON"
    told: dict[str, Any] = json.loads(data[20 : 20 + size])
    return told


def loaded(data: bytes, kind: str) -> Any:
    import trimesh

    return trimesh.load(io.BytesIO(data), file_type=kind)


def test_a_glb_names_every_panel() -> None:
    told = document(glb_bytes(CASE, TOLD.job))

    assert [n["name"] for n in told["nodes"]] == [
        "case A", "A1 left side", "A2 right side", "A3 top", "A4 base", "A5 shelf 1",
    ]  # fmt: skip
    assert told["nodes"][0]["children"] == [1, 2, 3, 4, 5]
    assert told["nodes"][1]["extras"] == {"id": "A.left-side", "mark": "A1", "role": "side left", "board": "b18"}
    assert [m["name"] for m in told["materials"]] == ["board 18"]  # only boards that the case uses


def test_a_glb_read_back_is_in_metres_with_y_up_and_has_the_volumes_of_the_solids() -> None:
    scene = loaded(glb_bytes(CASE, TOLD.job), "glb")

    assert scene.bounds.tolist()[0] == pytest.approx([0, 0, -0.3], abs=1e-6)  # the front looks toward +z
    assert scene.bounds.tolist()[1] == pytest.approx([0.6, 0.4, 0], abs=1e-6)
    volumes = {v.panel: v.meshed for v in witness(TOLD).volumes}
    assert len(scene.geometry) == 5
    for name, mesh in scene.geometry.items():
        assert mesh.is_watertight, name
        assert mesh.volume * 1e9 == pytest.approx(volumes[name], rel=1e-5), name


def test_a_stl_read_back_holds_all_panels_in_mm() -> None:
    mesh = loaded(stl_bytes(CASE), "stl")

    assert mesh.bounds.tolist() == [[0, 0, 0], [600, 300, 400]]
    assert mesh.volume == pytest.approx(sum(v.meshed for v in witness(TOLD).volumes), rel=1e-5)
    assert stl_bytes(CASE)[:5] != b"solid"  # readers take such a file for a text


def test_the_same_case_gives_the_same_bytes() -> None:
    again = small.details()

    assert glb_bytes(CASE, TOLD.job) == glb_bytes(again.cases[0], again.job)
    assert stl_bytes(CASE) == stl_bytes(again.cases[0])


def test_each_board_has_a_tint_of_its_own() -> None:
    job = builders.job(boards=(builders.board(), builders.board("dark"), *builders.boards()[1:]))

    tints = board_tints(job)

    assert len(set(tints.values())) == len(job.boards) == 4
    assert all(0 <= c <= 1 for tint in tints.values() for c in tint)


@pytest.mark.skipif(find_spec("build123d") is not None, reason="the step extra is installed")
def test_without_the_extra_step_says_how_to_get_it() -> None:
    assert not has_step()
    with pytest.raises(JobError) as caught:
        step_bytes(CASE)

    (fault,) = caught.value.faults
    assert "storyrod[step]" in fault.do


def test_a_step_file_read_back_has_true_round_holes(tmp_path: Path) -> None:
    build123d = pytest.importorskip("build123d", reason="STEP needs the step extra: pip install storyrod[step]")

    data = step_bytes(CASE)
    path = tmp_path / "case-A.step"
    path.write_bytes(data)
    whole = build123d.import_step(path)

    exact = {v.name: v.exact for v in witness(TOLD).volumes}
    assert whole.volume == pytest.approx(sum(v for v in exact.values() if v is not None), rel=1e-9)
    assert step_bytes(CASE) == data
    assert b"A5 shelf 1" in data
