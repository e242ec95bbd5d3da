"""Notches: sawn by hand or jigsaw to their lines, never by a round blade that would run past the corner."""

from __future__ import annotations

from dataclasses import replace

import pytest

from storyrod.faults import JobError
from storyrod.machining._overcut import overcut
from storyrod.measure.writing import METRIC
from storyrod.model.bench_lines import LineKind
from storyrod.model.job import MethodChoice
from storyrod.model.machining import SetUp, WorkPlan
from storyrod.model.workshop import Along, CutterKind, Registration, ToolKind, Way, Workshop
from storyrod.telling.set_ups import setting_facts
from tests.unit.machining.shops import SHOP, box, job, made, shop, worked

BY_HAND = (ToolKind.HAND_SAW, ToolKind.JIGSAW)


def with_notches(workshop: Workshop = SHOP) -> WorkPlan:
    """Return the plan of a case whose stopped housings want a notch in each shelf's front corner."""
    methods = MethodChoice(corner="dowels", mid_panel="stopped housing")
    _, work = worked(job(box(), methods=methods), workshop)
    return work


def notches(work: WorkPlan) -> SetUp:
    (found,) = made(work, "notches")
    return found


def without(*kinds: ToolKind) -> Workshop:
    return shop(tools=tuple(t for t in SHOP.tools if t.kind not in kinds))


def test_how_far_a_blade_runs_past_a_corner() -> None:
    """250 in 18, 3 below: at the face sqrt(250 x 21 - 21^2) = 69.35, below sqrt(250 x 3 - 9) = 27.22; 42.13 further."""
    assert overcut(250, 18) == pytest.approx(42.13, abs=0.01)
    assert overcut(160, 18) == pytest.approx(54.03 - 21.70, abs=0.01)
    assert overcut(250, 0) == pytest.approx(0)


def test_a_notch_is_sawn_by_hand() -> None:
    work = with_notches()
    card = notches(work)
    s = card.setting

    assert s is not None
    assert s.tool_kind is ToolKind.HAND_SAW
    assert s.cutter == ""
    assert card.section is None
    assert "depth stop" not in dict(setting_facts(s, work, METRIC))
    kinds = [c.kind for c in card.cautions]
    assert kinds == [LineKind.HAND_SAW, LineKind.REMINDER]


def test_without_a_hand_saw_by_jigsaw_with_the_lines_of_a_powered_tool() -> None:
    card = notches(with_notches(without(ToolKind.HAND_SAW)))

    assert card.setting is not None
    assert card.setting.tool_kind is ToolKind.JIGSAW
    assert {LineKind.UNPLUG, LineKind.EYES_EARS, LineKind.DUST, LineKind.FREED_WASTE} <= {c.kind for c in card.cautions}


def test_a_way_with_a_round_blade_is_refused_with_its_reason() -> None:
    blade = Way(
        code="track", name="track saw to the lines", tool=ToolKind.TRACK_SAW, makes=("cut-out",),
        registration=Registration.LINE, along=Along.MARKS, cutter=CutterKind.SAW_BLADE, on_edges=True, on_faces=True,
    )  # fmt: skip
    bare = without(*BY_HAND, ToolKind.NC_ROUTER)
    only_blades = replace(bare, ways=(*bare.ways, blade))
    with pytest.raises(JobError) as caught:
        with_notches(only_blades)

    (fault,) = [f for f in caught.value.faults if "notch" in f.do]
    assert fault.code == "no-way"
    assert "past its corner" in fault.do
    assert "a hand saw" in fault.do


def test_no_packaged_way_cuts_a_notch_with_a_round_blade() -> None:
    for way in SHOP.ways:
        if "cut-out" in way.makes:
            assert way.cutter is not CutterKind.SAW_BLADE
