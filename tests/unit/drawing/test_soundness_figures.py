"""Figures of soundness: words apart and large enough, and what they say is what was worked out."""

from __future__ import annotations

import pytest

from storyrod.adapters import svg
from storyrod.adapters.files import read_job
from storyrod.adapters.packet._blocks import Row
from storyrod.adapters.packet._soundness import soundness_sections
from storyrod.drawing import Drawing, text_box
from storyrod.drawing.soundness import sag_figure, step_figure, tip_figure
from storyrod.model.panel import Role
from storyrod.model.soundness import CaseSoundness, Soundness
from storyrod.planning import Plan
from storyrod.soundness import examine
from storyrod.telling.blocks import Picture, Table, Warning_, Words
from tests.places import EXAMPLES
from tests.unit.drawing.checks import cut_off, overlaps, texts_of, too_small

NAMES = ("rehearsal-room", "low-units", "robe-cupboard", "percussion-chest", "music-stand-shelf-inches", "first-box")


@pytest.fixture(scope="module", params=NAMES)
def examined(request: pytest.FixtureRequest) -> tuple[Plan, Soundness]:
    told = read_job(EXAMPLES / f"{request.param}.toml")
    plan = Plan(told.job, told.workshop)
    return plan, examine(plan.carcass, plan.details, told.workshop)


def figures_of(plan: Plan, found: CaseSoundness, whole: Soundness) -> list[Drawing]:
    case = next(c for c in plan.details.cases if c.built.case.code == found.case)
    drawn = [sag_figure(s, case.panel(s.panel).thickness) for s in found.sags]
    drawn.append(step_figure(found.case, found.steps, whole.thresholds.step_shows))
    assert found.tipping is not None
    drawn.append(tip_figure(case, found.tipping, whole.thresholds, room=(84, 78)))
    return [d for d in drawn if d is not None]


def test_words_stand_apart_and_are_readable(examined: tuple[Plan, Soundness]) -> None:
    plan, whole = examined
    for found in whole.cases:
        drawn = figures_of(plan, found, whole)
        assert len(drawn) >= 2
        for drawing in drawn:
            assert overlaps(drawing) == [], drawing.id
            assert cut_off(drawing) == []
            assert too_small(drawing) == []
            assert svg.write(drawing).startswith("<svg")


def test_a_sag_figure_says_its_figures(examined: tuple[Plan, Soundness]) -> None:
    plan, whole = examined
    for found, case in zip(whole.cases, plan.details.cases, strict=True):
        for sag in found.sags:
            drawing = sag_figure(sag, case.panel(sag.panel).thickness)
            assert (drawing is None) == (not sag.curve)
            if drawing is None:
                continue
            words = [t.text for t in texts_of(drawing)]
            assert f"at once {sag.at_once:.1f}" in words
            assert f"allowed {sag.limit:.1f}" in words
            assert "times as large" in drawing.notes[0]


def test_a_tip_figure_shows_the_worst_condition(examined: tuple[Plan, Soundness]) -> None:
    plan, whole = examined
    for found, case in zip(whole.cases, plan.details.cases, strict=True):
        assert found.tipping is not None
        worst = found.tipping.worst
        drawing = tip_figure(case, found.tipping, whole.thresholds)
        words = [t.text for t in texts_of(drawing)]
        assert worst.what in drawing.notes[0]
        assert f"{worst.ratio:.2f}" in drawing.notes[1]
        assert ("27.2 kg" in words) == worst.code.startswith("child")
        assert ("44.5 N" in words) == (worst.code == "pull")


def test_the_weight_in_a_tip_figure_is_struck_through_by_no_line_of_the_case(
    examined: tuple[Plan, Soundness],
) -> None:
    """Inside it stands clear of outline and level panels; where there is no room it stands behind the case."""
    plan, whole = examined
    for found, case in zip(whole.cases, plan.details.cases, strict=True):
        assert found.tipping is not None
        drawing = tip_figure(case, found.tipping, whole.thresholds, room=(84, 78))
        (weight,) = [t for t in texts_of(drawing) if t.text == f"{found.tipping.body_kg:.0f} kg"]
        box = text_box(weight, drawing.unit)
        rear = max(p.box.high.y for p in case.panels if p.body == "carcass")
        assert box.right < rear or box.left > rear
        for panel in case.panels:
            if panel.body == "carcass" and panel.role in {Role.TOP, Role.BASE, Role.SHELF}:
                low, high = panel.box.low, panel.box.high
                apart = box.top <= low.z or box.bottom >= high.z or box.left >= high.y
                assert apart, panel.id


def test_the_packet_says_that_it_certifies_nothing_and_shows_a_table_and_a_picture(
    examined: tuple[Plan, Soundness],
) -> None:
    plan, whole = examined
    sections = soundness_sections(plan)

    assert len(sections) == len(whole.cases)
    for section in sections:
        assert section.blocks[0] == Warning_(text=whole.estimate, title="Estimates")
        kinds = {type(b) for b in section.blocks}
        assert {Table, Picture, Row, Words} <= kinds
