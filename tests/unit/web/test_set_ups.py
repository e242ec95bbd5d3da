"""Set-ups over HTTP: every card as in print, the trial joint as on the command line, counts with what is ticked."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest

from storyrod.adapters.files import read_job
from storyrod.adapters.log import open_log
from storyrod.adapters.trying import Reading, correct
from storyrod.model.machining import TrialKind
from storyrod.planning import Plan
from storyrod.telling.cards import cards_of
from storyrod.telling.set_ups import BY_EYE_WORDS
from tests.places import EXAMPLES
from tests.unit.web.conftest import AS_SCRIPT, Asked

JOB = "low-units"


def told_by_command(set_up: str, **reading: str) -> str:
    read = read_job(EXAMPLES / f"{JOB}.toml")
    ((kind, written),) = reading.items()
    return correct(Plan(read.job, read.workshop), Reading(set_up=set_up, kind=TrialKind(kind), written=written)).text


def trial(asked: Asked, set_up: str, kind: str, reading: str, **more: str) -> Any:
    body = {"set-up": set_up, "kind": kind, "reading": reading, "packer": "", **more}
    return asked.client.post(f"/job/{JOB}/set-ups/trial", json=body, headers=AS_SCRIPT)


@pytest.fixture
def job(asked: Asked) -> str:
    return asked.take(JOB)


@pytest.mark.parametrize("example", ["first-box", "rehearsal-room", "music-stand-shelf-inches", "percussion-chest"])
def test_every_card_of_the_examples_is_shown(asked: Asked, example: str) -> None:
    asked.take(example)
    told = asked.client.get(f"/job/{example}/set-ups").text

    stopped = ""
    for card in dict.fromkeys(re.findall(r'href="\?set-up=(S\d+)"', told)):
        shown = asked.client.get(f"/job/{example}/set-ups?set-up={card}")
        assert shown.status_code == 200
        assert f'<span class="id">{card}</span>' in shown.text
        assert " style=" not in shown.text
        stopped += unescape(shown.text)
    # Some rebates and housings stop where no block can be clamped: the page says how, as paper does.
    assert (BY_EYE_WORDS in stopped) is (example in ("rehearsal-room", "music-stand-shelf-inches"))


def test_a_card_says_what_is_set_why_and_in_which_order(asked: Asked, job: str) -> None:
    told = asked.client.get(f"/job/{job}/set-ups?set-up=S9").text

    for words in (
        "keyhole 11.5",
        "17 (offset 2.75)",
        "23 = 12 + 11",
        "Why from there",
        "△",
        "Work in this order: 32 cuts",
    ):
        assert words in told or words == "△"
    assert "far end, stop B on the far edge, jig turned over" in told
    assert 'class="drawing"' in told
    assert "storyrod trial" not in told


def test_jigs_are_shown_with_their_cutting_lists_and_files(asked: Asked, job: str) -> None:
    told = asked.client.get(f"/job/{job}/set-ups").text

    assert [j for j in ("G1", "G2", "G3", "G4") if f'id="jig-{j}"' in told] == ["G1", "G2", "G3", "G4"]
    assert "Check it before you trust it" in told
    assert f"/job/{job}/files/jigs/" in told


def test_the_count_sheet_counts_what_is_ticked(asked: Asked, job: str) -> None:
    before = asked.client.get(f"/job/{job}/set-ups").text
    assert "538 cuts are wanted and 538 are in the run; 0 are ticked" in before
    version = Plan(*_read()).version
    body = {"ticks": [{"uid": "a" * 32, "thing": "cut D.side-left:J1.1r", "copy": 2, "done": True, "version": version}]}
    asked.client.post(f"/job/{job}/bench/ticks", json=body, headers=AS_SCRIPT)
    told = asked.client.get(f"/job/{job}/set-ups").text

    assert "538 are in the run; 1 is ticked" in told
    assert "31 left" in told


def test_the_count_sheet_names_every_fitting_and_those_that_are_missed(asked: Asked, job: str) -> None:
    """Each runner, hinge and shelf by its name, ticked or not."""
    cards = cards_of(Plan(*_read()))
    rows = [r for c in cards if c.id.startswith("case-") for r in c.rows if not r.thing.id.startswith("joint ")]
    first = next(r.thing for r in rows if r.thing.id.startswith("runner-case "))
    version = Plan(*_read()).version
    body = {"ticks": [{"uid": "b" * 32, "thing": first.id, "copy": 1, "done": True, "version": version}]}
    asked.client.post(f"/job/{job}/bench/ticks", json=body, headers=AS_SCRIPT)

    told = unescape(asked.client.get(f"/job/{job}/set-ups").text).split("By fitting")[1].split("</details>")[0]
    lines = {line.split("</td>")[0].removeprefix("<td>"): line for line in told.split("<tr>")[2:]}
    assert {r.thing.name for r in rows} == set(lines)
    assert "left" in lines[first.name] or "all" in lines[first.name]
    assert '<td class="figure">1</td><td>' in lines[first.name]
    others = [line for name, line in lines.items() if name != first.name]
    assert all('<td class="figure">0</td><td>' in line for line in others)


def _read() -> Any:
    read = read_job(EXAMPLES / f"{JOB}.toml")
    return read.job, read.workshop


@pytest.mark.parametrize(
    ("set_up", "kind", "reading", "millimetres"),
    [("S4", "step", "0.3", "0.3"), ("S4", "step", '1/64"', "0.396875"), ("S12", "fence", "0,5", "0.5")],
)
def test_a_reading_gives_what_the_command_gives(
    asked: Asked, job: str, set_up: str, kind: str, reading: str, millimetres: str
) -> None:
    answer = trial(asked, set_up, kind, reading)

    assert answer.status_code == 200
    assert answer.json()["text"] == told_by_command(set_up, **{kind: millimetres})
    assert answer.json()["direction"]


@pytest.mark.parametrize(
    ("set_up", "kind", "reading", "found"),
    [
        ("S4", "step", "40", "Look for a wrong line"),
        ("S4", "step", "0.01", "Leave the setting as it is"),
        ("S4", "step", "a bit", "What you measured: found"),
        ("S14", "step", "0.3", "a step for S14"),
        ("S4", "gap", "-0.3", "enter it as a step"),
        ("S4", "rubbish", "40", "Look for a wrong line"),
    ],
)
def test_a_reading_that_is_none_is_told_in_words(
    asked: Asked, job: str, set_up: str, kind: str, reading: str, found: str
) -> None:
    answer = trial(asked, set_up, kind, reading)

    assert answer.status_code == 422
    words = " ".join(f["words"] for f in answer.json()["faults"])
    assert found in words
    assert "--" not in words


def test_a_set_up_that_is_not_there_is_told(asked: Asked, job: str) -> None:
    assert trial(asked, "S99", "step", "0.3").status_code == 422
    assert asked.client.get(f"/job/{job}/set-ups?set-up=S99").status_code == 200


def test_a_reading_is_kept_only_when_asked(asked: Asked, job: str) -> None:
    trial(asked, "S4", "step", "0.3")
    kept = trial(asked, "S4", "step", "0.3", keep="yes")

    assert kept.json()["kept"] is True
    with open_log(asked.settings.log) as log:
        (one,) = log.trials(JOB)
    assert (one.set_up, one.kind, one.reading) == ("S4", "step", 0.3)
    assert one.note == kept.json()["text"]
    assert "Kept of this set-up" in asked.client.get(f"/job/{job}/set-ups?set-up=S4").text


def test_a_form_without_scripts_comes_back_with_the_answer(asked: Asked, job: str) -> None:
    form = {"set-up": "S4", "kind": "step", "reading": "0.3", "packer": ""}
    told = asked.client.post(f"/job/{job}/set-ups/trial", data=form).text

    assert told_by_command("S4", step="0.3") in told


def test_words_of_a_reading_are_shown_as_words(asked: Asked, job: str) -> None:
    told = asked.client.get(f"/job/{job}/set-ups?set-up=S4&kind=step&reading=<script>alert(1)</script>").text

    assert "<script>alert" not in told


def test_a_job_that_can_not_be_worked_shows_why(asked: Asked, job: str) -> None:
    asked.change(job, {"path": "cases[0].width", "value": "wide"})
    told = asked.client.get(f"/job/{job}/set-ups")

    assert told.status_code == 200
    assert "cases[0].width" in told.text
