"""Levelling feet in the files of solids and in the live view."""

from __future__ import annotations

import json
import struct
from functools import cache

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.solid import glb_bytes, stl_bytes
from storyrod.adapters.web._model import model_data, steps_data
from storyrod.drawing import Figures
from storyrod.model.assembly import StepKind
from storyrod.model.job import Feet
from storyrod.planning import Plan
from tests import builders


@cache
def plan() -> Plan:
    """A case of 600 x 400 on feet of 100 with plates of 70: the first stands 48 in and 98 back."""
    return Plan(builders.job(builders.case(feet=Feet(height=100))), packaged_workshop())


def test_every_foot_is_a_node_from_the_floor_to_the_base() -> None:
    (case,) = plan().details.cases
    glb = glb_bytes(case, plan().job)
    (length,) = struct.unpack_from("<I", glb, 12)
    document = json.loads(glb[20 : 20 + length])
    nodes = [n for n in document["nodes"] if n["name"].startswith("levelling foot")]

    assert len(nodes) == len(case.built.feet) == 4
    foot = case.built.feet[0]
    assert nodes[0]["translation"] == pytest.approx([foot.x / 1000, 0, -foot.y / 1000])
    accessor = document["accessors"][document["meshes"][nodes[0]["mesh"]]["primitives"][0]["attributes"]["POSITION"]]
    assert (accessor["min"][1], accessor["max"][1]) == (0, pytest.approx(0.1))
    assert accessor["max"][0] - accessor["min"][0] == pytest.approx(foot.plate / 1000)


def test_the_stl_stands_on_the_floor() -> None:
    """Without feet the lowest corner would be the base's, 100 up."""
    (case,) = plan().details.cases
    stl = stl_bytes(case)
    heights = [struct.unpack_from("<9f", stl, at + 12)[2::3] for at in range(84, len(stl), 50)]

    assert min(z for corners in heights for z in corners) == 0


def test_the_live_view_has_them_from_the_step_that_fits_them() -> None:
    (case,) = plan().details.cases
    (told,) = plan().assembly.cases
    own = {f.id for f in case.built.feet}
    figures = Figures.of_job(plan().job)
    shown = {p["id"]: p for p in model_data(plan().details, case)["panels"]}
    fitted = next(s.number for s in told.steps if s.kind is StepKind.FEET)

    assert own <= set(shown)
    first = shown[case.built.feet[0].id]
    assert (first["low"][2], first["high"][2], first["name"]) == (0, 100, "levelling foot 1")
    for step in steps_data(case, told, figures):
        assert (own <= set(step["standing"])) == (step["number"] >= fitted)
