"""A tube that is not where it can be: the solids see it, and so do the rooms that the proof measures."""

from __future__ import annotations

import json
import struct
from dataclasses import replace
from functools import cache

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.solid import glb_bytes, stl_bytes, witness
from storyrod.measure.space import Axis
from storyrod.model.detail import Details
from storyrod.model.job import ClothesRail
from storyrod.model.proof import Claim
from storyrod.planning import Plan
from storyrod.proof import prove
from tests import builders


@cache
def plan() -> Plan:
    """A rail in a case of 564 x 684 clear: its tube from 20 to 580, its middle 642 up."""
    inside = builders.opening(clothes_rail=ClothesRail())
    return Plan(builders.job(builders.case(depth=600.0, inside=inside)), packaged_workshop())


def moved(axis: Axis, low: float, high: float) -> Details:
    """Return the details with the tube's box so much longer at either end along an axis."""
    details = plan().details
    (case,) = details.cases
    (rail,) = case.built.rails
    a, b = rail.box.span(axis)
    built = replace(case.built, rails=(replace(rail, box=rail.box.with_span(axis, a + low, b + high)),))
    return replace(details, cases=(replace(case, built=built),))


def test_where_it_lies_nothing_is_found() -> None:
    assert witness(plan().details).overlaps == ()
    assert plan().proof.of(Claim.MEASURED).faults == ()


def test_the_solids_find_a_tube_that_runs_into_a_side() -> None:
    """3 mm too far at the left: 1 mm of a rod of 25 in the board, 491 mm3 less what flat sides leave out."""
    (found,) = witness(moved(Axis.X, -3.0, 0.0)).overlaps

    assert (found.one, found.other) == ("the tube of clothes rail 1", "left side")
    assert found.volume_mm3 == pytest.approx(491, abs=2)


@pytest.mark.parametrize(
    ("axis", "low", "high", "told"),
    [
        (Axis.X, -3.0, 0.0, "left of the tube"),
        (Axis.X, 0.0, 3.0, "right of the tube"),
        (Axis.Z, 40.0, 40.0, "over the tube"),  # 7.5 is left of the 15 by which it comes in
    ],
)
def test_the_proof_measures_the_room_round_it(axis: Axis, low: float, high: float, told: str) -> None:
    proof = prove(moved(axis, low, high), plan().set_out)
    faults = proof.of(Claim.MEASURED).faults

    assert any(told in f.found for f in faults)


def test_the_tube_is_in_the_files_of_solids() -> None:
    """A rod of 25 from 20 to 580, one node more than there are panels; in STL its triangles come last."""
    (case,) = plan().details.cases
    glb, stl = glb_bytes(case, plan().job), stl_bytes(case)

    (length,) = struct.unpack_from("<I", glb, 12)
    document = json.loads(glb[20 : 20 + length])
    assert len(document["nodes"]) == len(case.panels) + 2
    node = document["nodes"][-1]
    assert node["name"] == "tube of clothes rail 1"
    accessor = document["accessors"][document["meshes"][node["mesh"]]["primitives"][0]["attributes"]["POSITION"]]
    span = [high - low for low, high in zip(accessor["min"], accessor["max"], strict=True)]
    assert span == pytest.approx([0.560, 0.025, 0.025], abs=1e-5)
    last = struct.unpack_from("<9f", stl, len(stl) - 50 + 12)
    assert all(20 <= x <= 580 for x in last[::3])
