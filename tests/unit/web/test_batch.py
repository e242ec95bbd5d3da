"""Jobs made together on the page: chosen, planned behind it, told, and taken away."""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import Any

import pytest

from tests.unit.batch.conftest import ROUNDS, job_text
from tests.unit.web.conftest import AS_SCRIPT, Asked


@pytest.fixture(autouse=True)
def short_searches(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr("storyrod.planning._batch.sheet_rounds", lambda _: ROUNDS)
    return iter(())


def write(asked: Asked, **texts: str) -> None:
    asked.settings.jobs.mkdir(parents=True, exist_ok=True)
    for name, text in texts.items():
        asked.job_file(name).write_text(text, encoding="utf-8")


def planned(asked: Asked, query: str) -> str:
    """Return the result's markup once all is planned."""
    answer: Any = {"working": True}
    while answer["working"]:
        time.sleep(0.05)
        answer = asked.client.get(f"/batch/part?{query}", headers=AS_SCRIPT).json()
    result: str = answer["swap"]["batch-result"]
    return result


def test_jobs_are_chosen_planned_told_and_taken_away(asked: Asked) -> None:
    write(asked, peg=job_text("Peg box"), score=job_text("Score <b>box</b>"))
    assert 'href="/batch"' in asked.client.get("/").text
    first = asked.client.get("/batch").text
    assert 'value="peg"' in first
    assert "What it saves" not in first

    query = "job=peg&job=score&paid_by=cost+alone"
    told = planned(asked, query)
    assert "1 sheet together, 2 job by job: 80.01 EUR saved." in told
    assert "Score &lt;b&gt;box&lt;/b&gt;" in told
    assert "2-A, J1" in told
    assert "would have paid alone" in told
    listed = asked.client.get(f"/batch/files/who-pays-what.csv?{query}")
    assert listed.status_code == 200
    assert "together" in listed.text
    assert asked.client.get(f"/batch/files/no-such.csv?{query}").status_code == 404


def test_a_job_with_faults_has_buttons_that_open_it_and_leave_it_out(asked: Asked) -> None:
    write(
        asked,
        peg=job_text("Peg box"),
        score=job_text("Score box"),
        wrong=job_text("Wrong").replace("width = 400", "width = 4"),
    )

    told = planned(asked, "job=peg&job=score&job=wrong")

    assert 'href="/job/wrong/brief"' in told
    out = told.split('href="/batch?')[1].split('"')[0].replace("&amp;", "&")
    assert "wrong" not in out
    assert "What it saves" in planned(asked, out)


def test_jobs_that_do_not_go_together_say_why(asked: Asked) -> None:
    write(asked, peg=job_text("Peg box"), score=job_text("Score box").replace("EUR", "GBP"))

    assert "one currency" in planned(asked, "job=peg&job=score")


def test_one_job_or_none_is_asked_for_another(asked: Asked) -> None:
    write(asked, peg=job_text("Peg box"))

    assert "one job" in asked.client.get("/batch").text
    assert "Choose one more" in asked.client.get("/batch?job=peg").text
    assert asked.client.get("/batch?job=nowhere&job=peg&job=peg").status_code == 200
    assert asked.client.get("/batch/files/plan.json", follow_redirects=False).status_code == 303
