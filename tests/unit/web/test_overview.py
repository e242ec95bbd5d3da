"""The first page of a job: can I build it, what do I buy, what do I do now?"""

from __future__ import annotations

import re
from html import unescape

import pytest

from storyrod.adapters.web._overview import hours_words
from storyrod.adapters.web._render import templates
from storyrod.model.work import minutes_figure, work_words
from tests.unit.web.conftest import AS_SCRIPT, Asked


def answers(asked: Asked, job: str) -> str:
    told = asked.client.get(f"/job/{job}/overview/part", headers=AS_SCRIPT).json()["swap"]["overview"]
    return unescape(" ".join(re.sub(r"<[^>]+>", " ", told).split()))


def test_a_job_opens_with_its_first_page_and_does_not_wait_for_the_plan(asked: Asked) -> None:
    job = asked.take("first-box")

    assert asked.client.get(f"/job/{job}", follow_redirects=False).headers["location"] == f"/job/{job}/overview"
    page = asked.client.get(f"/job/{job}/overview").text
    assert "400 × 300 × 250 mm, 5 panels." in page
    assert 'data-waiting="yes"' in page
    assert "What do I buy?" in asked.client.get(f"/job/{job}/overview?all=1").text


def test_the_three_questions_are_answered(asked: Asked) -> None:
    job = asked.take("first-box")
    told = answers(asked, job)

    assert "Can I build it? Yes. Read 3 cautions first. Will it stand? △ 3 cautions" in told
    assert "Begin with S1: saw the panels to size." in told
    assert "dowel 8 × 35 12 used, 1 spare 1 pack of 200 6.20" in told
    assert "18 mm plywood, 2440 × 1220 mm 1 sheet price not known" in told
    assert "To pay: at least 28.52; 1 sheet has no price." in told
    assert "At least 3.13 of it goes into this job" in told


def test_what_is_ticked_moves_what_comes_next(asked: Asked) -> None:
    """Every panel ticked as sawn: the next card is another one, and less work is left."""
    job = asked.take("first-box")
    before = answers(asked, job)
    bench = asked.client.get(f"/job/{job}/bench").text
    things = re.findall(r'name="thing" value="([^"]+)"', bench)
    for thing in dict.fromkeys(unescape(t) for t in things[:5]):
        asked.client.post(f"/job/{job}/bench/tick", data={"thing": thing, "copy": "1"})
    after = answers(asked, job)

    assert "Begin with S1" in before
    assert "Go on with S2" in after
    assert re.search(r"5 of \d+ ticks are made", after)


def test_a_job_with_faults_says_so(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.change(job, {"path": "cases[0].width", "value": "20"})
    told = answers(asked, job)

    assert "Can I build it? Not yet: " in told
    assert "What do I buy?" not in told
    assert asked.client.get(f"/job/{job}/overview").status_code == 200


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(3, "about 5 minutes"), (56, "about 55 minutes"), (61, "about 1 hour"), (262, "about 4 hours 20 minutes")],
)
def test_work_is_said_in_hours_and_minutes(minutes: float, words: str) -> None:
    assert hours_words(minutes) == words


def test_cases_are_told_apart_by_their_number_and_size(asked: Asked) -> None:
    job = asked.take("low-units")
    page = unescape(asked.client.get(f"/job/{job}/overview").text)

    assert "4 cases, 56 panels." in page
    assert re.search(r"D deep unit, 2 off <span[^>]*>800 × 520 × 560 mm", page)
    assert "439.41 EUR of it goes into this job" in answers(asked, job), "the currency as it is written"
    assert "800 × 520 × 560 mm, 2 off, and 2 others" in unescape(
        asked.client.get(f"/jobs/{job}/card", headers=AS_SCRIPT).json()["swap"][f"job-{job}"]
    )


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0.2, "0 minutes"), (1, "1 minute"), (55.4, "55 minutes"), (60, "1 hour"), (592, "9 hours 52 minutes")],
)
def test_minutes_are_said_as_a_maker_says_them(minutes: float, words: str) -> None:
    assert work_words(minutes) == words


def test_a_column_of_minutes_has_tenths_below_ten_alone() -> None:
    assert [minutes_figure(m) for m in (0.25, 9.94, 9.96, 29.1, 1234.5)] == ["0.2", "9.9", "10", "29", "1,234"]


@pytest.mark.parametrize(
    ("told", "shown"),
    [
        ("dowel 8 x 35", "dowel 8 × 35"),
        ("cut-outs 110 x 28, through", "cut-outs 110 × 28, through"),
        ("2 x ray", "2 x ray"),
    ],
)
def test_figures_are_multiplied_by_a_sign_of_their_own(told: str, shown: str) -> None:
    assert templates().filters["times"](told) == shown
