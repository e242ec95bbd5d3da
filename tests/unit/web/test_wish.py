"""A wish on the page: three questions, pictures as they come, one taken as a job with its wish beside it."""

from __future__ import annotations

import time
from html import unescape
from typing import Any

import pytest

from storyrod.adapters.files.kept_wish import kept_wish
from storyrod.planning import can_search
from tests.unit.web.conftest import AS_SCRIPT, Asked

ASK = "thing0=ring-binder&count0=9&width=500&height=900&depth=400"


def found(asked: Asked, query: str) -> tuple[str, str]:
    """Return the result's markup when it was first asked for, and once every kind is tried."""
    first = told = ""
    answer: Any = {"working": True}
    while answer["working"]:
        answer = asked.client.get(f"/wish/part?{query}", headers=AS_SCRIPT).json()
        told = unescape(answer["swap"]["wish-result"])
        first = first or told
        time.sleep(0.05)
    return first, told


@pytest.fixture(autouse=True)
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("storyrod.adapters.web._wish_work.ENOUGH", 1)


def test_the_list_of_jobs_leads_to_three_questions(asked: Asked) -> None:
    assert 'href="/wish"' in asked.client.get("/").text
    told = asked.client.get("/wish").text

    assert told.count("<legend>") == 3
    assert '<option value="hymn-book">' in told
    assert 'value="1200"' in told
    assert "Cabinets to choose from" not in told


def test_a_proposal_is_shown_and_taken_with_its_wish(asked: Asked) -> None:
    _, told = found(asked, ASK)
    assert "ring binders for A4: " in told.lower() or "ring binders for A4, " in told
    assert "<svg" in told
    assert "Take this one" in told

    taken = asked.client.post(f"/wish/take?{ASK}", data={"number": "1"}, follow_redirects=False)
    assert taken.headers["location"] == "/job/from-a-wish/overview"
    kept = kept_wish(asked.job_file("from-a-wish"))
    assert kept is not None
    assert [(g.name, g.count) for g in kept.goods] == [("ring binders for A4", 9)]
    assert asked.client.get("/job/from-a-wish/overview").status_code == 200


def test_what_cannot_be_asked_is_told_by_the_names_of_the_form(asked: Asked) -> None:
    told = unescape(asked.client.get("/wish?thing0=folder&count0=lots&width=500&height=900&depth=400").text)
    large = unescape(asked.client.get("/wish?thing0=coat&count0=2&reach0=door&width=900&height=900&depth=600").text)

    assert "thing 1, count" in told
    assert "thing 1" in large
    assert "coats of 1350 mm" in large


def test_a_wish_that_cannot_be_met_says_what_makes_peace(asked: Asked) -> None:
    _, told = found(asked, ASK.replace("count0=9", "count0=12").replace("ring-binder", "folder"))

    assert "These wishes cannot all be met" in told
    assert "10 lever-arch folders for A4 go in: leave 2 out" in told


def test_a_proposal_that_is_not_there_is_not_taken(asked: Asked) -> None:
    assert asked.client.post("/wish/take", data={"number": "1"}).status_code == 404
    assert not list(asked.settings.jobs.glob("from-*.toml"))


def test_without_the_solver_the_page_says_how_to_get_it(asked: Asked, monkeypatch: pytest.MonkeyPatch) -> None:
    assert can_search()
    monkeypatch.setattr("storyrod.adapters.web.views.wish.can_search", lambda: False)
    told = asked.client.get(f"/wish?{ASK}").text

    assert "run.py wish" in told
    assert "Take this one" not in told
