"""The list of jobs: what it shows, and that nothing of it is ever lost."""

from __future__ import annotations

import os
import re
import tomllib
from html import unescape

import pytest

from storyrod.adapters.web._cards import when
from storyrod.adapters.web._new_job import LAYOUTS, answers_of, text_of
from storyrod.adapters.web.first_visit import EXAMPLE, prepare
from tests.unit.web.conftest import AS_SCRIPT, Asked

ANSWERS = {"holds": "drawers", "many": "2", "width": "600", "height": "720", "depth": "400", "thickness": "18"}


def made(asked: Asked, **answers: str) -> str:
    told = asked.client.post("/new", data=ANSWERS | answers, follow_redirects=False)
    assert told.status_code == 303, told.text
    return str(told.headers["location"]).split("/")[2]


def test_an_empty_list_leads_to_a_first_job(asked: Asked) -> None:
    told = asked.client.get("/")

    assert told.status_code == 200
    assert "There are no jobs yet" in told.text
    assert 'href="/new"' in told.text
    assert asked.client.get("/new").status_code == 200


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("layout", LAYOUTS, ids=lambda x: x.key)
def test_every_layout_can_be_built_as_it_is_offered(asked: Asked, layout: object, units: str) -> None:
    key = layout.key  # type: ignore[attr-defined]
    told = asked.client.post("/new/preview", json={"holds": key, "units": units}, headers=AS_SCRIPT).json()

    assert told["wrong"] == {}
    assert "<svg" in told["swap"]["new-picture"]
    assert tomllib.loads(text_of(answers_of({"holds": key, "units": units})))["units"] == units


def test_two_unequal_drawers_under_a_shallow_one(asked: Asked) -> None:
    name = made(asked, holds="three", title="Stage desk")
    rows = tomllib.loads(asked.job_file(name).read_text(encoding="utf-8"))["cases"][0]["inside"]["rows"]

    assert name == "stage-desk"
    assert rows[0]["holds"] == "drawer"
    assert [c["holds"] for c in rows[1]["columns"]] == ["drawer", "drawer"]
    assert rows[1]["columns"][0]["width"] != rows[1]["columns"][1]["width"]


def test_wrong_answers_stay_as_typed_and_are_told_at_their_question(asked: Asked) -> None:
    told = asked.client.post("/new", data=ANSWERS | {"width": "wide <b>", "thickness": "200", "many": "x"})

    assert told.status_code == 422
    assert 'value="wide &lt;b&gt;"' in told.text
    assert "<b>" not in told.text
    assert not list(asked.settings.jobs.glob("*.toml"))


def test_a_fault_of_building_is_told_at_its_question(asked: Asked) -> None:
    body = ANSWERS | {"thickness": "200", "width": "20"}
    told = asked.client.post("/new/preview", json=body, headers=AS_SCRIPT).json()

    assert set(told["wrong"]) == {"thickness", "width"}


def test_copy_rename_delete_and_back(asked: Asked) -> None:
    job = asked.take("first-box")
    before = asked.job_file(job).read_text(encoding="utf-8")
    copied = asked.client.post(f"/jobs/{job}/copy", follow_redirects=False).headers["location"].split("/")[2]
    title = tomllib.loads(asked.job_file(copied).read_text(encoding="utf-8"))["title"]
    assert title.endswith("(copy)")

    asked.client.post(f"/jobs/{copied}/rename", data={"title": "Robe <i>box</i>"})
    assert asked.job_file("robe-i-box-i").exists()
    assert not asked.job_file(copied).exists()
    assert "Robe &lt;i&gt;box&lt;/i&gt;" in asked.client.get("/").text

    gone = asked.client.post(f"/jobs/{job}/delete", follow_redirects=False).headers["location"]
    assert not asked.job_file(job).exists()
    assert "Bring it back" in asked.client.get(gone).text
    asked.client.post(f"/deleted/{gone.split('=')[1]}/back")
    assert asked.job_file(job).read_text(encoding="utf-8") == before


def test_a_first_visit_says_what_storyrod_is_and_shows_what_one_gets(asked: Asked) -> None:
    prepare(asked.settings.jobs)
    page = asked.client.get("/").text

    assert "Plan a cabinet before you cut a board" in page
    assert f'href="/job/{EXAMPLE}/overview">Look at an example' in page
    assert '<span class="tag">example</span>' in page
    pictures = asked.client.get("/about/pictures", headers=AS_SCRIPT).json()["swap"]["about-pictures"]
    assert pictures.count("<svg") == 3

    asked.change(EXAMPLE, {"path": "cases[0].width", "value": "900"})
    page = asked.client.get("/").text
    assert "Plan a cabinet before" not in page
    assert '<span class="tag">' not in page, "once it is changed it is a job like any other"
    assert "Plan a cabinet before" in asked.client.get("/?about=1").text


def titles(page: str) -> list[str]:
    return re.findall(r'<span class="title">([^<]*)</span>', page)


def test_jobs_are_found_by_words_of_their_title_and_sorted(asked: Asked) -> None:
    for title in ("Robe press", "Alto robe cupboard", "Hymn shelf"):
        made(asked, title=title)
    asked.job_file("hymn-shelf").write_text('title = "Hymn shelf"\ncases = 3\n', encoding="utf-8")
    for age, name in enumerate(("hymn-shelf", "robe-press", "alto-robe-cupboard")):
        os.utime(asked.job_file(name), (2e9 - age, 2e9 - age))

    assert titles(asked.client.get("/").text) == ["Hymn shelf", "Robe press", "Alto robe cupboard"]
    assert titles(asked.client.get("/?order=title").text) == ["Alto robe cupboard", "Hymn shelf", "Robe press"]
    assert titles(asked.client.get("/?order=mend").text)[0] == "Hymn shelf"
    assert titles(asked.client.get("/?find=ROBE%20press").text) == ["Robe press"]
    none = asked.client.get("/?find=organ").text
    assert titles(none) == []
    assert "No job has these words" in none
    assert "There are no jobs yet" not in none
    assert titles(asked.client.get("/?order=nonsense").text)[0] == "Hymn shelf"


def follow(asked: Asked) -> str:
    page = asked.client.get("/").text
    return str(re.findall(r'<p class="follow"><a class="button" href="[^"]+">([^<]*)<', page)[0])


def test_each_job_says_what_is_done_next(asked: Asked) -> None:
    job = asked.take("first-box")
    assert follow(asked) == "Check it"
    asked.client.get(f"/job/{job}/overview/part", headers=AS_SCRIPT)
    assert follow(asked) == "Read the cautions, then begin"
    bench = asked.client.get(f"/job/{job}/bench").text
    thing = unescape(re.findall(r'name="thing" value="([^"]+)"', bench)[0])
    asked.client.post(f"/job/{job}/bench/tick", data={"thing": thing, "copy": "1"})
    assert re.fullmatch(r"Go on with S1 \(1 of \d+ ticked\)", follow(asked))
    asked.change(job, {"path": "cases[0].width", "value": "20"})
    assert follow(asked).startswith("Fix the fault")


def test_a_copy_may_have_another_outside(asked: Asked) -> None:
    job = made(asked, title="Desk")
    sent = {"title": "Wide desk", "width": "80 cm", "height": "", "depth": "450"}
    copied = asked.client.post(f"/jobs/{job}/copy", data=sent, follow_redirects=False).headers["location"]
    case = tomllib.loads(asked.job_file(copied.split("/")[2]).read_text(encoding="utf-8"))["cases"][0]
    assert (case["width"], case["height"], case["depth"]) == ("80 cm", 720, 450)

    told = asked.client.post(f"/jobs/{job}/copy", data=sent | {"title": "Odd", "depth": "deep"})
    assert told.status_code == 422
    assert "deep" in told.text
    assert not asked.job_file("odd").exists(), "nothing is copied before its size is understood"


def test_a_new_job_does_not_inherit_the_texts_of_a_deleted_one(asked: Asked) -> None:
    first = made(asked, title="Desk")
    asked.change(first, {"path": "cases[0].width", "value": "700"})
    token = asked.client.post(f"/jobs/{first}/delete", follow_redirects=False).headers["location"].split("=")[1]
    second = made(asked, title="Desk")
    assert second == first
    step = asked.client.post(f"/job/{second}/step", json={"by": -1}, headers=AS_SCRIPT).json()
    assert (step["back"], step["forward"]) == (0, 0)

    asked.client.post(f"/deleted/{token}/back")
    assert "width = 700" in asked.job_file("desk-2").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [b"title = \n", b'title = "\xe9t\xe9"\n', b"\xff\xfe\x00", b"", b"cases = 3\n"])
def test_files_that_can_not_be_read_are_shown_mended_and_never_lost(asked: Asked, text: bytes) -> None:
    asked.settings.jobs.mkdir(parents=True)
    path = asked.job_file("broken")
    path.write_bytes(text)
    listed = asked.client.get("/")
    assert listed.status_code == 200
    assert "broken" in listed.text
    assert "✕" in listed.text

    shown = asked.client.get("/job/broken/text")
    assert shown.status_code == 200
    base = shown.text.split('name="base" value="')[1].split('"')[0]
    assert path.read_bytes() == text
    good = text_of(answers_of(ANSWERS))
    saved = asked.client.post("/job/broken/text", data={"base": base, "text": good}, follow_redirects=False)
    assert saved.status_code == 303
    assert path.read_text(encoding="utf-8") == good
    assert any(p.read_bytes() == text for p in asked.settings.home.rglob("*") if p.is_file())

    path.write_bytes(text)
    gone = asked.client.post("/jobs/broken/delete", follow_redirects=False).headers["location"].split("=")[1]
    asked.client.post(f"/deleted/{gone}/back")
    assert path.read_bytes() == text
    asked.client.post("/jobs/broken/copy")
    assert len(list(asked.settings.jobs.glob("broken*.toml"))) == 2


@pytest.mark.parametrize("path", ["copy", "rename", "delete", "card"])
@pytest.mark.parametrize("name", ["nowhere", "..", "%2e%2e%2fsecret", "<script>"])
def test_a_job_that_is_not_there_is_told(asked: Asked, path: str, name: str) -> None:
    at = f"/jobs/{name}/{path}"
    told = asked.client.get(at) if path == "card" else asked.client.post(at, data={"title": "x"})

    assert told.status_code in {404, 405}
    assert "<script>alert" not in told.text


def test_names_that_no_title_makes_can_be_opened(asked: Asked) -> None:
    asked.settings.jobs.mkdir(parents=True)
    (asked.settings.jobs / "My job #1 & ütter 100%.toml").write_text(text_of(answers_of(ANSWERS)), encoding="utf-8")
    link = asked.client.get("/").text.split('class="open" href="')[1].split('"')[0]

    assert asked.client.get(link).status_code == 200


def test_a_title_is_needed_to_rename(asked: Asked) -> None:
    job = asked.take("first-box")

    assert asked.client.post(f"/jobs/{job}/rename", data={"title": " "}).status_code == 422
    assert asked.job_file(job).exists()


def test_a_card_tells_size_and_state(asked: Asked) -> None:
    job = asked.take("first-box")
    told = asked.client.get(f"/jobs/{job}/card", headers=AS_SCRIPT).json()["swap"][f"job-{job}"]

    assert "not checked yet" in told
    assert " mm" in told
    assert "<svg" in told


def test_the_word_on_a_card_is_earned(asked: Asked) -> None:
    """A job is not said to be fit to build before all of it was looked at, nor while cautions are open."""
    job = asked.take("robe-cupboard")

    def card() -> str:
        told = asked.client.get(f"/jobs/{job}/card", headers=AS_SCRIPT).json()["swap"][f"job-{job}"]
        assert isinstance(told, str)
        return told

    assert "not checked yet" in card()
    asked.client.get(f"/job/{job}/checked", headers=AS_SCRIPT)
    assert f"can be built, {len(asked.desk.job(job).cautions)} cautions" in card()
    asked.change(job, {"path": "cases[0].width", "value": "20"})
    assert "fault" in card()


def test_days_are_told_in_words(asked: Asked) -> None:
    job = asked.take("first-box")
    now = asked.job_file(job).stat().st_mtime
    os.utime(asked.job_file(job), (now - 86400 * 40, now - 86400 * 40))

    assert when(now).startswith(("today", "yesterday"))
    assert when(now - 86400 * 40)[0].isdigit()


def test_what_was_timed_goes_with_its_job(asked: Asked) -> None:
    job = asked.take("first-box")
    log = asked.client.app.app.state.desk.log()  # type: ignore[attr-defined]
    log.add_span(job, "cut", 5.0)
    log.note_plan(job, "1")
    asked.client.post(f"/jobs/{job}/rename", data={"title": "Box of hymns"})
    assert [s.job for s in log.spans()] == ["box-of-hymns"]

    gone = asked.client.post("/jobs/box-of-hymns/delete", follow_redirects=False).headers["location"].split("=")[1]
    assert made(asked, title="Box of hymns") == "box-of-hymns"
    assert log.spans(job="box-of-hymns") == ()
    asked.client.post(f"/deleted/{gone}/back")
    assert [s.job for s in log.spans()] == ["box-of-hymns-2"]
