"""The costs' stage: the account, the comparison as it fills, and what the bench log says."""

from __future__ import annotations

import io
import re
import time
import tomllib
import zipfile
from html import unescape
from typing import Any

import pytest

from storyrod.adapters.log import open_log
from storyrod.adapters.study import edges
from storyrod.telling.things import Thing
from tests.unit.web.conftest import AS_SCRIPT, Asked

TITLE = "Two-bay hymn-book unit"


def compared(asked: Asked, job: str, query: str = "") -> str:
    """Return the comparison once it is worked out, as the page's script would see it in the end."""
    for _ in range(6000):
        told: dict[str, Any] = asked.client.get(f"/job/{job}/costs/compared{query}", headers=AS_SCRIPT).json()
        if not told["working"]:
            return str(told["swap"]["costs-compare"])
        time.sleep(0.1)
    raise AssertionError("the methods were not compared")


def timed(asked: Asked, act: str = "rout a keyhole") -> None:
    asked.settings.home.mkdir(parents=True, exist_ok=True)
    with open_log(asked.settings.log) as log:
        for each in (0.6, 0.62, 0.61, 0.59, 0.6, 12.0):
            log.add_span(TITLE, act, each * 10, count=10, method="one-part keyhole connector")


def test_the_account_adds_up_and_tells_what_is_not_known(asked: Asked) -> None:
    job = asked.take("hymn-book-unit")
    told = asked.client.get(f"/job/{job}/costs").text
    assert "18.00 EUR an hour" in told
    cost = float(re.search(r"<dt>cost</dt><dd>([\d.,]+) EUR", told).group(1).replace(",", ""))  # type: ignore[union-attr]
    groups = re.findall(r'class="group">.*?<strong>([\d.,-]+)</strong>', told, flags=re.DOTALL)
    assert abs(sum(float(g.replace(",", "")) for g in groups) - cost) < 0.005
    asked.change(job, {"path": "boards.birch18.sheets[0].price", "act": "delete"})
    told = asked.client.get(f"/job/{job}/costs").text
    assert "1 sheet has no price. These sums leave that out." in told
    assert 'name="price.boards.birch18.sheets"' in told
    assert "<dt>price</dt><dd>at least " in told


def test_the_comparison_is_worked_out_behind_the_page_and_told_on_other_terms(asked: Asked) -> None:
    job = asked.take("hymn-book-unit")
    assert 'data-working="yes"' in asked.client.get(f"/job/{job}/costs").text
    table = compared(asked, job)
    for words in ("loose tenons", "job's own", "<svg", "When does it pay", "These do not fit"):
        assert words in unescape(table)
    assert compared(asked, job, "?rate=60&per_year=200") != table
    told = asked.client.get(f"/job/{job}/costs?rate=60&per_year=200").text
    assert "60.00 EUR an hour" in told
    assert "200 carcasses a year" in told


def test_wrong_what_ifs_are_told_at_their_field(asked: Asked) -> None:
    job = asked.take("first-box")
    wrong = asked.client.get(f"/job/{job}/costs?rate=<b>much&per_year=0")
    assert wrong.status_code == 200
    assert wrong.text.count('aria-invalid="true"') == 2
    assert "<b>much" not in wrong.text


def test_what_the_bench_taught_can_be_taken_into_the_workshop_file(asked: Asked) -> None:
    job = asked.take("hymn-book-unit")
    timed(asked)
    told = asked.client.get(f"/job/{job}/costs").text
    assert 'data-act="rout a keyhole"' in told
    assert "1 set aside" in told
    assert "Use in the workshop" in told
    answer = asked.client.post(f"/job/{job}/costs/learn", json={"act": "rout a keyhole"}, headers=AS_SCRIPT)
    assert answer.status_code == 200
    written = tomllib.loads((asked.settings.jobs / "choir-workshop.toml").read_text(encoding="utf-8"))
    now = written["times"]["rout a keyhole"]
    assert 0.5 < now["usual"] < 0.6
    assert now["low"] < now["usual"] < now["high"]
    assert written["times"]["trial joint"]["usual"] == 4
    told = asked.client.get(f"/job/{job}/costs").text
    assert 'data-act="rout a keyhole"' not in told  # the same timings do not teach twice
    assert "from the stop-watch already: rout a keyhole" in told
    again = asked.client.post(f"/job/{job}/costs/learn", json={"act": "rout a keyhole"}, headers=AS_SCRIPT)
    assert again.status_code == 422


def test_learning_needs_a_workshop_file_and_a_timed_act(asked: Asked) -> None:
    job = asked.take("first-box")
    timed(asked)
    answer = asked.client.post(f"/job/{job}/costs/learn", json={"act": "rout a keyhole"}, headers=AS_SCRIPT)
    assert answer.status_code == 422
    assert answer.json()["faults"][0]["code"] == "learn"
    other = asked.take("hymn-book-unit")
    before = (asked.settings.jobs / "choir-workshop.toml").read_bytes()
    for act in ("", "sing", 'x" = 1 #', "../../x"):
        answer = asked.client.post(f"/job/{other}/costs/learn", json={"act": act}, headers=AS_SCRIPT)
        assert answer.status_code == 422
    assert (asked.settings.jobs / "choir-workshop.toml").read_bytes() == before
    form = asked.client.post(f"/job/{other}/costs/learn", data={"act": "rout a keyhole"}, follow_redirects=False)
    assert form.status_code == 303


def test_spans_and_ticks_of_the_job_are_told(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.settings.home.mkdir(parents=True, exist_ok=True)
    with open_log(asked.settings.log) as log:
        log.add_span("Peg box", "trial joint", 5.0, note="<script>alert(1)</script>")
        log.tick("Peg box", "old", Thing(id="panel A.side-left", name="A1 left side cut", content="as it was"))
    told = asked.client.get(f"/job/{job}/costs").text
    assert "Timed for this job" in told
    assert "<script>alert" not in told
    assert "No longer: A1 left side cut" in told


def test_the_log_goes_out_as_tables(asked: Asked) -> None:
    job = asked.take("hymn-book-unit")
    timed(asked)
    answer = asked.client.get(f"/job/{job}/costs/bench-log.zip")
    assert answer.headers["content-type"] == "application/zip"
    with zipfile.ZipFile(io.BytesIO(answer.content)) as archive:
        assert "rout a keyhole" in archive.read("spans.csv").decode()


def test_a_job_that_can_not_be_built_shows_why_and_still_its_log(asked: Asked) -> None:
    job = asked.take("hymn-book-unit")
    timed(asked)
    asked.change(job, {"path": "methods.corner", "value": "cam and bolt"})
    page = asked.client.get(f"/job/{job}/costs")
    assert page.status_code == 200
    assert "From the bench" in page.text
    asked.change(job, {"path": "methods.corner", "value": "nothing like it"})
    page = asked.client.get(f"/job/{job}/costs")
    assert page.status_code == 200
    assert "nothing like it" in page.text


def test_what_has_no_price_is_not_known_rather_than_nothing(asked: Asked) -> None:
    job = asked.take("first-box")
    page = asked.client.get(f"/job/{job}/costs").text

    group = page.split(">sheets ")[1].split("</tbody>")[0]
    assert group.count("not known") == 2, "the line, and the sum of its kind"
    assert page.count('name="price.boards.birch18.sheets"') == 1
    assert re.search(r"<dt>cost</dt><dd>at least [\d.]+</dd>", page)
    assert 'name="price.money.rate_per_hour"' in page


def test_sizes_near_are_looked_at_once_the_script_asks(asked: Asked, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(edges, "STRIDES", 1)
    monkeypatch.setattr(edges, "_TURNS", {"width": ("narrower", "wider")})
    job = asked.take("hymn-book-unit")
    assert "storyrod edges" in asked.client.get(f"/job/{job}/costs").text
    told: dict[str, Any] = {"working": True}
    for _ in range(600):
        if not told["working"]:
            break
        time.sleep(0.05)
        told = asked.client.get(f"/job/{job}/costs/edges", headers=AS_SCRIPT).json()

    shown = unescape(str(told["swap"]["costs-edges"]))
    assert 'data-working="no"' in shown
    assert "4 mm narrower" not in shown  # a screw fewer
    costs = "H 7.5 mm wider (width 1047.5 mm) costs 78.00 EUR more. From there on: 1 sheet of birch plywood 18 more."
    assert costs in shown
