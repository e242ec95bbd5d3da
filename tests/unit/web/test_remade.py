"""A job that is made anew under the name of one before has none of its ticks, or it is asked about."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from storyrod.adapters.log import keep_offcuts, open_log
from storyrod.adapters.web._absences import GONE_S, Absences
from storyrod.adapters.web._shelf import Shelf
from tests.unit.web.conftest import AS_SCRIPT, Asked
from tests.unit.web.test_bench import a_cut, data_of, send, tick_of

JOB = "first-box"
QUESTION = "Is this the job that was ticked at the bench?"


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "box.toml").write_text("cases = []\n", encoding="utf-8")
    shelf = Shelf(tmp_path / "jobs", tmp_path / "home")
    shelf.text("box")
    return shelf


def after(shelf: Shelf, text: str, gone_s: float) -> Absences:
    """Delete a job by hand, look at the folder, and write one of its name."""
    absences = Absences(shelf)
    absences.look(0.0)
    path = shelf.path("box")
    path.unlink()
    absences.look(1.0)
    absences.look(1.0 + gone_s)
    path.write_text(text, encoding="utf-8")
    absences.look(9.0)
    return absences


def test_another_job_of_the_name_is_asked_about(shelf: Shelf) -> None:
    absences = after(shelf, "cases = [] # another\n", GONE_S)

    assert absences.asks("box")
    assert Absences(shelf).asks("box"), "also after a new start"
    absences.forget("box")
    assert not Absences(shelf).asks("box")


def test_a_file_that_is_brought_back_or_written_anew_is_not(shelf: Shelf) -> None:
    assert not after(shelf, "cases = []\n", GONE_S).asks("box")
    assert not after(shelf, "cases = [] # saved by an editor\n", GONE_S - 0.1).asks("box")


def test_a_file_deleted_while_the_page_was_stopped_is_missed(shelf: Shelf) -> None:
    Absences(shelf).look(0.0)
    path = shelf.path("box")
    path.unlink()
    absences = Absences(shelf)
    absences.look(100.0)
    absences.look(100.0 + GONE_S)
    path.write_text("cases = [] # another\n", encoding="utf-8")
    absences.look(110.0)

    assert absences.asks("box")


def ticked(asked: Asked) -> str:
    """Tick something of a job, delete its file by hand, and write another of its name; return what was ticked."""
    asked.take(JOB)
    data: dict[str, Any] = data_of(asked)
    cut = a_cut(data)
    send(asked, tick_of(data, cut))
    absences = asked.client.app.app.state.desk.absences  # type: ignore[attr-defined]
    text = asked.job_file(JOB).read_text(encoding="utf-8")
    absences.look(1e9)
    asked.job_file(JOB).unlink()
    absences.look(1e9)
    absences.look(1e9 + GONE_S)
    asked.job_file(JOB).write_text(text + "# made anew\n", encoding="utf-8")
    absences.look(1e9 + 9)
    return cut


def test_the_page_asks_and_goes_on_with_the_ticks(asked: Asked) -> None:
    cut = ticked(asked)
    assert QUESTION in asked.client.get(f"/job/{JOB}/bench").text
    asked.client.post(f"/job/{JOB}/begin", data={"how": "on"})

    assert QUESTION not in asked.client.get(f"/job/{JOB}/bench").text
    assert [w[0] for w in data_of(asked)["words"]] == [cut]


def test_the_page_asks_and_starts_afresh(asked: Asked) -> None:
    ticked(asked)
    asked.client.post(f"/job/{JOB}/begin", data={"how": "afresh"})

    assert QUESTION not in asked.client.get(f"/job/{JOB}/bench").text
    assert data_of(asked)["words"] == []
    step = asked.client.post(f"/job/{JOB}/step", json={"by": -1}, headers=AS_SCRIPT).json()
    assert (step["back"], step["forward"]) == (0, 0)
    with open_log(asked.settings.log) as log:
        assert [t.done for j in log.jobs() if j.startswith(f"{JOB} (before ") for t in log.ticks(j)] == [True]


def test_nothing_is_asked_where_nothing_was_ticked(asked: Asked) -> None:
    ticked(asked)
    asked.client.post(f"/job/{JOB}/begin", data={"how": "afresh"})
    asked.client.app.app.state.desk.absences._asked.add(JOB)  # type: ignore[attr-defined]

    assert QUESTION not in asked.client.get(f"/job/{JOB}/bench").text
    assert asked.client.post(f"/job/{JOB}/begin", data={"how": "else"}).status_code == 422
    assert asked.client.post("/job/nowhere/begin", data={"how": "on"}).status_code == 404


def test_sheets_of_a_deleted_job_are_not_cut_for_one_just_like_it(asked: Asked) -> None:
    asked.take(JOB)
    cut = {"act": "cut"}
    asked.client.post(f"/job/{JOB}/sheets/rack", data=cut)
    assert "are confirmed as cut" in asked.client.get(f"/job/{JOB}/sheets").text
    text = asked.job_file(JOB).read_text(encoding="utf-8")
    gone = asked.client.post(f"/jobs/{JOB}/delete", follow_redirects=False).headers["location"].split("=")[1]
    asked.job_file(JOB).write_text(text, encoding="utf-8")

    assert "are confirmed as cut" not in asked.client.get(f"/job/{JOB}/sheets").text
    asked.client.post(f"/job/{JOB}/sheets/rack", data=cut)
    assert "are confirmed as cut" in asked.client.get(f"/job/{JOB}/sheets").text
    asked.client.post(f"/jobs/{JOB}/delete")
    asked.client.post(f"/deleted/{gone}/back")
    assert "are confirmed as cut" in asked.client.get(f"/job/{JOB}/sheets").text


def test_a_plan_cut_again_after_it_was_set_aside_is_kept_once(asked: Asked) -> None:
    asked.take(JOB)
    plan = asked.client.app.app.state.desk.job(JOB).plan  # type: ignore[attr-defined]
    desk = asked.client.app.app.state.desk  # type: ignore[attr-defined]
    first = keep_offcuts(desk.log(), plan)
    desk.set_log_aside(JOB, plan.job.title, "deleted 1")

    second, third = keep_offcuts(desk.log(), plan), keep_offcuts(desk.log(), plan)
    assert (first.before, second.before, third.before) == (False, False, True)
    assert second.put == first.put
