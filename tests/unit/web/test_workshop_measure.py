"""Measuring a connector on the page: each step draws it, faults find their step, and it is kept for jobs to choose."""

from __future__ import annotations

import re
from html import unescape
from typing import Any
from urllib.parse import urlencode

import pytest

from storyrod.adapters.files import read_workshop
from storyrod.adapters.files.measuring import answers_of, first_answers
from storyrod.adapters.files.measuring_steps import steps_of
from storyrod.adapters.files.measuring_words import KINDS
from storyrod.adapters.files.workshop_editing import START
from tests.unit.web.conftest import AS_SCRIPT, Asked


def answers(kind: str = "dowel", **more: str) -> dict[str, str]:
    return {**first_answers(START, next(k for k in KINDS if k.key == kind)), "name": "my peg"} | more


def keep(asked: Asked, given: dict[str, str], **sent: str) -> Any:
    base = asked.client.get("/workshop/version").json()["version"]
    return asked.client.post("/workshop/measure/keep", data={"base": base, **given, **sent}, follow_redirects=False)


def test_every_kind_is_drawn_to_choose_from(asked: Asked) -> None:
    shown = asked.client.get("/workshop/measure").text

    assert shown.count("<svg") >= len(KINDS)
    assert all(k.title in shown for k in KINDS)


@pytest.mark.parametrize("kind", [k.key for k in KINDS])
def test_every_step_of_every_kind_draws_the_joint(asked: Asked, kind: str) -> None:
    for step in steps_of(answers(kind))[1:]:
        shown = asked.client.get("/workshop/measure", params={**answers(kind), "step": step.key})
        assert shown.status_code == 200
        assert 'class="drawing"' in shown.text.split('id="look"')[1]
        for question in step.questions:
            assert f'name="{question.key}"' in shown.text


def test_the_steps_carry_every_answer_without_a_script(asked: Asked) -> None:
    given = answers("cam", note='a "note" & more')
    for step in ("face", "edge", "along", "home", "cost", "keep"):
        shown = asked.client.get("/workshop/measure", params={**given, "step": step}).text
        carried = {
            unescape(n): unescape(v) for n, v in re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', shown)
        }
        typed = {
            unescape(n): unescape(v)
            for n, v in re.findall(r'type="text" id="[^"]+" name="([^"]+)" value="([^"]*)"', shown)
        }
        flags = {
            n
            for n, on in re.findall(
                r'type="checkbox" id="[^"]+" name="([^"]+)" value="yes"[^>]*?( checked)?[ >]', shown
            )
        }
        for key, words in given.items():
            assert (carried | typed).get(key) == words or key in flags or f'name="{key}"' in shown, (step, key)


@pytest.mark.parametrize("kind", [k.key for k in KINDS])
def test_a_connector_is_kept_and_can_be_chosen(asked: Asked, kind: str) -> None:
    job = asked.take("first-box")
    asked.client.post("/workshop/use", data={"job": job})
    kept = keep(asked, answers(kind, **{"price.pack": "50", "price.price": "9"}))

    assert kept.status_code == 303
    method = read_workshop(asked.settings.workshop).method("my peg")
    assert method is not None
    wanted = "corner" if "corner" in {c.value for c in method.classes} else "mid_panel"
    changed = asked.change(job, {"path": f"methods.{wanted}", "value": "my peg"})
    assert changed.json()["faults"] == []


@pytest.mark.parametrize(
    ("key", "words", "told"),
    [
        ("r0.depth", "20", "deeper than the board"),
        ("r0.depth", "16", "board is left"),
        ("e0.diameter", "16", "of board on either side"),
        ("e0.diameter", "19", "across the edge"),
        ("connector_length", "60", "bottom out and hold the joint open"),
        ("rules.end", "10", "end_min"),
        ("r0.diameter", "eight", "a length"),
    ],
)
def test_what_can_not_be_is_told_in_words(asked: Asked, key: str, words: str, told: str) -> None:
    given = answers(**{key: words})
    step = next(s.key for s in steps_of(given) if any(q.key == key for q in s.questions))
    answer = asked.client.post("/workshop/measure/look", json={**given, "step": step}, headers=AS_SCRIPT).json()

    said = unescape(answer["swap"]["look"]) + " ".join(n["wrong"] for n in answer["notes"])
    assert told in said
    assert not asked.settings.workshop.exists()


def test_a_wrong_answer_leads_back_to_its_step_and_nothing_is_written(asked: Asked) -> None:
    back = keep(asked, answers(**{"rules.pitch": "5"}))

    assert back.status_code == 422
    assert 'aria-current="step">Along' in back.text
    assert not asked.settings.workshop.exists()


def test_what_was_measured_is_read_over_in_words_before_it_is_kept(asked: Asked) -> None:
    """No line of the file is shown: what was asked, and the figure as it was understood."""
    page = asked.client.get("/workshop/measure", params={**answers(), "step": "keep", "r0.depth": '1/2"'}).text
    told = unescape(page.split('class="answered"')[1].split("</form>")[0].split("<button")[0])

    assert "[methods" not in page
    assert re.search(r"<dt>depth of the hole</dt><dd>[^<]*12\.7", told)
    assert " = " not in told


def test_without_a_name_it_is_not_kept(asked: Asked) -> None:
    assert "Give it a name." in keep(asked, answers(name="")).text
    assert "which another method has" in unescape(keep(asked, answers(name="dowels")).text)
    assert not asked.settings.workshop.exists()


def test_a_method_that_is_there_is_corrected_and_put_back(asked: Asked) -> None:
    shown = asked.client.get("/workshop/measure", params={"edit": "dowels", "size": "4"})
    assert 'name="r0.depth" value="13"' in shown.text
    kept = keep(asked, {**answers_of(START, "dowels", 4), "rules.pitch": "128"})

    assert kept.status_code == 303
    method = read_workshop(asked.settings.workshop).method("dowels")
    assert method is not None
    assert method.rules is not None
    assert method.rules.pitch == 128
    assert "changed by me" in asked.client.get("/workshop/methods").text
    base = asked.client.get("/workshop/version").json()["version"]
    asked.client.post("/workshop/measure/back", data={"base": base, "code": "dowels"})
    assert asked.settings.workshop.read_text(encoding="utf-8") == START


def test_two_pages_do_not_overwrite_each_other(asked: Asked) -> None:
    assert keep(asked, answers(), base="0123456789abcdef").status_code == 409
    assert not asked.settings.workshop.exists() or "my peg" not in asked.settings.workshop.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "query",
    [
        {"edit": "../x"},
        {"edit": "dowels", "size": "99"},
        {"edit": "dowels", "size": "-1"},
        {"edit": "dowels", "size": "9" * 5000},
        {"kind": "spoon"},
        {"kind": "dowel", "step": "nowhere"},
        {"kind": "dowel", "low": "17", "r0.kind": "volcano", "e0.kind": "hole", "e0.place": "the moon"},
        {"kind": "dowel", "low": "<script>alert(1)</script>", "name": "<script>alert(1)</script>", "step": "keep"},
        {"kind": "dowel", "low": "nan", "high": "inf", "name": "x"},
        {"low": "17"},
        {"kind": "housing", "low": "17", "whole_line": "yes", "size": "7", "name": "x"},
    ],
)
def test_odd_addresses_are_answered_in_words(asked: Asked, query: dict[str, str]) -> None:
    shown = asked.client.get(f"/workshop/measure?{urlencode(query)}")
    looked = asked.client.post("/workshop/measure/look", json=query, headers=AS_SCRIPT)
    kept = asked.client.post("/workshop/measure/keep", data=query)

    for answer in (shown, looked, kept):
        assert answer.status_code in {200, 404, 409, 422}
        assert "<script>alert" not in answer.text.replace("\\u003c", "<") or answer.headers["content-type"].startswith(
            "application/json"
        )
        assert "Traceback" not in answer.text


def test_what_no_tool_here_makes_is_told_and_can_be_kept(asked: Asked) -> None:
    given = answers(**{"r0.diameter": "9", "e0.diameter": "9"})
    shown = asked.client.get("/workshop/measure", params={**given, "step": "keep"}).text

    assert "Not with the tools on your list" in shown
    assert keep(asked, given).status_code == 303
