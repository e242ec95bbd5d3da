"""Changing a job from the page: what is written, what is told, and what two pages do to each other."""

from __future__ import annotations

import pytest

from tests.unit.web.conftest import AS_SCRIPT, SOCKETS, Asked


def test_a_change_is_written_and_planned(asked: Asked) -> None:
    job = asked.take("first-box")
    answer = asked.change(job, {"path": "cases[0].width", "value": "612"})

    assert answer.status_code == 200
    assert answer.json()["faults"] == []
    assert answer.json()["back"] == 1
    assert "width = 612" in asked.job_file(job).read_text(encoding="utf-8")
    assert answer.json()["version"] == asked.version(job)


def test_a_wrong_value_is_kept_and_told_at_its_field(asked: Asked) -> None:
    job = asked.take("first-box")
    answer = asked.change(job, {"path": "cases[0].width", "value": "wide enough"})

    assert answer.status_code == 200
    assert [f["field"] for f in answer.json()["faults"]] == ["cases[0].width"]
    assert 'width = "wide enough"' in asked.job_file(job).read_text(encoding="utf-8")


def test_two_pages_do_not_overwrite_each_other(asked: Asked) -> None:
    job = asked.take("first-box")
    base = asked.version(job)
    asked.change(job, {"path": "cases[0].width", "value": "612"}, base=base)
    second = asked.change(job, {"path": "cases[0].height", "value": "700"}, base=base)

    assert second.status_code == 409
    assert second.json()["version"] == asked.version(job)
    assert "height = 700" not in asked.job_file(job).read_text(encoding="utf-8")


def test_undo_and_redo(asked: Asked) -> None:
    job = asked.take("first-box")
    before = asked.job_file(job).read_text(encoding="utf-8")
    asked.change(job, {"path": "cases[0].width", "value": "612"})
    after = asked.job_file(job).read_text(encoding="utf-8")

    undone = asked.client.post(f"/job/{job}/step", json={"by": -1}, headers=AS_SCRIPT).json()
    assert (undone["back"], undone["forward"]) == (0, 1)
    assert asked.job_file(job).read_text(encoding="utf-8") == before
    asked.client.post(f"/job/{job}/step", json={"by": 1}, headers=AS_SCRIPT)
    assert asked.job_file(job).read_text(encoding="utf-8") == after


def test_a_change_whose_answer_was_lost_is_made_once(asked: Asked) -> None:
    """The page sends it again: the id, or what the text says already, tells that it was made."""
    job = asked.take("first-box")
    base = asked.version(job)
    cut = {"id": "a1", "base": base, "act": {"do": "cut-rows", "at": "cases[0].inside.rows[0]", "many": 2}}
    first, again = (asked.client.post(f"/job/{job}/change", json=cut, headers=AS_SCRIPT) for _ in range(2))

    assert (first.status_code, again.status_code) == (200, 200)
    assert first.json()["version"] == again.json()["version"] == asked.version(job)
    assert again.json()["back"] == 1
    base = asked.version(job)
    answers = [asked.change(job, {"path": "cases[0].width", "value": "612"}, base=base) for _ in range(2)]
    assert [a.status_code for a in answers] == [200, 200]
    assert answers[1].json()["back"] == 2


def test_an_undo_whose_answer_was_lost_is_done_once(asked: Asked) -> None:
    job = asked.take("first-box")
    asked.change(job, {"path": "cases[0].width", "value": "612"})
    asked.change(job, {"path": "cases[0].height", "value": "700"})
    sent = {"id": "u1", "by": -1}
    undone = [asked.client.post(f"/job/{job}/step", json=sent, headers=AS_SCRIPT).json() for _ in range(2)]

    assert [(u["back"], u["forward"]) for u in undone] == [(1, 1), (1, 1)]


@pytest.mark.parametrize(
    "body",
    [
        b"no json",
        b"[]",
        b'{"changes": []}',
        b'{"changes": [{"path": 3}]}',
        b'{"changes": [{"path": "title", "act": "burn"}]}',
        b'{"changes": [{"path": "nowhere[3].x", "value": 1}]}',
    ],
)
def test_nonsense_is_told_and_nothing_is_written(asked: Asked, body: bytes) -> None:
    job = asked.take("first-box")
    before = asked.job_file(job).read_text(encoding="utf-8")
    headers = {"content-type": "application/json", **AS_SCRIPT}
    answer = asked.client.post(f"/job/{job}/change", content=body, headers=headers)

    assert answer.status_code == 422
    assert answer.json()["faults"]
    assert asked.job_file(job).read_text(encoding="utf-8") == before


def test_the_other_pages_of_a_job_hear_of_a_change(asked: Asked) -> None:
    job = asked.take("first-box")
    with asked.client.websocket_connect(f"{SOCKETS}/job/{job}/live") as socket:
        asked.change(job, {"path": "cases[0].width", "value": "612"})
        word = socket.receive_json()

    assert word == {"kind": "job", "version": asked.version(job)}


def test_a_change_on_disk_is_heard(asked: Asked) -> None:
    job = asked.take("first-box")
    path = asked.job_file(job)
    with asked.client.websocket_connect(f"{SOCKETS}/job/{job}/live") as socket:
        asked.client.portal.call(_wait)  # type: ignore[union-attr]  # open while the client is
        path.write_text(path.read_text(encoding="utf-8") + "\n# a note\n", encoding="utf-8")
        word = socket.receive_json()

    assert word["version"] == asked.version(job)


async def _wait() -> None:
    import asyncio

    await asyncio.sleep(0.3)
