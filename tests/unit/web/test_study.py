"""Many sizes at once, on the page: asked by a form, worked out behind it, told, taken away, and taken over."""

from __future__ import annotations

import csv
import io
import re
import time
from html import unescape
from typing import Any

import pytest

import storyrod
from storyrod.adapters.study import at_hand
from tests.unit.study.shared import JOB, variants_in
from tests.unit.web.conftest import AS_SCRIPT, Asked

ASK = "field=cases[0].width&from=400&to=700&step=300&pick=methods.corner%3Ddowels&pick=methods.corner%3Dbiscuits"
PAGE = "/job/pegs/study"


@pytest.fixture
def pegs(asked: Asked) -> Asked:
    asked.settings.jobs.mkdir(parents=True, exist_ok=True)
    asked.job_file("pegs").write_text(JOB, encoding="utf-8")
    return asked


def worked_out(asked: Asked, query: str) -> str:
    """Return the result's markup once every variant is done."""
    answer: Any = {"working": True}
    while answer["working"]:
        time.sleep(0.05)
        answer = asked.client.get(f"{PAGE}/part?{query}", headers=AS_SCRIPT).json()
    return unescape(answer["swap"]["study-result"])


def test_the_page_proposes_a_width_and_works_nothing_out_before_it_is_asked(pegs: Asked) -> None:
    told = pegs.client.get(PAGE).text

    assert 'value="450"' in told
    assert 'value="550"' in told
    assert "Results" not in told
    assert f'href="{PAGE}"' in pegs.client.get("/job/pegs/costs").text


def test_every_row_is_the_plan_of_that_variant_and_the_best_becomes_the_job(pegs: Asked) -> None:
    shown = worked_out(pegs, ASK + "&least=minutes")

    assert "4 variants worked out." in shown
    assert "The lowest time is" in shown
    listed = pegs.client.get(f"{PAGE}/file/rows.csv?{ASK}&least=minutes").text
    rows = list(csv.DictReader(io.StringIO(listed)))
    assert [(r["cases[0].width"], r["methods.corner"]) for r in rows] == [
        (w, m) for w in ("400", "700") for m in ("dowels", "biscuits")
    ]
    best = min(rows, key=lambda r: float(r["minutes"]))

    sent = re.search(r'name="number" value="(\d+)"><input type="hidden" name="base" value="([^"]+)"', shown)
    assert sent is not None
    body = {"number": sent[1], "base": sent[2]}
    answer = pegs.client.post(f"{PAGE}/make?{ASK}&least=minutes", data=body, follow_redirects=False)
    assert answer.status_code == 303
    made = storyrod.plan(pegs.job_file("pegs"))
    assert made.job.cases[0].width == float(best["cases[0].width"])
    assert f"{made.account.minutes.usual:.4f}" == f"{float(best['minutes']):.4f}"

    again = pegs.client.post(f"{PAGE}/make?{ASK}&least=minutes", data=body)
    assert again.status_code == 422
    assert "changed somewhere else" in again.text


def test_openings_vary_by_their_number_and_are_written_out(pegs: Asked) -> None:
    query = "field=cases[0].inside.rows&from=3&to=4&step=1&least=weight"
    shown = worked_out(pegs, query)
    base = pegs.version("pegs")

    assert "rows 3" in shown
    pegs.client.post(f"{PAGE}/make?{query}", data={"number": "1", "base": base}, follow_redirects=False)
    text = pegs.job_file("pegs").read_text(encoding="utf-8")
    assert text.partition("rows = ")[2].count("{}") == 4


def test_what_has_no_price_is_said_beside_the_lowest(pegs: Asked) -> None:
    told = worked_out(pegs, ASK + "&least=price")
    assert re.search(r"This leaves out .*minutes of work: there is no price for that yet", told)


def test_a_study_that_is_too_large_or_wrong_says_where(pegs: Asked) -> None:
    large = unescape(pegs.client.get(f"{PAGE}?field=cases[0].width&from=400&to=800&step=1").text)
    assert "401 variants" in large
    assert f"up to {at_hand.MOST} while you wait" in large
    backwards = unescape(pegs.client.get(f"{PAGE}?field2=cases[0].depth&from2=300&to2=200&step2=5").text)
    assert "And another, to: found 200" in backwards
    number = unescape(pegs.client.get(f"{PAGE}?{ASK}&sheets_most=many").text)
    assert "At most so many sheets: found" in number
    priced = unescape(pegs.client.get(f"{PAGE}?{ASK}&list=yes").text)
    assert "found no price for" in priced.split("cannot be asked so</h2>")[1][:300]


def test_the_study_file_of_the_page_is_one_that_the_command_reads(pegs: Asked) -> None:
    text = pegs.client.get(f"{PAGE}/file/study.toml?{ASK}&least=minutes&sound=yes&price_most=12.50").text
    variants = variants_in(pegs.settings.jobs.parent, text)

    assert len(variants) == 4
    assert variants.study.only.sound
    assert variants.study.only.price_most == 1250


def test_held_it_asks_for_no_more_and_shows_what_there_is(pegs: Asked) -> None:
    held = pegs.client.get(f"{PAGE}?{ASK}&hold=yes").text
    assert "data-working" not in held.split('id="study-result"')[1][:60]


@pytest.mark.parametrize("words", ["", "nan", "1e999", "-1", "9" * 400, "x" * 1500, "\0", "'\"<script>", "]\n[only"])
def test_odd_answers_are_told_in_words(pegs: Asked, words: str) -> None:
    names = (
        "from",
        "to",
        "step",
        "least",
        "pick",
        "sheets_most",
        "price_most",
        "round_to",
        "surcharge",
        "valid",
        "note",
    )
    for name in names:
        asked = {"field": "cases[0].width", "from": "400", "to": "410", "step": "10", "list": "yes", name: words}
        answer = pegs.client.get(PAGE, params=asked)
        assert answer.status_code == 200, (name, words[:20], answer.text[:300])
        assert "<script>'" not in answer.text
    gone = pegs.client.post(f"{PAGE}/make?{ASK}", data={"number": words, "base": "x"})
    assert gone.status_code == 422


def test_a_job_with_faults_has_nothing_to_vary(pegs: Asked) -> None:
    pegs.job_file("pegs").write_text("title = 3", encoding="utf-8")

    assert "Fix the faults first" in pegs.client.get(PAGE).text
    assert pegs.client.get(f"{PAGE}/file/rows.csv?{ASK}").status_code == 404
