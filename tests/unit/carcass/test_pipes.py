"""Cut-outs for pipes and cables: where they are, and what cannot be; worked by hand. No source."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.carcass import build
from storyrod.faults import JobError
from storyrod.measure.space import PanelAxis
from storyrod.model.carcass import BuiltCase
from storyrod.model.feature import CutOut, Feature
from storyrod.model.job import Back, BackKind, PipeCutOut, PipedPanel
from storyrod.planning import Plan
from tests.builders import case, job, opening, rows, shelves, workshop

BACK = Back(kind=BackKind.APPLIED, board="b6")
ROUND = PipeCutOut(panel=PipedPanel.BACK, across=200, up=150, width=60)


def built(*asked: PipeCutOut, **more: Any) -> BuiltCase:
    return build(job(case(cut_outs=asked, **({"back": BACK} | more))), workshop()).cases[0]


def cuts(of: BuiltCase) -> list[Feature]:
    return [f for f in of.fittings if f.item == "pipe or cable"]


def faults(asked: PipeCutOut, **more: Any) -> list[tuple[str, str, str]]:
    with pytest.raises(JobError) as told:
        built(asked, **more)
    assert all(f.do and f.allowed for f in told.value.faults)
    return [(f.code, f.field.removeprefix("cases[0].cut_outs[0]."), f.found) for f in told.value.faults]


def test_a_round_one_in_a_back_counts_from_the_left_and_the_floor() -> None:
    of = built(ROUND)
    (cut,) = cuts(of)

    assert cut.panel == "A.back"
    assert isinstance(cut.shape, CutOut)
    assert (cut.shape.outline, cut.shape.length, cut.shape.depth) == ("round", 60, 6)
    assert (of.panel(cut.panel).frame.to_case(cut.at).x, of.panel(cut.panel).frame.to_case(cut.at).z) == (200, 150)
    assert "pipes" in {c.code for c in of.cautions}


@pytest.mark.parametrize(
    ("panel", "wide", "high", "run"),
    [
        (PipedPanel.BACK, 80, 50, PanelAxis.U),
        (PipedPanel.BACK, 50, 80, PanelAxis.V),
        (PipedPanel.LEFT, 50, 80, PanelAxis.U),
        (PipedPanel.RIGHT, 80, 50, PanelAxis.V),
    ],
)
def test_one_with_round_ends_runs_along_its_longer_way(
    panel: PipedPanel, wide: float, high: float, run: PanelAxis
) -> None:
    (cut,) = cuts(built(PipeCutOut(panel=panel, across=200, up=150, width=wide, height=high)))

    assert isinstance(cut.shape, CutOut)
    assert (cut.shape.outline, cut.shape.length, cut.shape.height, cut.shape.run) == ("slot", 80, 50, run)


def test_one_in_a_side_counts_from_the_front_and_the_floor() -> None:
    of = built(replace(ROUND, panel=PipedPanel.RIGHT, across=300))
    (cut,) = cuts(of)

    assert (cut.panel, cut.at.u, cut.at.v) == ("A.side-right", 150, 300)


def test_ten_of_board_stay_round_it() -> None:
    """60 wide at 39 from the left leaves 9; the side reaches to 18, and 5 stay clear of it."""
    assert len(cuts(built(replace(ROUND, across=53)))) == 1
    assert faults(replace(ROUND, across=52))[0][0] == "pipe-meets"
    assert faults(replace(ROUND, across=39)) == [("pipe-edge", "across", "39 mm, for 60 mm in the back")]
    assert faults(replace(ROUND, up=681)) == [("pipe-edge", "up", "681 mm, for 60 mm in the back")]
    assert len(cuts(built(replace(ROUND, up=665)))) == 1


def test_it_keeps_clear_of_what_stands_against_the_panel() -> None:
    """A shelf from 351 to 369: a cut-out of 60 is clear by 5 up to 316."""
    parted = rows(opening(), opening())

    assert len(cuts(built(replace(ROUND, up=316), inside=parted))) == 1
    assert faults(replace(ROUND, up=317), inside=parted) == [
        ("pipe-meets", "across", "a cut-out in the back that meets shelf 1")
    ]


def test_it_keeps_clear_of_other_cuts() -> None:
    """Rows of pin holes stand 37 behind the front."""
    side = PipeCutOut(panel=PipedPanel.LEFT, across=60, up=360, width=40)

    assert faults(side, inside=shelves(2))[0][:2] == ("pipe-meets", "up")
    assert len(cuts(built(replace(side, across=120), inside=shelves(2)))) == 1


def test_a_case_without_a_back_has_none_in_it() -> None:
    assert faults(ROUND, back=Back(kind=BackKind.NONE))[0][:2] == ("pipe-panel", "panel")


def test_the_plan_keeps_every_joint_s_cuts_clear_of_it() -> None:
    """A cut-out in the side right over the base, where its dowels are."""
    asked = PipeCutOut(panel=PipedPanel.LEFT, across=52, up=60, width=60)
    plan = Plan(job(case(cut_outs=(asked, ROUND), back=BACK)), packaged_workshop())

    assert not plan.proof.faults
    assert sum(o.panel == "A.back" for s in plan.machining.set_ups for o in s.operations) > 0
