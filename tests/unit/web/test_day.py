"""The day's work on the page: of one job and of two, planned behind it, re-planned from ticks, next at the bench."""

from __future__ import annotations

import io
import time
from collections.abc import Iterator
from typing import Any

import pytest
from pypdf import PdfReader

from storyrod.adapters.files import read_job
from storyrod.adapters.log import open_log
from storyrod.planning import Plan
from storyrod.telling.cards import cards_of
from tests.unit.batch.conftest import ROUNDS, job_text
from tests.unit.web.conftest import AS_SCRIPT, Asked
from tests.unit.web.test_batch import write

START = "start=2026-12-03+8%3A30"


@pytest.fixture(autouse=True)
def short_searches(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr("storyrod.planning._batch.sheet_rounds", lambda _: ROUNDS)
    return iter(())


def planned(asked: Asked, query: str) -> str:
    """Return the result's markup once all is planned."""
    answer: Any = {"working": True}
    while answer["working"]:
        time.sleep(0.05)
        answer = asked.client.get(f"/day/part?{query}", headers=AS_SCRIPT).json()
    result: str = answer["swap"]["day-result"]
    return result


def test_one_job_is_planned_told_and_gone_on_with_at_the_bench(asked: Asked) -> None:
    write(asked, peg=job_text("Peg <b>box</b>"))
    assert 'href="/day?job=peg"' in asked.client.get("/job/peg/overview?all=1").text
    query = f"job=peg&{START}"

    told = planned(asked, query)

    assert "Thursday 3 December" in told
    assert "S1: saw the panels to size" in told
    assert "Peg &lt;b&gt;box&lt;/b&gt;" in told
    assert "Eight times in ten" in told
    assert 'value="peg" checked' in asked.client.get(f"/day?{query}").text
    gone = asked.client.get(f"/day/next?{query}", follow_redirects=False)
    assert gone.headers["location"] == "/job/peg/bench?card=S1#card-S1"
    sheet = asked.client.get(f"/day/days-work.pdf?{query}")
    assert len(PdfReader(io.BytesIO(sheet.content)).pages) == 1


def test_two_jobs_are_told_together_and_ticks_of_one_take_its_part_off(asked: Asked) -> None:
    """All panels of one job are cut: what comes next is the saw card of the other."""
    write(asked, peg=job_text("Peg box"), score=job_text("Score box", width=500, depth=320))
    query = f"job=peg&job=score&{START}"
    told = planned(asked, query)
    assert "1 + 2: S1: saw the panels to size" in told
    assert "/job/peg/bench?card=S1" in told
    assert "/job/score/bench?card=S1" in told
    assert "2: S1 <span" in told
    asked.client.get(f"/day?{query}")
    assert "/day/next?job=peg&amp;job=score" in asked.client.get("/job/score/bench").text

    read = read_job(asked.job_file("peg"))
    plan = Plan(read.job, read.workshop)
    card = next(c for c in cards_of(plan) if c.id == "S1")
    with open_log(asked.settings.log) as log:  # as another tablet's server would
        for row in card.rows:
            log.tick("peg", plan.version, row.thing)

    planned(asked, query)
    gone = asked.client.get(f"/day/next?{query}", follow_redirects=False)
    assert gone.headers["location"] == "/job/score/bench?card=S1#card-S1"


def test_a_start_that_is_no_day_and_a_job_with_faults_say_so(asked: Asked) -> None:
    write(asked, peg=job_text("Peg box"), wrong=job_text("Wrong").replace("width = 400", "width = 4"))

    assert "a day as 2026-12-03" in planned(asked, "job=peg&start=tomorrow")
    assert "The days cannot be planned yet" in planned(asked, "job=wrong")
    assert "The days cannot be planned yet" in planned(asked, "job=peg&job=wrong")
    assert asked.client.get("/day/next?job=no-such", follow_redirects=False).headers["location"] == "/day?"
    assert asked.client.get("/day").status_code == 200
