"""Assembly: every step in the packet's words, one at a time or all to be printed."""

from __future__ import annotations

from html import unescape

import pytest

from storyrod.model.assembly import StepKind
from tests.unit.web.conftest import Asked
from tests.unit.web.test_panels import plan_of


def test_every_step_is_told_and_one_is_shown(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    steps = plan_of("rehearsal-room").assembly.cases[0].steps

    turn = next(s.number for s in steps if s.kind is StepKind.TURN)
    told = unescape(asked.client.get(f"/job/{job}/assembly?step={turn}").text)

    for step in steps:
        assert step.text in told
        assert f'id="told-{step.number}"' in told
    shown = [n for n in range(1, len(steps) + 1) if " hidden" not in told.split(f'id="told-{n}"')[1].split(">")[0]]
    assert shown == [turn]
    assert "Turning the work." in told.split(f'id="told-{turn}"')[1].split("</article>")[0]
    assert "It lies: flat, front edge toward you." in told.split('id="told-1"')[1].split("</article>")[0]
    assert 'data-id="A.top"' in told.split('id="model-drawn"')[1].split('id="model"')[0]  # for who runs no script


def test_glue_clamps_and_the_check_for_square_are_told(asked: Asked) -> None:
    job = asked.take("rehearsal-room")
    steps = plan_of("rehearsal-room").assembly.cases[0].steps
    told = unescape(asked.client.get(f"/job/{job}/assembly").text)

    def words(number: int) -> str:
        return told.split(f'id="told-{number}"')[1].split("</article>")[0]

    glued = next(s for s in steps if s.glue)
    clamped = next(s for s in steps if s.clamps)
    squared = next(s for s in steps if s.diagonals is not None)
    assert "min to spread and close" in words(glued.number)
    assert "Clamp across" in words(clamped.number)
    assert "both diagonals" in words(squared.number)


def test_without_a_script_the_links_go_from_step_to_step(asked: Asked) -> None:
    job = asked.take("first-box")

    first = asked.client.get(f"/job/{job}/assembly").text
    last = asked.client.get(f"/job/{job}/assembly?step=5").text

    assert 'id="step-next" href="?case=A&amp;step=2"' in first
    assert 'id="step-back" href="?case=A&amp;step=1" aria-disabled="true"' in first
    assert 'id="step-back" href="?case=A&amp;step=4"' in last
    assert 'aria-disabled="true">Next step' in last


def test_all_steps_are_drawn_to_be_printed(asked: Asked) -> None:
    job = asked.take("low-units")
    plan = plan_of("low-units")

    for case in plan.assembly.cases:
        told = asked.client.get(f"/job/{job}/assembly/print?case={case.case}").text
        wall = told.count("<h2>Fix it to the wall</h2>")
        assert told.count('class="printed-step"') == len(case.steps) + wall
        assert told.count('role="img"') == len(case.steps) + 1  # and the key


@pytest.mark.parametrize("query", ["step=0", "step=99", "step=<b>", "case=Q", "step=" + "9" * 400])
def test_what_is_not_there_is_told_in_words(asked: Asked, query: str) -> None:
    job = asked.take("first-box")

    answer = asked.client.get(f"/job/{job}/assembly?{query}")

    assert answer.status_code == 422
    assert "<b>" not in answer.text
    assert "allowed" in answer.text
