"""A glue-up that takes longer than the glue stays open: its choices are tried, shown at its step, and written."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest

from storyrod.adapters.files.editing import parsed
from storyrod.adapters.web._glue_ways import late_glue
from tests.unit.web.conftest import AS_SCRIPT, Asked


def forms(page: str) -> list[tuple[str, dict[str, str]]]:
    """Return every choice of a page: what its button says, and what it sends."""
    found = []
    for form in re.findall(r"<form[^>]*/glue-up\">(.*?)</form>", page, re.DOTALL):
        sent = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form))
        found.append((unescape(re.findall(r"<button[^>]*>([^<]+)<", form)[0]), sent))
    return found


def choices(asked: Asked, job: str, at: str = "overview") -> dict[str, dict[str, str]]:
    answer: dict[str, Any] = asked.client.get(f"/job/{job}/glue-up?at={at}", headers=AS_SCRIPT).json()
    return dict(forms("".join(answer["swap"].values())))


def press(asked: Asked, job: str, sent: dict[str, str]) -> Any:
    return asked.client.post(f"/job/{job}/glue-up", data=sent, follow_redirects=False)


def late(asked: Asked, job: str) -> tuple[object, ...]:
    return asked.desk.job(job).ask(late_glue)


def test_every_choice_that_is_shown_ends_its_caution(asked: Asked) -> None:
    """first-box: 12 minutes alone and 7 with two, against 5; its clamps alone take so long that no goes will do."""
    job = asked.take("first-box")
    shown = choices(asked, job)
    assert list(shown) == ["Use a glue that stays open 12 min", "Two people, and a glue that stays open 7 min"]

    for words, sent in shown.items():
        asked.take("first-box")
        (asked.settings.jobs / "workshop.toml").unlink(missing_ok=True)
        assert late(asked, job), words
        answer = press(asked, job, sent)
        assert answer.status_code == 303, words
        assert not late(asked, job), words
        own = parsed((asked.settings.jobs / "workshop.toml").read_text(encoding="utf-8"))
        assert own["handling"] == {"open_time_min": int(sent["open_min"])}
        told = parsed(asked.job_file(job).read_text(encoding="utf-8"))
        assert told["workshop"] == "workshop.toml"
        assert told.get("gluing", {}) == ({"people": 2} if "people" in sent else {})


def test_two_people_and_goes_are_written_into_the_job_and_told_at_the_steps(asked: Asked) -> None:
    """With 11.5 minutes for 12, two people do, and so do two goes: nothing of the workshop changes."""
    job = asked.take("first-box")
    text = asked.job_file(job).read_text(encoding="utf-8")
    asked.job_file(job).write_text('workshop = "workshop.toml"\n' + text, encoding="utf-8")
    workshop = asked.settings.jobs / "workshop.toml"
    workshop.write_text("[handling]\nopen_time_min = 11.5\n", encoding="utf-8")
    shown = choices(asked, job, "assembly")

    assert list(shown) == [
        "Use a glue that stays open 12 min",
        "Glue it up with two people: 7 min",
        "Glue it up in two goes",
    ]
    answer = press(asked, job, shown["Glue it up in two goes"])
    assert answer.headers["location"] == f"/job/{job}/assembly?case=A&step=1"
    assert parsed(asked.job_file(job).read_text(encoding="utf-8"))["gluing"] == {"goes": 2}
    assert workshop.read_text(encoding="utf-8") == "[handling]\nopen_time_min = 11.5\n"
    page = unescape(asked.client.get(f"/job/{job}/assembly").text)
    assert "Glue it up in 2 goes" in page
    assert "in the first go." in page
    assert "in the second go." in page
    assert "data-glue" not in page

    asked.change(job, {"path": "gluing.goes", "act": "delete"}, {"path": "gluing.people", "value": 2})
    page = unescape(asked.client.get(f"/job/{job}/assembly").text)
    assert not late(asked, job)
    assert "Needs 2 people" in page


@pytest.mark.parametrize(
    "sent", [{}, {"people": "3"}, {"open_min": "9999"}, {"goes": "2"}, {"open_min": "12\n[money]"}, {"people": "2"}]
)
def test_nothing_else_than_a_shown_choice_is_written(asked: Asked, sent: dict[str, str]) -> None:
    job = asked.take("first-box")
    before = asked.job_file(job).read_text(encoding="utf-8")

    assert press(asked, job, {"back": "overview", **sent}).status_code == 422
    assert asked.job_file(job).read_text(encoding="utf-8") == before
    assert not (asked.settings.jobs / "workshop.toml").exists()


def test_the_page_says_what_the_glue_up_takes_and_how_many_clamps_to_have(asked: Asked) -> None:
    job = asked.take("first-box")
    page = unescape(asked.client.get(f"/job/{job}/assembly").text)
    assert 'id="glue-A-1" data-glue' in page
    assert re.findall(r"Have (\d+) clamps at hand", page) == ["6"]
    assert "What to do about the late glue-up<" in asked.client.get(f"/job/{job}/overview?all=1").text
    told = asked.client.get(f"/job/{job}/glue-up?at=overview", headers=AS_SCRIPT).json()["swap"]["glue-late"]
    assert "This glue-up takes about 12 min, your glue holds 5." in told


def test_will_it_stand_asks_for_time_to_glue_and_offers_the_same_choices(asked: Asked) -> None:
    """first-box: 12 minutes against 5; with a glue that stays open 12 it is in time, and nothing is left to choose."""
    job = asked.take("first-box")
    page = unescape(asked.client.get(f"/job/{job}/stand").text)
    assert "Is there time to glue it up?" in page
    assert "takes about 12 min from its first glue to its last clamp; your glue stays open 5 min" in page
    assert 'id="glue-A-1" data-glue' in page
    shown = choices(asked, job, "stand")
    assert shown == {words: {**sent, "back": "stand"} for words, sent in choices(asked, job, "assembly").items()}

    answer = press(asked, job, shown["Use a glue that stays open 12 min"])
    assert answer.headers["location"] == f"/job/{job}/stand"
    after = unescape(asked.client.get(f"/job/{job}/stand").text)
    assert "The longest glue-up takes about 12 min" in after
    assert "data-glue" not in after


def test_a_job_without_glue_is_not_asked_whether_there_is_time_for_it(asked: Asked) -> None:
    job = asked.take("first-box")
    text = asked.job_file(job).read_text(encoding="utf-8")
    methods = '[methods]\ncorner = "carcass screws"\nmid_panel = "carcass screws"\n'
    asked.job_file(job).write_text(re.sub(r"\[methods\]\n(\w+ = .*\n)*", "", text) + methods, encoding="utf-8")

    page = asked.client.get(f"/job/{job}/stand").text
    assert "Does it sag?" in page
    assert "Is there time to glue it up?" not in page
