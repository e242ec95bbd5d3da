"""What cannot be so is refused, with its field, what was found, what is allowed and what to do."""

from __future__ import annotations

import pytest

from storyrod.model.as_built import AsBuilt, Slip, SlipKind
from storyrod.model.panel import Surface
from storyrod.planning import Plan
from storyrod.rescue import faults_of

K = SlipKind
SHORT = Slip(panel="A5", kind=K.SIZE, length=360.0)
OFF = Slip(panel="A1", kind=K.ELSEWHERE, cuts=("1",), along=3.0)

BAD = {
    "of a panel that is not there": ((Slip(panel="B7", kind=K.LOST),), "as-built-panel", "slips[0].panel"),
    "of a copy that is not made": ((Slip(panel="A1", kind=K.LOST, copy=2),), "as-built-copy", "slips[0].copy"),
    "of a cut that is not there": (
        (Slip(panel="A1", kind=K.ELSEWHERE, cuts=("99",), along=3.0),),
        "as-built-cut",
        "slips[0].cuts[0]",
    ),
    "of no cut at all": ((Slip(panel="A1", kind=K.OTHER_FACE),), "as-built-cut", "slips[0].cuts"),
    "of size 0": ((Slip(panel="A5", kind=K.SIZE, length=0.0),), "as-built-none", "slips[0].length"),
    "of the size as planned": ((Slip(panel="A5", kind=K.SIZE, length=364.0),), "as-built-none", "slips[0].length"),
    "that measures nothing": ((Slip(panel="A5", kind=K.SIZE),), "as-built-none", "slips[0].length"),
    "0 off": ((Slip(panel="A1", kind=K.ELSEWHERE, cuts=("1",), along=0.0),), "as-built-none", "slips[0].along"),
    "as deep as planned": (
        (Slip(panel="A1", kind=K.DEPTH, cuts=("1",), depth=13.0),),
        "as-built-none",
        "slips[0].depth",
    ),
    "damage without size": (
        (Slip(panel="A1", kind=K.DAMAGE, surface=Surface.FACE, from_end=1.0, from_edge=1.0, size=0.0),),
        "as-built-none",
        "slips[0].size",
    ),
    "damage beside the panel": (
        (Slip(panel="A1", kind=K.DAMAGE, surface=Surface.FACE, from_end=301.0, from_edge=1.0, size=5.0),),
        "as-built-place",
        "slips[0].from_end",
    ),
    "with a field of another kind": ((Slip(panel="A1", kind=K.LOST, depth=3.0),), "as-built-field", "slips[0].depth"),
    "told twice": ((SHORT, SHORT), "as-built-twice", "slips[1]"),
    "told otherwise": ((SHORT, Slip(panel="A5", kind=K.SIZE, length=361.0)), "as-built-contradicts", "slips[1]"),
    "of a cut said not to be cut": (
        (OFF, Slip(panel="A1", kind=K.NOT_CUT, cuts=("all",))),
        "as-built-contradicts",
        "slips[1]",
    ),
    "of a lost panel": ((Slip(panel="A5", kind=K.LOST), SHORT), "as-built-contradicts", "slips[1]"),
    "of a panel glued in": ((Slip(panel="A1", kind=K.GLUED), OFF), "as-built-glued", "slips[1]"),
    "at a joint of another": (
        (Slip(panel="A1", kind=K.GLUED, joints=("J6",)),),
        "as-built-joint",
        "slips[0].joints[0]",
    ),
    "off lines that are its own": ((Slip(panel="A1", kind=K.GLUED, off=1.5),), "as-built-off", "slips[0].off"),
}


@pytest.mark.parametrize(("slips", "code", "field"), BAD.values(), ids=BAD)
def test_a_slip(plan: Plan, slips: tuple[Slip, ...], code: str, field: str) -> None:
    faults = faults_of(plan.details, plan.set_out, AsBuilt(slips=slips))

    assert [(f.code, f.field) for f in faults] == [(code, field)]
    assert all((faults[0].found, faults[0].allowed, faults[0].do))


def test_what_is_cut_must_be_there(plan: Plan) -> None:
    good = AsBuilt(cut=("A1", "a2.3", "A3.J1", "A5#1"))
    bad = AsBuilt(cut=("A9", "A1.77", "A1#2"))

    assert faults_of(plan.details, plan.set_out, good) == ()
    assert [f.field for f in faults_of(plan.details, plan.set_out, bad)] == ["cut[0]", "cut[1]", "cut[2]"]


def test_what_was_taken_back_is_not_looked_at(plan: Plan) -> None:
    gone = Slip(panel="B7", kind=K.LOST, taken_back=True)

    assert faults_of(plan.details, plan.set_out, AsBuilt(slips=(gone, SHORT))) == ()


def test_damage_after_the_glue_can_be_recorded(plan: Plan) -> None:
    dent = Slip(panel="A1", kind=K.DAMAGE, surface=Surface.FACE, from_end=20.0, from_edge=20.0, size=5.0)

    assert faults_of(plan.details, plan.set_out, AsBuilt(slips=(Slip(panel="A1", kind=K.GLUED), dent))) == ()
