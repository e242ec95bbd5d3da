"""A job that takes long to work out: the brief and the text answer all the same, so that it can be mended."""

from __future__ import annotations

import threading
from collections.abc import Iterator

import pytest

from storyrod.adapters.log import open_log
from storyrod.adapters.web import _worked
from storyrod.adapters.web._worked import Workbook, Worked
from storyrod.telling.things import Thing
from tests.places import EXAMPLES
from tests.unit.web.conftest import AS_SCRIPT, Asked

JOB = "first-box"


@pytest.fixture
def endless(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """Working a job out goes on until the event is set; the pages wait no time for it."""
    go = threading.Event()
    real = _worked._look_over

    def slowly(worked: Worked) -> None:
        go.wait(60)
        real(worked)

    monkeypatch.setattr(_worked, "_look_over", slowly)
    monkeypatch.setattr(_worked, "SOON_S", 0.0)
    monkeypatch.setattr(Workbook.soon, "__kwdefaults__", {"wait_s": 0.0})
    yield go
    go.set()


def test_brief_and_text_do_not_wait_for_a_plan(asked: Asked, endless: threading.Event) -> None:
    asked.take(JOB)

    brief = asked.client.get(f"/job/{JOB}/brief")
    text = asked.client.get(f"/job/{JOB}/text")
    pieces = asked.client.get(f"/job/{JOB}/brief/pieces", headers=AS_SCRIPT)

    assert not endless.is_set()
    assert [a.status_code for a in (brief, text, pieces)] == [200, 200, 200]
    assert "Still working this job out" in brief.text
    assert "data-waits" in brief.text
    assert 'data-field="cases[0].width"' in brief.text
    assert "cases" in text.text


def test_a_change_does_not_wait_for_the_plan_before_nor_for_its_own(asked: Asked, endless: threading.Event) -> None:
    asked.take(JOB)

    changed = asked.change(JOB, {"path": "cases[0].width", "value": "611"})
    back = asked.client.post(f"/job/{JOB}/step", json={"by": -1}, headers=AS_SCRIPT)

    assert not endless.is_set()
    assert changed.status_code == 200
    assert back.status_code == 200
    assert back.json()["version"] == asked.version(JOB)


def test_the_drawing_follows_when_it_is_worked_out(asked: Asked, endless: threading.Event) -> None:
    asked.take(JOB)
    assert "data-waits" in asked.client.get(f"/job/{JOB}/brief").text

    endless.set()
    asked.client.get(f"/job/{JOB}/checked", headers=AS_SCRIPT)  # waits until it is
    brief = asked.client.get(f"/job/{JOB}/brief").text

    assert "data-waits" not in brief
    assert "data-partings" in brief


def test_a_job_is_worked_out_once_however_many_ask(monkeypatch: pytest.MonkeyPatch) -> None:
    built: list[str] = []
    gate = threading.Event()

    def slowly(worked: Worked) -> None:
        built.append(worked.name)
        gate.wait(60)

    monkeypatch.setattr(_worked, "_look_over", slowly)
    book, text = Workbook(), (EXAMPLES / f"{JOB}.toml").read_text(encoding="utf-8")
    first = book.soon(JOB, text, EXAMPLES, wait_s=0)
    found: list[Worked] = []
    asking = [threading.Thread(target=lambda: found.append(book.work_out(JOB, text, EXAMPLES))) for _ in range(4)]
    for thread in asking:
        thread.start()
    gate.set()
    for thread in asking:
        thread.join(60)

    assert first.waits
    assert built == [JOB]
    assert len(found) == 4
    assert len({id(w) for w in found}) == 1


def test_what_goes_wrong_while_it_is_worked_out_is_told_to_who_asks(monkeypatch: pytest.MonkeyPatch) -> None:
    def break_off(_: Worked) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr(_worked, "_look_over", break_off)
    text = (EXAMPLES / f"{JOB}.toml").read_text(encoding="utf-8")

    with pytest.raises(ZeroDivisionError):
        Workbook().work_out(JOB, text, EXAMPLES)


def test_the_rod_waits_for_no_one_who_asks_the_plan(asked: Asked) -> None:
    """While another page holds the plan for what takes long, the brief of a job with ticks answers."""
    asked.take(JOB)
    asked.settings.home.mkdir(exist_ok=True)
    with open_log(asked.settings.log) as log:
        log.tick(JOB, "v", Thing(id="cut x", name="x", content="x"))
    worked = asked.desk.job(JOB)
    held, done = threading.Event(), threading.Event()

    def hold() -> None:
        with worked.busy:
            held.set()
            done.wait(60)

    holding = threading.Thread(target=hold)
    holding.start()
    held.wait(60)
    try:
        assert asked.client.get(f"/job/{JOB}/brief").status_code == 200
        assert asked.client.get(f"/job/{JOB}/text").status_code == 200
    finally:
        done.set()
        holding.join(60)
