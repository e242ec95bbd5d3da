"""The joints' stage: methods compared before they are chosen, each joint drawn, faults in words."""

from __future__ import annotations

import json
import re
import time
from html import unescape
from typing import Any

from tests.unit.web.conftest import AS_SCRIPT, Asked


def filled(asked: Asked, job: str, of: str) -> str:
    """Return the table of methods once it is whole, as the page's script would see it in the end."""
    for _ in range(400):
        told: dict[str, Any] = asked.client.get(f"/job/{job}/joints/options?of={of}", headers=AS_SCRIPT).json()
        if not told["working"]:
            return str(told["swap"]["joints-options"])
        time.sleep(0.05)
    raise AssertionError("the methods were not worked out")


def choices(table: str) -> dict[str, list[dict[str, Any]]]:
    """Return what each button of a table sends, by the method it says."""
    found = re.findall(r'data-choose="([^"]*)" data-says="([^"]*)"', table)
    return {unescape(says): json.loads(unescape(changes)) for changes, says in found}


def test_every_joint_is_listed_with_its_method(asked: Asked) -> None:
    job = asked.take("first-box")
    told = asked.client.get(f"/job/{job}/joints").text
    assert told.count('class="joint-line"') == 6
    assert "A3 top to A1 left side" in told
    assert "dowels" in told


def test_the_table_is_shown_at_once_and_fills(asked: Asked) -> None:
    job = asked.take("first-box")
    first = asked.client.get(f"/job/{job}/joints?of=corner").text
    assert 'data-working="yes"' in first
    assert "being worked out" in first
    table = filled(asked, job, "corner")
    assert "being worked out" not in table
    assert "As it is now" in table
    assert re.search(r"[\d.]+ (more|less)", table)


def test_choosing_and_undoing_change_the_file_and_back(asked: Asked) -> None:
    job = asked.take("first-box")
    before = asked.job_file(job).read_text(encoding="utf-8")
    sent = choices(filled(asked, job, "together"))["glued butt joint"]
    assert asked.change(job, *sent).status_code == 200
    told = asked.client.get(f"/job/{job}/joints").text
    assert "glued butt joint" in told
    asked.client.post(f"/job/{job}/step", json={"by": -1}, headers=AS_SCRIPT)
    assert asked.job_file(job).read_text(encoding="utf-8") == before


def test_one_joint_has_its_own_method_and_gives_it_back(asked: Asked) -> None:
    job = asked.take("first-box")
    sent = choices(filled(asked, job, "A.J1"))["glued butt joint"]
    assert asked.change(job, *sent).status_code == 200
    assert "[[joints]]" in asked.job_file(job).read_text(encoding="utf-8")
    back = choices(filled(asked, job, "A.J1"))["as the others"]
    assert asked.change(job, *back).status_code == 200
    assert "[[joints]]" not in asked.job_file(job).read_text(encoding="utf-8")


def test_a_joint_is_drawn_with_its_places_and_panels(asked: Asked) -> None:
    job = asked.take("first-box")
    told = asked.client.get(f"/job/{job}/joints?joint=A.J1").text
    assert "<svg" in told
    assert "Stations along the joint" in told
    assert f"/job/{job}/set-out?panel=A.side-left" in told


def test_a_job_that_can_not_be_joined_still_lets_a_method_be_chosen(asked: Asked) -> None:
    job = asked.take("low-units")
    sent = {"path": "methods.plinth", "value": "cam and bolt"}
    assert asked.change(job, sent).status_code == 200
    page = asked.client.get(f"/job/{job}/joints?of=plinth")
    assert page.status_code == 200
    assert "60 mm long" in page.text
    table = filled(asked, job, "plinth")
    assert "It cannot be made as it is" in table
    assert "pocket screws" in choices(table)


def test_a_file_that_can_not_be_read_shows_its_faults(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.job_file(job).write_text("title = 'x'\ncases = 3\n", encoding="utf-8")
    page = asked.client.get(f"/job/{job}/joints?of=corner&joint=A.J1")
    assert page.status_code == 200
    assert "cases" in page.text


def test_what_is_not_there_is_told(asked: Asked) -> None:
    job = asked.take("first-box")
    assert asked.client.get("/job/nothing/joints").status_code == 404
    for of in ("", "nowhere", "corner@../..", "<script>"):
        told = asked.client.get(f"/job/{job}/joints/options", params={"of": of}, headers=AS_SCRIPT)
        assert told.status_code == 422
        assert told.json()["faults"][0]["code"] == "no-such-joint"
    page = asked.client.get(f"/job/{job}/joints", params={"of": "<script>alert(1)</script>", "joint": "<b>"})
    assert page.status_code == 200
    assert "<script>alert" not in page.text


def test_words_of_the_maker_are_only_words(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.change(job, {"path": "cases[0].name", "value": "<script>alert(1)</script>"})
    told = asked.client.get(f"/job/{job}/joints?joint=A.J1").text
    assert "<script>alert" not in told
    assert "&lt;script&gt;alert" in told


def test_a_cost_that_leaves_something_out_is_told_as_the_least(asked: Asked) -> None:
    """first-box has no price of its sheet, nor of an hour; with both, no cost says `at least`."""
    job = asked.take("first-box")
    table = filled(asked, job, "corner")
    assert table.count("<strong>at least ") == table.count("<strong>") // 2 > 1, "cost and minutes of every line"

    prices = {"price.boards.birch18.sheets": "62.50", "price.money.rate_per_hour": "30"}
    asked.client.post(f"/job/{job}/prices", data={"back": "overview", **prices})
    assert "at least" not in filled(asked, job, "corner")
