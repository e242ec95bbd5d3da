"""What is text goes compressed over the line, and nothing else does."""

from __future__ import annotations

import gzip
from typing import Final

import pytest

from tests.unit.web.conftest import AS_SCRIPT, SOCKETS, Asked

JOB: Final = "rehearsal-room"


def raw_of(asked: Asked, address: str, **headers: str) -> tuple[bytes, dict[str, str], int]:
    with asked.client.stream("GET", address, headers=headers) as told:
        return b"".join(told.iter_raw()), dict(told.headers), told.status_code


@pytest.mark.parametrize(
    "address",
    [
        "/",
        f"/job/{JOB}/brief",
        f"/job/{JOB}/brief/pieces",
        "/static/page.css",
        "/static/js/brief.js",
        "/bench-worker.js",
        "/static/fonts/B612-Regular.otf",
    ],
)
def test_text_goes_compressed_and_reads_the_same(asked: Asked, address: str) -> None:
    asked.take(JOB)
    headers = {"accept": "application/json"} if address.endswith("pieces") else {}
    plain, told, _ = raw_of(asked, address, **{"accept-encoding": "identity"}, **headers)
    small, also, status = raw_of(asked, address, **{"accept-encoding": "gzip"}, **headers)

    assert status == 200
    assert "content-encoding" not in told
    assert also["content-encoding"] == "gzip"
    assert also["vary"] == "Accept-Encoding"
    assert gzip.decompress(small) == plain
    assert int(also["content-length"]) == len(small) < len(plain)
    assert also["content-security-policy"] == told["content-security-policy"]
    assert also["cache-control"] == told["cache-control"]


@pytest.mark.parametrize("address", ["/static/mark.svg", "/job/first-box/files/rods.pdf"])
def test_small_and_packed_answers_go_as_they_are(asked: Asked, address: str) -> None:
    asked.take("first-box")
    body, told, status = raw_of(asked, address, **{"accept-encoding": "gzip"})

    assert status == 200
    assert "content-encoding" not in told
    assert body.startswith((b"<svg", b"%PDF"))


def test_what_the_browser_has_is_not_sent_again(asked: Asked) -> None:
    _, told, _ = raw_of(asked, "/static/page.css", **{"accept-encoding": "gzip"})
    body, _, status = raw_of(asked, "/static/page.css", **{"accept-encoding": "gzip", "if-none-match": told["etag"]})

    assert (status, body) == (304, b"")


def test_a_socket_talks_as_before(asked: Asked) -> None:
    job = asked.take(JOB)
    headers = {"accept-encoding": "gzip", "origin": "http://127.0.0.1:8021"}
    with asked.client.websocket_connect(f"{SOCKETS}/job/{job}/live", headers=headers) as socket:
        asked.change(job, {"path": "title", "value": "Another"})
        assert socket.receive_json()["kind"] == "job"
    assert asked.client.get(f"/job/{job}/brief/pieces", headers=AS_SCRIPT).json()["title"] == "Another"
