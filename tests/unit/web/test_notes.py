"""Notes and photos lie beside the job: kept whole, shown as text, within limits, and never outside their folder."""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from storyrod.adapters.web._beside import LARGEST_PHOTO, LONGEST_TEXT, MOST_NOTES, BesideShelf, Note
from storyrod.faults import JobError
from tests.unit.web.conftest import AS_SCRIPT, Asked

PNG = b"\x89PNG\r\n\x1a\n" + b"\0" * 40
JPEG = b"\xff\xd8\xff\xe0" + b"\0" * 40


def kept(asked: Asked, job: str, text: str = "", photo: bytes = b"", *, script: bool = False, **more: str) -> Any:
    files = {"photo": ("../../x.png", photo, "text/html")} if photo else {"photo": ("", b"", "text/plain")}
    return asked.client.post(
        f"/job/{job}/notes",
        data={"at": "job", "text": text, **more},
        files=files,
        headers=AS_SCRIPT if script else {},
        follow_redirects=False,
    )


def beside(asked: Asked, job: str) -> Path:
    return asked.settings.jobs / f"{job}.notes"


def told(asked: Asked, job: str) -> list[dict[str, Any]]:
    notes: list[dict[str, Any]] = json.loads((beside(asked, job) / "notes.json").read_text(encoding="utf-8"))["notes"]
    return notes


def test_a_note_on_job_panel_and_card_is_shown_where_it_belongs(asked: Asked) -> None:
    job = asked.take("first-box")
    assert kept(asked, job, "Collect on Friday").headers["location"] == f"/job/{job}/overview"
    where = kept(asked, job, "Knot at the back edge", at="panel A.top").headers["location"]
    assert where == f"/job/{job}/set-out?panel=A.top"
    assert kept(asked, job, "Blade is blunt", at="card S1").headers["location"] == f"/job/{job}/bench?card=S1"

    first = unescape(asked.client.get(f"/job/{job}/overview").text)
    for words in ("Collect on Friday", "Knot at the back edge", "Blade is blunt"):
        assert f'<p class="note-text">{words}</p>' in first
    panel = asked.client.get(where).text
    assert "Knot at the back edge" in panel
    assert "Blade is blunt" not in panel
    assert "Knot at the back edge" not in asked.client.get(f"/job/{job}/set-out?panel=A.base").text
    bench = asked.client.get(f"/job/{job}/bench?card=S1").text
    card = bench.split('id="card-S1"')[1].split("</section>")[0]
    assert "Blade is blunt" in card
    assert "Knot at the back edge" in card, "the top is sawn on S1"
    assert "Collect on Friday" in bench


def test_what_looks_like_code_is_text(asked: Asked) -> None:
    job = asked.take("first-box")
    kept(asked, job, "<script>alert(1)</script> {{ 7*7 }}")
    page = asked.client.get(f"/job/{job}/overview").text

    assert "<script>alert(1)" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt; {{ 7*7 }}" in page


@pytest.mark.parametrize(("photo", "ending", "kind"), [(PNG, "png", "image/png"), (JPEG, "jpg", "image/jpeg")])
def test_a_photo_is_kept_by_what_is_in_it_and_given_back(asked: Asked, photo: bytes, ending: str, kind: str) -> None:
    job = asked.take("first-box")
    answer = kept(asked, job, photo=photo, script=True)
    (note,) = told(asked, job)

    assert re.fullmatch(rf"[0-9a-f]{{32}}\.{ending}", note["photo"])
    assert note["photo"] in "".join(answer.json()["swap"].values())
    got = asked.client.get(f"/job/{job}/photos/{note['photo']}")
    assert got.content == photo
    assert got.headers["content-type"] == kind
    assert got.headers["x-content-type-options"] == "nosniff"
    assert sorted(p.name for p in beside(asked, job).iterdir()) == sorted(["notes.json", note["photo"]])


@pytest.mark.parametrize(
    ("text", "photo", "at", "words"),
    [
        ("", b"", "job", "some words or a photo"),
        ("x" * (LONGEST_TEXT + 1), b"", "job", f"{LONGEST_TEXT} at most"),
        ("x", b"<svg onload=alert(1)>", "job", "a JPEG, PNG or WebP picture"),
        ("x", b"GIF89a", "job", "a JPEG, PNG or WebP picture"),
        ("x", b"\xff\xd8\xff" + b"\0" * LARGEST_PHOTO, "job", "MB at most"),
        ("x", b"", "../../etc", "the job, a panel or a card"),
        ("x", b"", "panel ../../etc/passwd", "the job, a panel or a card"),
        ("x", b"", "panel A\nB", "the job, a panel or a card"),
    ],
)
def test_what_cannot_be_kept_is_refused_and_nothing_is_written(
    asked: Asked, text: str, photo: bytes, at: str, words: str
) -> None:
    job = asked.take("first-box")
    answer = kept(asked, job, text, photo, at=at, script=True)

    assert answer.status_code == 422
    assert words in answer.json()["faults"][0]["words"]
    assert not beside(asked, job).exists()


@pytest.mark.parametrize(
    "name", ["notes.json", "..%2Fworkshop.toml", "%2e%2e%2ffirst-box.toml", "a" * 32 + ".jpg", "x.svg", ".jpg"]
)
def test_no_other_file_is_given_as_a_photo(asked: Asked, name: str) -> None:
    job = asked.take("first-box")
    kept(asked, job, "a note")
    (beside(asked, job) / ("a" * 32 + ".jpg")).write_bytes(b"<html>no photo</html>")

    assert asked.client.get(f"/job/{job}/photos/{name}").status_code == 404


def test_links_that_lead_out_are_neither_read_nor_written(asked: Asked, tmp_path: Path) -> None:
    job = asked.take("first-box")
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "notes.json").write_text('{"format": 1, "notes": [], "have": []}', encoding="utf-8")
    secret = outside / ("b" * 32 + ".jpg")
    secret.write_bytes(JPEG)
    beside(asked, job).symlink_to(outside, target_is_directory=True)

    assert kept(asked, job, "a note", script=True).status_code == 422
    assert asked.client.get(f"/job/{job}/photos/{secret.name}").status_code == 404
    assert (outside / "notes.json").read_text(encoding="utf-8") == '{"format": 1, "notes": [], "have": []}'
    assert "which is no file of notes" in unescape(asked.client.get(f"/job/{job}/overview").text)


@pytest.mark.parametrize("text", ["{", "[]", '{"format": 2}', '{"format": 1, "notes": {}}', "[" * 100_000, "\0"])
def test_a_file_that_is_not_understood_is_left_as_it_is(asked: Asked, text: str) -> None:
    job = asked.take("first-box")
    beside(asked, job).mkdir()
    (beside(asked, job) / "notes.json").write_text(text, encoding="utf-8")

    assert kept(asked, job, "a note", script=True).status_code == 422
    assert asked.client.post(f"/job/{job}/have", json={"line": "glue", "have": True}).status_code == 422
    assert (beside(asked, job) / "notes.json").read_text(encoding="utf-8") == text
    assert asked.client.get(f"/job/{job}/overview").status_code == 200


def test_what_another_version_wrote_into_the_file_stays(asked: Asked) -> None:
    job = asked.take("first-box")
    beside(asked, job).mkdir()
    more = {"format": 1, "notes": [{"kind": "drawing"}, 7], "have": [], "sketches": [1]}
    (beside(asked, job) / "notes.json").write_text(json.dumps(more), encoding="utf-8")
    kept(asked, job, "a note")

    found = json.loads((beside(asked, job) / "notes.json").read_text(encoding="utf-8"))
    assert found["sketches"] == [1]
    assert found["notes"][:2] == [{"kind": "drawing"}, 7]
    assert found["notes"][2]["text"] == "a note"


def test_a_note_sent_twice_is_there_once_and_one_taken_away_can_be_put_back(asked: Asked) -> None:
    job = asked.take("first-box")
    for _ in range(2):
        assert kept(asked, job, "Collect on Friday", id="0123456789abcdef").status_code == 303
    (note,) = told(asked, job)
    assert note["id"] == "0123456789abcdef"

    kept(asked, job, do="gone", note=note["id"])
    page = asked.client.get(f"/job/{job}/overview").text
    assert "Taken away: 1" in page
    assert told(asked, job)[0]["text"] == "Collect on Friday"
    kept(asked, job, do="back", note=note["id"])
    assert "Taken away" not in asked.client.get(f"/job/{job}/overview").text
    assert kept(asked, job, do="gone", note="beef", script=True).status_code == 422


def test_notes_go_with_a_job_that_is_renamed_deleted_and_brought_back(asked: Asked) -> None:
    job = asked.take("first-box")
    kept(asked, job, "Collect on Friday", photo=PNG)
    asked.client.post(f"/jobs/{job}/rename", data={"title": "Hymn box"})
    assert not beside(asked, job).exists()
    assert told(asked, "hymn-box")[0]["text"] == "Collect on Friday"

    gone = asked.client.post("/jobs/hymn-box/delete", follow_redirects=False).headers["location"].split("gone=")[1]
    assert not beside(asked, "hymn-box").exists()
    asked.client.post("/new", data={"title": "Hymn box", "width": "600", "height": "720", "depth": "300"})
    asked.client.post(f"/deleted/{gone}/back")
    back = next(n for n in asked.desk.shelf.names() if beside(asked, n).exists())
    assert told(asked, back)[0]["text"] == "Collect on Friday"
    assert asked.client.get(f"/job/{back}/photos/{told(asked, back)[0]['photo']}").content == PNG


def test_another_job_never_gets_the_notes_of_one_whose_file_is_gone(asked: Asked) -> None:
    job = asked.take("first-box")
    kept(asked, job, "of the old box")
    asked.job_file(job).unlink()

    assert asked.desk.shelf.add("First box", "title = 'First box'\n") == "first-box-2"


def test_notes_have_an_end(asked: Asked) -> None:
    job = asked.take("first-box")
    beside(asked, job).mkdir()
    many = [{"id": f"{n:08x}", "at": "job", "text": "x", "when": 0} for n in range(MOST_NOTES)]
    (beside(asked, job) / "notes.json").write_text(json.dumps({"format": 1, "notes": many}), encoding="utf-8")

    assert "more than 300 notes" in kept(asked, job, "one more", script=True).json()["faults"][0]["words"]


def test_a_full_disk_loses_no_note(asked: Asked, monkeypatch: pytest.MonkeyPatch) -> None:
    job = asked.take("first-box")
    kept(asked, job, "the first")

    def full(*_: object, **__: object) -> None:
        raise JobError(*asked.desk.beside.seen("nothing")[1])

    monkeypatch.setattr("storyrod.adapters.web._beside.write_text_safely", full)
    assert kept(asked, job, "the second", script=True).status_code in {404, 422}
    assert [n["text"] for n in told(asked, job)] == ["the first"]


def test_what_is_ticked_as_had_is_kept_with_the_job(asked: Asked) -> None:
    job = asked.take("first-box")
    page = asked.client.get(f"/job/{job}/overview?all=1").text
    lines = [unescape(k) for k in re.findall(r'data-buy="([^"]+)"', page)]
    assert " checked" not in page
    assert asked.client.post(f"/job/{job}/have", json={"line": lines[0], "have": True}).status_code == 200

    page = unescape(asked.client.get(f"/job/{job}/overview?all=1").text)
    assert re.findall(r'data-buy="([^"]+)" autocomplete="off" checked', page) == lines[:1]
    asked.client.post(f"/job/{job}/have", json={"line": lines[0], "have": False})
    assert " checked" not in asked.client.get(f"/job/{job}/overview?all=1").text
    for wrong in ({"line": "", "have": True}, {"line": "x" * 301, "have": True}, {"line": "x"}, {"have": True}):
        assert asked.client.post(f"/job/{job}/have", json=wrong).status_code == 422


def test_two_servers_keep_each_others_notes(asked: Asked) -> None:
    job = asked.take("first-box")
    other = BesideShelf(asked.desk.shelf)
    kept(asked, job, "the first")
    other.add(job, Note(id="feedbeef", at="job", text="the second", when=1.0))

    assert [n.text for n in asked.desk.beside.of(job).notes] == ["the first", "the second"]
