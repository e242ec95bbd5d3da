"""The workshop's page: whose each value is, what is written, undone, put back; and which job uses it."""

from __future__ import annotations

import tomllib
from pathlib import Path
from queue import SimpleQueue
from typing import Any, Final

import pytest

from storyrod.adapters.files import packaged_workshop, read_workshop
from storyrod.adapters.files.workshop_editing import GROUPS, START
from storyrod.adapters.web import _watch, _workshops
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._workshops import version_on_disk
from tests.unit.web.conftest import AS_SCRIPT, SOCKETS, Asked

HANGS: Final = 120.0
"""Nothing takes so long (s) but what hangs."""

KEYS = [*(g.key for g in GROUPS), "methods"]


def version(asked: Asked, file: str = "workshop") -> str:
    return str(asked.client.get("/workshop/version", params={"file": file}).json()["version"])


def send(asked: Asked, group: str, *, as_script: Any = True, file: Any = "workshop", **sent: Any) -> Any:
    body = {"file": file, "base": version(asked, file), "act": "keep", "code": ""} | sent
    if as_script:
        return asked.client.post(f"/workshop/{group}", json=body, headers=AS_SCRIPT)
    return asked.client.post(f"/workshop/{group}", data=body, follow_redirects=False)


def written(asked: Asked) -> dict[str, Any]:
    return tomllib.loads(asked.settings.workshop.read_text(encoding="utf-8"))


@pytest.mark.parametrize("key", ["", *KEYS])
def test_looking_shows_the_packaged_values_and_makes_no_file(asked: Asked, key: str) -> None:
    shown = asked.client.get(f"/workshop/{key}" if key else "/workshop")

    assert shown.status_code == 200
    assert "All values here are built in" in shown.text
    assert not asked.settings.workshop.exists()


def test_the_first_change_makes_the_file_with_what_differs_alone(asked: Asked) -> None:
    answer = send(asked, "saw", **{"f.kerf": "2,2", "f.trim": "10"})

    assert answer.status_code == 200
    assert written(asked)["saw"] == {"kerf": 2.2}
    assert answer.json()["version"] == version(asked)
    assert {"id": f"{_row(asked, 'saw')}-kerf", "mine": "mine; built in: 3"} in answer.json()["marks"]


def _row(asked: Asked, group: str) -> str:
    return asked.client.get(f"/workshop/{group}").text.split('data-item="')[1].split('"')[0]


@pytest.mark.parametrize(
    ("group", "code", "field", "words", "told"),
    [
        ("saw", "", "kerf", "wide", "a length"),
        ("saw", "", "kerf", "200", "0.5 to 10 mm"),
        ("cutters", "drill 8", "diameter", "", "nothing"),
        ("cutters", "drill 8", "kind", "spoon", "drill"),
        ("times", "drill a hole", "usual", "9", "rising order"),
        ("runners", "side light", "lengths", "300, 250", "out of order"),
        ("bushes", "1", "bore", "40", "less than its outside diameter"),
        ("packers", "", "packers", "1, x", "a length"),
        ("money", "", "rate_per_hour", "much", "two decimals"),
        ("hinges", "cup hinge", "per_door", "many", "a list of tables"),
    ],
)
def test_what_is_wrong_is_told_at_its_field_and_not_written(
    asked: Asked, group: str, code: str, field: str, words: str, told: str
) -> None:
    answer = send(asked, group, code=code, **{f"f.{field}": words})

    assert answer.status_code == 422
    wrong = {n["id"].rpartition("-")[2]: n["wrong"] for n in answer.json()["notes"]}
    assert told in " ".join(wrong.values())
    assert not asked.settings.workshop.exists()
    page = send(asked, group, as_script=False, code=code, **{f"f.{field}": words})
    assert page.status_code == 422
    assert 'aria-invalid="true"' in page.text
    assert not asked.settings.workshop.exists()


def test_words_are_looked_at_while_they_are_typed_and_nothing_is_written(asked: Asked) -> None:
    answer = send(asked, "saw", act="check", **{"f.kerf": '1/8"'})

    assert answer.status_code == 200
    assert {n["understood"] for n in answer.json()["notes"]} >= {"= 3.18 mm"}
    assert not asked.settings.workshop.exists()


def test_undo_and_redo_without_end(asked: Asked) -> None:
    for kerf in ("2", "2.5", "2.8"):
        send(asked, "saw", **{"f.kerf": kerf})
    for wanted in ({"kerf": 2.5}, {"kerf": 2}, None):
        asked.client.post("/workshop/step", data={"by": "-1"})
        assert written(asked).get("saw") == wanted
    assert asked.settings.workshop.read_text(encoding="utf-8") == START
    for wanted in ({"kerf": 2}, {"kerf": 2.5}, {"kerf": 2.8}):
        asked.client.post("/workshop/step", data={"by": "1"})
        assert written(asked).get("saw") == wanted


def test_two_pages_do_not_overwrite_each_other(asked: Asked) -> None:
    base = version(asked)
    send(asked, "saw", base=base, **{"f.kerf": "2"})
    second = send(asked, "saw", base=base, **{"f.kerf": "2.5"})
    page = send(asked, "saw", as_script=False, base=base, **{"f.kerf": "2.5"})

    assert (second.status_code, page.status_code) == (409, 409)
    assert "changed somewhere else" in second.json()["said"]
    assert "changed somewhere else" in page.text
    assert written(asked)["saw"] == {"kerf": 2}


def test_a_change_by_hand_is_noticed_and_can_be_undone(asked: Asked) -> None:
    send(asked, "saw", **{"f.kerf": "2"})
    before = version(asked)
    text = asked.settings.workshop.read_text(encoding="utf-8")
    asked.settings.workshop.write_text(text.replace("kerf = 2", "kerf = 4  # the old blade"), encoding="utf-8")

    assert version(asked) != before
    assert 'value="4"' in asked.client.get("/workshop/saw").text
    asked.client.post("/workshop/step", data={"by": "-1"})
    assert written(asked)["saw"] == {"kerf": 2}


def test_items_are_added_taken_out_and_put_back(asked: Asked) -> None:
    added = send(
        asked,
        "cutters",
        as_script=False,
        act="add",
        code="drill 9",
        **{"f.kind": "drill", "f.diameter": "9", "f.reach": "60"},
    )
    assert added.status_code == 303
    assert list(written(asked)["cutters"])[-1] == "drill 9"
    send(asked, "cutters", act="remove", code="drill 2")
    assert "Put back drill 2" in asked.client.get("/workshop/cutters").text
    send(asked, "cutters", act="back", code="drill 2")
    assert "drill 2" in written(asked)["cutters"]
    send(asked, "cutters", act="back", code="")
    assert "cutters" not in written(asked)


def test_single_figures_are_put_back_each_for_itself(asked: Asked) -> None:
    send(asked, "saw", **{"f.kerf": "2", "f.trim": "8"})
    send(asked, "saw", back_field="kerf")

    assert written(asked)["saw"] == {"trim": 8}


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({"act": "add", "code": "drill 8", "f.kind": "drill"}, "there already"),
        ({"act": "add", "code": "", "f.kind": "drill"}, "nothing"),
        ({"act": "add", "code": "x" * 99, "f.kind": "drill"}, "1 to 60"),
        ({"act": "burn"}, "keep, check"),
        ({"act": "keep", "code": "nothing"}, "not there"),
        ({"act": "remove", "code": "../x"}, "no such item"),
    ],
)
def test_what_can_not_be_done_is_told(asked: Asked, sent: dict[str, str], told: str) -> None:
    answer = send(asked, "cutters", **sent)

    assert answer.status_code == 422
    assert told in " ".join(f["words"] for f in answer.json()["faults"])
    assert not asked.settings.workshop.exists()


def test_a_file_with_faults_is_mended_one_by_one(asked: Asked) -> None:
    asked.settings.jobs.mkdir(parents=True)
    asked.settings.workshop.write_text("[saw]\nkerf = 99\ntrim = -4\n[times.x]\nlow = 1\n", encoding="utf-8")
    shown = asked.client.get("/workshop/saw")

    assert shown.status_code == 200
    assert "4 faults in workshop.toml" in shown.text
    assert send(asked, "saw", **{"f.kerf": "3.2"}).status_code == 200
    assert "3 faults in workshop.toml" in asked.client.get("/workshop/times").text


@pytest.mark.parametrize(
    "content", [b"= nonsense [", b"\xff\xfe\x00", b"cutters = 3\nbushes = 'x'\n[methods]\na = 1\n", b""]
)
def test_a_file_that_can_not_be_read_is_told_and_left(asked: Asked, content: bytes) -> None:
    asked.settings.jobs.mkdir(parents=True)
    asked.settings.workshop.write_bytes(content)
    for key in ["", *(f"/{k}" for k in KEYS), "/measure", "/measure?kind=dowel", "/version"]:
        shown = asked.client.get(f"/workshop{key}")
        assert shown.status_code in {200, 422}, (key, shown.text)
        assert "Traceback" not in shown.text
    answer = send_raw(asked, "saw", **{"f.kerf": "3.2"})
    assert answer.status_code in {200, 409, 422}
    if answer.status_code != 200:
        assert asked.settings.workshop.read_bytes() == content


def send_raw(asked: Asked, group: str, **sent: Any) -> Any:
    return asked.client.post(f"/workshop/{group}", json={"base": "", **sent}, headers=AS_SCRIPT)


def test_one_job_or_all_are_let_use_it(asked: Asked) -> None:
    first, second, third = asked.take("first-box"), asked.take("low-units"), asked.take("robe-cupboard")
    comments = [x for x in asked.job_file(first).read_text(encoding="utf-8").split("\n") if x.startswith("#")]
    asked.client.post("/workshop/use", data={"job": first})

    assert tomllib.loads(asked.job_file(first).read_text(encoding="utf-8"))["workshop"] == "workshop.toml"
    assert tomllib.loads(asked.job_file(second).read_text(encoding="utf-8"))["workshop"] == "choir-workshop.toml"
    assert [x for x in asked.job_file(first).read_text(encoding="utf-8").split("\n") if x.startswith("#")] == comments
    asked.client.post("/workshop/use", data={"job": ""})
    for job in (second, third):
        assert tomllib.loads(asked.job_file(job).read_text(encoding="utf-8"))["workshop"] == "workshop.toml"
    assert asked.settings.workshop.read_text(encoding="utf-8") == START
    undone = asked.client.post(f"/job/{first}/step", json={"by": -1}, headers=AS_SCRIPT)
    assert undone.status_code == 200
    assert "workshop.toml" not in asked.job_file(first).read_text(encoding="utf-8")


def test_the_plan_of_a_job_follows_its_workshop(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.client.post("/workshop/use", data={"job": job})
    assert send(asked, "defaults", **{"f.corner": "biscuits"}).status_code == 200

    worked = asked.client.app.app.state.desk.job(job)  # type: ignore[attr-defined]  # the guard holds the app
    assert {j.method for c in worked.ask(lambda p: p.sketch).cases for j in c.joints if j.kind == "corner"} == {
        "biscuits"
    }


def test_open_pages_of_a_job_hear_that_its_workshop_changed(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.client.post("/workshop/use", data={"job": job})
    with asked.client.websocket_connect(f"{SOCKETS}/job/{job}/live") as socket:
        send(asked, "saw", **{"f.kerf": "2"})
        assert socket.receive_json() == {"kind": "workshop"}


def test_open_pages_of_a_job_hear_of_a_workshop_changed_by_hand_once(
    asked: Asked, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks: SimpleQueue[str] = SimpleQueue()
    look = _watch._versions

    def counted(desk: Desk, name: str) -> tuple[str, str]:
        looks.put(name)
        return look(desk, name)

    def looked() -> None:
        """Return when a look that began after now is over, however slow the machine: the next one has begun."""
        while not looks.empty():
            looks.get()
        for _ in range(2):
            looks.get(timeout=HANGS)

    def looked_at_first(path: Path) -> str:
        looked()
        return version_on_disk(path)

    monkeypatch.setattr(_watch, "_versions", counted)
    job = asked.take("first-box")
    asked.client.post("/workshop/use", data={"job": job})
    with asked.client.websocket_connect(f"{SOCKETS}/job/{job}/live") as socket:
        looked()
        asked.settings.workshop.write_text(f"{START}\n[saw]\nkerf = 4\n", encoding="utf-8")
        assert socket.receive_json() == {"kind": "workshop"}
        with monkeypatch.context() as between:  # the disk is looked at between writing and telling: told once still
            between.setattr(_workshops, "version_on_disk", looked_at_first)
            send(asked, "saw", **{"f.kerf": "5"})
        assert socket.receive_json() == {"kind": "workshop"}
        looked()
        text = asked.job_file(job).read_text(encoding="utf-8")
        asked.job_file(job).write_text(f"{text}\n# by hand\n", encoding="utf-8")
        assert socket.receive_json()["kind"] == "job"


def test_another_workshop_file_of_the_folder_can_be_edited(asked: Asked) -> None:
    asked.take("low-units")
    path = asked.settings.jobs / "choir-workshop.toml"
    assert 'value="choir-workshop" selected' in asked.client.get("/workshop/saw?file=choir-workshop").text
    assert send(asked, "saw", file="choir-workshop", **{"f.trim": "9"}).status_code == 200

    assert read_workshop(path).saw.trim == 9
    assert "# Minutes from this bench's own stop-watch." in path.read_text(encoding="utf-8")
    assert not asked.settings.workshop.exists()


@pytest.mark.parametrize(
    "file", ["../secret", "/etc/passwd", "first-box", "nothing", "a\0b", "x" * 5000, ".hidden", "*"]
)
def test_no_file_but_a_workshop_of_the_folder_is_opened(asked: Asked, file: str) -> None:
    asked.take("first-box")
    (asked.settings.jobs.parent / "secret.toml").write_text("", encoding="utf-8")
    for key in ("", "/saw", "/methods", "/measure", "/version"):
        shown = asked.client.get(f"/workshop{key}", params={"file": file})
        assert shown.status_code in {404, 422}
        assert "no workshop file" in shown.text
    body = {"file": file, "base": "", "f.kerf": "2"}
    assert asked.client.post("/workshop/saw", json=body, headers=AS_SCRIPT).status_code in {404, 422}


@pytest.mark.parametrize("address", ["/workshop/nothing", "/workshop/..%2fsecret", "/workshop/saw/more"])
def test_no_part_of_another_name_is_there(asked: Asked, address: str) -> None:
    assert asked.client.get(address).status_code == 404


def test_a_name_may_hold_quotes_and_any_sign(asked: Asked) -> None:
    code = '3/8" \\ peg [1].x'
    assert send(asked, "tools", act="add", code=code, **{"f.kind": "router"}).status_code == 200
    assert send(asked, "tools", code=code, **{"f.error": "0.2"}).status_code == 200
    wrong = send(asked, "tools", code=code, **{"f.error": "far"})
    assert [n["id"].rpartition("-")[2] for n in wrong.json()["notes"] if n["wrong"]] == ["error"]
    assert written(asked)["tools"][code]["error"] == 0.2


def test_names_are_shown_as_words_and_never_run(asked: Asked) -> None:
    evil = "<script>alert(1)</script>"
    send(asked, "tools", act="add", code=evil, **{"f.kind": "router", "f.name": f"{evil}\u2028'&"})
    send(asked, "rack", act="add", code=evil, **{"f.board": evil, "f.length": "500", "f.width": "300"})
    for key in ("tools", "rack", "methods", "tools?open=<script>"):
        assert "<script>alert" not in asked.client.get(f"/workshop/{key}").text
    assert evil in read_workshop(asked.settings.workshop).rack[0].board


def test_methods_tell_whether_their_tools_are_owned(asked: Asked) -> None:
    shown = asked.client.get("/workshop/methods").text

    assert "loose-tenon cutter (thought of, not owned)" in shown
    assert "drill jig (owned)" in shown
    assert shown.count('id="method-') == len(packaged_workshop().methods)


def test_a_new_job_uses_the_workshop_once_it_is_there(asked: Asked) -> None:
    asked.client.post("/new", data={"title": "Before", "holds": "open"})
    send(asked, "saw", **{"f.kerf": "2"})
    asked.client.post("/new", data={"title": "After", "holds": "open"})

    assert "workshop" not in tomllib.loads(asked.job_file("before").read_text(encoding="utf-8"))
    assert tomllib.loads(asked.job_file("after").read_text(encoding="utf-8"))["workshop"] == "workshop.toml"
