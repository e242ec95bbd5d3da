"""The bench over HTTP: ticks that count once, tablets that catch up, minutes that teach, and what is refused."""

from __future__ import annotations

import json
import re
import sqlite3
import uuid
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
import sqlalchemy as sa

from storyrod.adapters.log import BenchLog, open_log
from storyrod.adapters.log.bench import Made, ticks_after
from storyrod.adapters.web._ticks import _Sent
from storyrod.faults import Fault, JobError
from storyrod.telling.things import Thing
from tests.unit.web.conftest import AS_SCRIPT, SOCKETS, Asked

JOB = "first-box"


def data_of(asked: Asked, job: str = JOB) -> dict[str, Any]:
    """Return what the page gives its script."""
    told = asked.client.get(f"/job/{job}/bench").text
    found = re.search(r'<script type="application/json" id="bench-data">(.*?)</script>', told)
    assert found is not None
    data: dict[str, Any] = json.loads(found[1])
    return data


def tick_of(data: dict[str, Any], thing: str, **more: Any) -> dict[str, Any]:
    name, content = data["things"][thing][:2]
    tick = {"uid": uuid.uuid4().hex, "thing": thing, "name": name, "content": content, "copy": 1, "done": True}
    return {**tick, "version": data["plan"], "age_s": 0.0, **more}


def send(asked: Asked, *ticks: dict[str, Any], job: str = JOB, **more: Any) -> Any:
    body = {"since": 0, "who": "saw bench", "ticks": list(ticks), "stretches": [], **more}
    return asked.client.post(f"/job/{job}/bench/ticks", json=body, headers=AS_SCRIPT)


def done(answer: Any) -> dict[tuple[str, int], bool]:
    return {(w[0], w[1]): w[2] for w in answer.json()["words"]}


def a_cut(data: dict[str, Any]) -> str:
    return str(next(t for t in data["things"] if t.startswith("cut ")))


@pytest.fixture
def data(asked: Asked) -> dict[str, Any]:
    """The example's page, loaded."""
    asked.take(JOB)
    return data_of(asked)


def test_the_bench_is_light_or_dark_as_the_tablet_is_unless_the_maker_chose(asked: Asked) -> None:
    job = asked.take("first-box")
    assert "data-theme" not in asked.client.get(f"/job/{job}/bench").text
    for theme in ("slate", "paper"):
        asked.client.cookies.set("storyrod-theme", theme)
        assert f'data-theme="{theme}"' in asked.client.get(f"/job/{job}/bench").text


def test_every_thing_has_its_row_and_every_set_up_its_card(asked: Asked, data: dict[str, Any]) -> None:
    told = asked.client.get(f"/job/{JOB}/bench").text

    rows = re.findall(r'class="tick" name="thing" value="([^"]+)"', told)
    assert sorted(rows) == sorted(data["things"])
    assert re.findall(r'data-card="([^"]+)"', told) == ["S1", "S2", "S3", "S4", "S5", "S6", "case-A"]
    assert "0 of 46" in told


def test_a_tick_is_kept_and_told(asked: Asked, data: dict[str, Any]) -> None:
    tick = tick_of(data, a_cut(data))
    answer = send(asked, tick)

    assert answer.json()["kept"] == [tick["uid"]]
    assert done(answer) == {(tick["thing"], 1): True}
    assert data_of(asked)["words"][0][:4] == [tick["thing"], 1, True, "saw bench"]
    with open_log(asked.settings.log) as log:
        assert log.jobs() == (JOB,)
        assert log.versions(JOB) == (data["plan"],)


def test_a_tick_sent_twice_counts_once(asked: Asked, data: dict[str, Any]) -> None:
    tick = tick_of(data, a_cut(data))
    first, again = send(asked, tick), send(asked, tick)

    assert again.json()["kept"] == [tick["uid"]]
    assert again.json()["seq"] == first.json()["seq"]
    with open_log(asked.settings.log) as log:
        assert len(log.ticks(JOB)) == 1


def test_ticks_sent_at_the_same_time_are_each_kept_once(asked: Asked, data: dict[str, Any]) -> None:
    """What waits while one write is under way goes along with the next; each sender hears of its own."""
    things = [t for t in data["things"] if t.startswith("cut ")]
    ticks = [tick_of(data, t) for t in things for _ in range(3)]
    with ThreadPoolExecutor(8) as pool:
        answers = [a.json() for a in pool.map(lambda t: send(asked, t), ticks)]

    assert [a["kept"] for a in answers] == [[t["uid"]] for t in ticks]
    with open_log(asked.settings.log) as log:
        assert sorted(t.thing.id for _, t in ticks_after(log, JOB, 0)) == sorted(things * 3)


def refusing(asked: Asked, data: dict[str, Any], code: str) -> None:
    """See that a tick that cannot be kept now is answered by "later", and is kept when it is sent again."""
    tick = tick_of(data, a_cut(data))
    refused = send(asked, tick)

    assert refused.status_code == 503
    assert int(refused.headers["Retry-After"]) > 0
    assert [f["code"] for f in refused.json()["faults"]] == [code]


def kept_again(asked: Asked, data: dict[str, Any]) -> None:
    tick = tick_of(data, a_cut(data))
    assert send(asked, tick).json()["kept"] == [tick["uid"]]
    with open_log(asked.settings.log) as log:
        assert len(ticks_after(log, JOB, 0)) == 1


def test_a_full_disk_keeps_nothing_and_asks_to_send_again(asked: Asked, data: dict[str, Any]) -> None:
    """The disk is full as far as the database can tell: it may not add a page to the file."""
    log = asked.desk.log()

    def no_room(connection: sqlite3.Connection, _record: object) -> None:
        connection.execute("PRAGMA max_page_count = 1")

    log.engine.dispose()
    sa.event.listen(log.engine, "connect", no_room)
    with sqlite3.connect(asked.settings.log) as own:  # so that a tick needs a page of its own
        own.execute("PRAGMA journal_mode = WAL")
    long = [tick_of(data, a_cut(data), version="", name="n" * 1900, content="c" * 1900) for _ in range(40)]
    refused = send(asked, *long)
    sa.event.remove(log.engine, "connect", no_room)
    log.engine.dispose()

    assert refused.status_code == 503
    assert [f["code"] for f in refused.json()["faults"]] == ["log-full"]
    kept_again(asked, data)


def test_a_log_held_by_another_program_asks_to_send_again(
    asked: Asked, data: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("storyrod.adapters.log._open.WAIT_S", 0)
    asked.desk.log().engine.dispose()  # the next connection waits no longer
    other = sqlite3.connect(asked.settings.log, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    refusing(asked, data, "log-busy")
    other.execute("ROLLBACK")
    other.close()

    kept_again(asked, data)


def test_a_log_that_may_only_be_read_asks_to_send_again(asked: Asked, data: dict[str, Any]) -> None:
    log = asked.desk.log()

    def only_read(connection: sqlite3.Connection, _record: object) -> None:
        connection.execute("PRAGMA query_only = ON")

    log.engine.dispose()
    sa.event.listen(log.engine, "connect", only_read)
    refusing(asked, data, "log-closed")
    sa.event.remove(log.engine, "connect", only_read)
    log.engine.dispose()

    kept_again(asked, data)


def test_a_log_that_is_damaged_asks_to_send_again(asked: Asked, data: dict[str, Any]) -> None:
    asked.desk.close()
    sound = asked.settings.log.read_bytes()
    asked.settings.log.write_bytes(b"Dear altos" + sound[10:])
    refusing(asked, data, "log-damaged")
    asked.settings.log.write_bytes(sound)

    kept_again(asked, data)


@pytest.mark.parametrize(
    ("code", "status"),
    [("log-full", 503), ("log-of-some-new-kind", 503), ("log-twice", 422), ("log-import", 422), ("sent", 422)],
)
def test_only_what_is_sent_wrong_is_refused_for_good(
    asked: Asked, data: dict[str, Any], monkeypatch: pytest.MonkeyPatch, code: str, status: int
) -> None:
    def refuse(*_: Any) -> None:
        raise JobError(Fault(code=code, field="log", found="a", allowed="b", do="C."))

    monkeypatch.setattr("storyrod.adapters.log.bench.keep_ticks", refuse)

    assert send(asked, tick_of(data, a_cut(data))).status_code == status


def test_what_one_tablet_sends_never_costs_another_its_ticks(
    asked: Asked, data: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ticks of several tablets are written together. Where one cannot be written, the others are, or hear that not."""
    from storyrod.adapters.log import bench

    real = bench.keep_ticks

    def choosy(log: BenchLog, job: str, made: Sequence[Made]) -> None:
        if any(m.who == "bad" for m in made):
            raise ValueError("a letter that no database takes")
        real(log, job, made)

    monkeypatch.setattr(bench, "keep_ticks", choosy)
    book = asked.desk.ticks
    made = [
        Made(uid=f"{n:032x}", thing=Thing(id="cut x", name="x", content="x"), copy=1, done=True, at=0.0, version="v",
             who="bad" if n == 3 else "good")
        for n in range(6)
    ]  # fmt: skip
    sent = [_Sent(job=JOB, made=[m]) for m in made]
    book._write(sent)  # as when all six waited for one write

    assert [s.done for s in sent] == [n != 3 for n in range(6)]
    assert [s.error is None for s in sent] == [n != 3 for n in range(6)]
    with open_log(asked.settings.log) as log:
        assert len(ticks_after(log, JOB, 0)) == 5


def test_an_answer_brings_only_what_is_new(asked: Asked, data: dict[str, Any]) -> None:
    one, two = [t for t in data["things"] if t.startswith("cut ")][:2]
    first = send(asked, tick_of(data, one))
    second = send(asked, tick_of(data, two), since=first.json()["seq"])
    away = asked.client.get(f"/job/{JOB}/bench/words?since=0").json()

    assert done(second) == {(two, 1): True}
    assert [w[0] for w in away["words"]] == [one, two]
    assert asked.client.get(f"/job/{JOB}/bench/words?since={away['seq']}").json()["words"] == []


def test_a_late_tick_does_not_undo_a_later_word(asked: Asked, data: dict[str, Any]) -> None:
    """One tablet ticks and is away; another ticks and takes it back; then the first comes home."""
    cut = a_cut(data)
    send(asked, tick_of(data, cut, age_s=30.0))
    send(asked, tick_of(data, cut, done=False, age_s=20.0))
    home = send(asked, tick_of(data, cut, age_s=60.0))

    assert done(home) == {(cut, 1): False}
    assert done(send(asked, tick_of(data, cut))) == {(cut, 1): True}


def test_a_clock_that_was_set_back_undoes_no_tick(
    asked: Asked, data: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A tick is made; the clock goes back an hour; a tablet that heard of it, or was away, takes it back: it counts."""
    cut = a_cut(data)
    log = asked.desk.log()
    real = log.clock
    seq = send(asked, tick_of(data, cut)).json()["seq"]
    monkeypatch.setattr(log, "clock", lambda: real() - 3600)
    away = send(asked, tick_of(data, cut, done=False, age_s=600.0))
    assert done(away) == {(cut, 1): False}
    again = send(asked, tick_of(data, cut, age_s=600.0, seen=away.json()["seq"]))

    assert done(again) == {(cut, 1): True}
    with open_log(asked.settings.log) as other:
        assert [t.done for t in other.ticks(JOB)] == [True]
    assert seq < again.json()["seq"]


def test_a_tablet_that_had_heard_the_last_word_has_the_next(asked: Asked, data: dict[str, Any]) -> None:
    cut = a_cut(data)
    seq = send(asked, tick_of(data, cut, age_s=10.0)).json()["seq"]
    late = send(asked, tick_of(data, cut, done=False, age_s=60.0, seen=seq))

    assert done(late) == {(cut, 1): False}


def test_a_tick_of_a_page_with_an_older_plan_is_kept_as_it_was_made(asked: Asked, data: dict[str, Any]) -> None:
    panel = next(t for t in data["things"] if t.startswith("panel "))
    old = tick_of(data, panel)
    asked.change(JOB, {"path": "cases[0].width", "value": "700"})
    asked.desk.ticks._cards.clear()  # as after a new start
    answer = send(asked, old)
    told = asked.client.get(f"/job/{JOB}/bench").text

    assert answer.json()["kept"] == [old["uid"]]
    with open_log(asked.settings.log) as log:
        assert log.ticks(JOB)[0].thing.content == old["content"]
    assert ("hold no longer" in told or "holds no longer" in told) == (
        data_of(asked)["things"][panel][1] != old["content"]
    )


def test_ticks_that_hold_no_longer_are_told_with_what_was_done(asked: Asked, data: dict[str, Any]) -> None:
    top = next(t for t in data["things"] if t.startswith("panel ") and "top" in t)
    send(asked, tick_of(data, top))
    assert "no longer" not in asked.client.get(f"/job/{JOB}/bench").text
    asked.change(JOB, {"path": "cases[0].width", "value": "700"})
    told = asked.client.get(f"/job/{JOB}/bench").text

    assert "1 tick of an earlier plan holds no longer" in told
    assert data["things"][top][1] in told


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"thing": "cut nowhere", "name": "mark 99"}, "mark 99 is not in this plan."),
        ({"copy": 7}, "there is no copy 7."),
    ],
)
def test_what_is_not_in_the_plan_is_refused_and_the_rest_kept(
    asked: Asked, data: dict[str, Any], wrong: dict[str, Any], words: str
) -> None:
    good, bad = tick_of(data, a_cut(data)), {**tick_of(data, a_cut(data)), **wrong}
    answer = send(asked, good, bad).json()

    assert answer["kept"] == [good["uid"]]
    assert [r["uid"] for r in answer["refused"]] == [bad["uid"]]
    assert words in answer["refused"][0]["words"]


@pytest.mark.parametrize(
    "body",
    [
        {"ticks": "all"},
        {"ticks": [3]},
        {"ticks": [{"uid": "x"}]},
        {"ticks": [{"uid": "A" * 32, "thing": "cut"}]},
        {"ticks": [{"uid": "a" * 32, "thing": "c" * 3000}]},
        {"ticks": [{"uid": "a" * 32, "thing": "cut", "copy": "one"}]},
        {"ticks": [{"uid": "a" * 32, "thing": ["cut"]}]},
        {"since": -1},
        {"since": 10**30},
        {"who": {"a": 1}},
        {"who": "\ud800"},
        {"ticks": [{"uid": "a" * 32, "thing": "cut \udfff"}]},
        {"stretches": [{"uid": "a" * 32, "card": "S1", "seconds": "long"}]},
        {"stretches": [{"uid": "a" * 32, "card": "S1", "seconds": -5}]},
        {"stretches": [{"uid": "a" * 32, "card": "S1", "seconds": 5, "ticked": [["x"]]}]},
        {"ticks": [{}] * 6000},
    ],
)
def test_nonsense_is_refused_in_words_and_nothing_is_kept(
    asked: Asked, data: dict[str, Any], body: dict[str, Any]
) -> None:
    answer = asked.client.post(
        f"/job/{JOB}/bench/ticks", content=json.dumps(body), headers={**AS_SCRIPT, "content-type": "application/json"}
    )

    assert answer.status_code == 422
    assert answer.json()["faults"][0]["code"] == "sent"
    with open_log(asked.settings.log) as log:
        assert log.ticks(JOB) == ()


def test_a_job_that_is_not_there_is_told(asked: Asked) -> None:
    asked.take(JOB)

    assert send(asked, job="nowhere").status_code == 404
    assert asked.client.get("/job/nowhere/bench/words", headers=AS_SCRIPT).status_code == 404
    assert asked.client.get("/job/nowhere/bench").status_code == 404


def test_another_site_can_not_tick(asked: Asked, data: dict[str, Any]) -> None:
    body = {"ticks": [tick_of(data, a_cut(data))]}
    headers = {"origin": "http://evil.example", **AS_SCRIPT}

    assert asked.client.post(f"/job/{JOB}/bench/ticks", json=body, headers=headers).status_code == 403
    assert data_of(asked)["words"] == []


def test_words_of_a_maker_are_shown_as_words(asked: Asked) -> None:
    asked.take(JOB)
    evil = "</script><script>alert(1)</script>"
    asked.change(JOB, {"path": "title", "value": evil})
    data = data_of(asked)
    send(asked, tick_of(data, a_cut(data)), who=evil)
    told = asked.client.get(f"/job/{JOB}/bench").text

    assert "<script>alert" not in told
    assert data_of(asked)["words"][0][3] == evil[:40]


def test_the_others_hear_of_a_tick(asked: Asked, data: dict[str, Any]) -> None:
    with asked.client.websocket_connect(f"{SOCKETS}/job/{JOB}/live") as socket:
        tick = tick_of(data, a_cut(data))
        answer = send(asked, tick).json()
        word = socket.receive_json()
        send(asked, tick)  # again: nothing is told twice
        other = tick_of(data, "panel A.top")
        send(asked, other)
        second = socket.receive_json()

    assert (word["kind"], word["since"], word["seq"]) == ("tick", 0, answer["seq"])
    assert word["words"][0][:4] == [tick["thing"], 1, True, "saw bench"]
    assert (second["since"], second["words"][0][0]) == (answer["seq"], "panel A.top")


def test_ticks_go_with_a_job_that_is_renamed_deleted_and_brought_back(asked: Asked, data: dict[str, Any]) -> None:
    cut = a_cut(data)
    send(asked, tick_of(data, cut))
    text = asked.job_file(JOB).read_text(encoding="utf-8")
    asked.client.post(f"/jobs/{JOB}/rename", data={"title": "Peg box of the altos"})
    new = "peg-box-of-the-altos"
    assert [w[0] for w in data_of(asked, new)["words"]] == [cut]

    gone = asked.client.post(f"/jobs/{new}/delete", follow_redirects=False).headers["location"].split("=")[1]
    asked.job_file(new).write_text(text, encoding="utf-8")
    assert data_of(asked, new)["words"] == [], "another job of the same name begins without ticks"
    asked.job_file(new).unlink()
    asked.client.post(f"/deleted/{gone}/back")
    assert [w[0] for w in data_of(asked, new)["words"]] == [cut]


# Without scripts


def test_a_form_ticks_and_takes_back(asked: Asked, data: dict[str, Any]) -> None:
    cut = a_cut(data)
    form = {"thing": cut, "copy": "1"}
    first = asked.client.post(f"/job/{JOB}/bench/tick", data=form, follow_redirects=False)

    assert first.status_code == 303
    assert first.headers["location"].startswith(f"/job/{JOB}/bench?card=S")
    assert data_of(asked)["words"][0][2] is True
    asked.client.post(f"/job/{JOB}/bench/tick", data=form)
    assert data_of(asked)["words"][0][2] is False


@pytest.mark.parametrize("form", [{"thing": "cut nowhere"}, {}, {"copy": "2"}, {"copy": "²"}, {"copy": "x" * 900}])
def test_a_form_for_nothing_is_told(asked: Asked, data: dict[str, Any], form: dict[str, str]) -> None:
    sent = {"thing": a_cut(data), **form} if form else {}
    answer = asked.client.post(f"/job/{JOB}/bench/tick", data=sent)

    assert answer.status_code == 422
    assert "allowed" in answer.text


# The clock


def stretch_of(data: dict[str, Any], card: str, seconds: float, *ticked: str) -> dict[str, Any]:
    common = {"uid": uuid.uuid4().hex, "card": card, "version": data["plan"], "age_s": seconds}
    return {**common, "seconds": seconds, "ticked": [[t, 1] for t in ticked]}


def test_a_stretch_of_the_clock_becomes_timings_of_acts(asked: Asked, data: dict[str, Any]) -> None:
    cuts = [t for t in data["things"] if t.startswith("cut A.top")]
    stretch = stretch_of(data, "S5", 240.0, *cuts)
    for _ in range(2):
        assert send(asked, stretches=[stretch]).json()["kept"] == [stretch["uid"]]

    with open_log(asked.settings.log) as log:
        timings = {t.act: t for t in log.timings()}
        spans = log.spans(job=JOB)
    assert timings["drill a hole"].count == len(cuts)
    assert {t.method for t in timings.values()} == {"dowels"}
    assert sum(t.minutes for t in timings.values()) == pytest.approx(4.0)
    assert {s.set_up for s in spans} == {"S5"}
    assert all("timed together" in s.note for s in spans)


def test_the_costs_tell_what_was_timed_and_ticked_at_the_bench(asked: Asked, data: dict[str, Any]) -> None:
    cuts = [t for t in data["things"] if t.startswith("cut A.top")]
    send(asked, tick_of(data, cuts[0]), stretches=[stretch_of(data, "S5", 240.0, *cuts)])
    told = asked.client.get(f"/job/{JOB}/costs").text

    assert "drill a hole" in told
    assert "1 tick still holds" in told


def test_minutes_before_the_first_tick_are_setting_up(asked: Asked, data: dict[str, Any]) -> None:
    send(asked, stretches=[stretch_of(data, "S4", 90.0)])

    with open_log(asked.settings.log) as log:
        (timing,) = log.timings()
    assert timing.act == "set up"
    assert timing.minutes == pytest.approx(1.5)


def test_minutes_of_a_plan_that_is_gone_are_kept_under_the_cards_name(asked: Asked, data: dict[str, Any]) -> None:
    stretch = {**stretch_of(data, "S4", 60.0, a_cut(data)), "version": "00000000"}
    send(asked, stretches=[stretch])

    with open_log(asked.settings.log) as log:
        (timing,) = log.timings()
    assert timing.act == "at card S4"
    assert timing.minutes == pytest.approx(1.0)


# How far it is


def test_the_rod_is_filled_as_far_as_work_is_ticked(asked: Asked, data: dict[str, Any]) -> None:
    panels = [t for t in data["things"] if t.startswith("panel ")]
    send(asked, *(tick_of(data, t) for t in panels))
    shares = asked.desk.shares(asked.desk.job(JOB))

    assert shares["sheets"] == 1.0
    assert shares["assembly"] == 0.0
    assert shares["bench"] == pytest.approx(len(panels) / 46)
    assert "100 %" in asked.client.get(f"/job/{JOB}/bench").text


def test_the_rod_is_filled_roughly_before_the_run_is_worked_out(asked: Asked, data: dict[str, Any]) -> None:
    send(asked, tick_of(data, a_cut(data)))
    desk = asked.desk
    desk.ticks._cards.clear()
    cuts = sum(t.startswith("cut ") for t in data["things"])

    assert desk.shares(desk.job(JOB))["set-ups"] == pytest.approx(1 / cuts)


def test_a_job_that_can_not_be_built_shows_why(asked: Asked) -> None:
    asked.take(JOB)
    asked.change(JOB, {"path": "cases[0].width", "value": "wide"})
    told = asked.client.get(f"/job/{JOB}/bench")

    assert told.status_code == 200
    assert "cases[0].width" in told.text
    assert 'id="bench"' not in told.text


def test_copies_are_ticked_apart(asked: Asked) -> None:
    job = asked.take("low-units")
    data = data_of(asked, job)
    panel = next(t for t in data["things"] if t.startswith("panel "))
    assert data["things"][panel][3] == 2
    answer = send(asked, tick_of(data, panel, copy=2), job=job)

    assert done(answer) == {(panel, 2): True}


def test_the_worker_stands_at_the_root(asked: Asked) -> None:
    answer = asked.client.get("/bench-worker.js")

    assert answer.headers["content-type"].startswith("text/javascript")
    assert "worker-src 'self'" in answer.headers["content-security-policy"]


@pytest.fixture(autouse=True)
def _no_inline_code(asked: Asked) -> Iterator[None]:
    """Hold every page of these tests to the policy: no inline script or style would run."""
    yield
    if asked.settings.jobs.exists():
        told = asked.client.get(f"/job/{JOB}/bench").text
        assert not re.search(r"<script(?![^>]*(src=|application/json))", told)
        assert " style=" not in told
        assert " onclick=" not in told


def test_each_card_shows_its_direction_and_its_cautions_without_unfolding(asked: Asked) -> None:
    asked.take("low-units")
    told = asked.client.get("/job/low-units/bench").text
    work = asked.desk.job("low-units").ask(lambda plan: plan.machining)
    for s in work.set_ups:
        if s.setting is None or s.setting.feed is None:
            continue
        card = told.split(f'id="card-{s.id}"')[1].split("</section>")[0]
        assert f"<strong>Direction: {s.setting.feed.text}</strong>" in card.replace("&#39;", "'")
        shown = card.split("<details>")[0].replace("&#39;", "'")
        assert all(c.text in shown for c in s.cautions if not c.is_on_every_card)
        assert all(c.text in card.replace("&#39;", "'") for c in s.cautions)


def test_a_caution_of_a_step_is_open_on_its_card_before_what_is_ticked(asked: Asked, data: dict[str, Any]) -> None:
    """Never inside something that is folded: the hand that lifts does not unfold."""
    told = asked.client.get(f"/job/{JOB}/bench").text
    card = told.partition('data-card="case-A"')[2].partition("</section>")[0]
    cautions = re.findall(r'<p class="caution step-caution">(Step \d+: [^<]+)</p>', card)

    assert any("Turn it with" in c or "Lift" in c for c in cautions)
    unfolded = re.sub(r"<details.*?</details>", "", card, flags=re.DOTALL)
    assert all(c in unfolded for c in cautions)
    assert re.search(r'<strong class="hands">1 person, no clamps\.</strong>', card)
