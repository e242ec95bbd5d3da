"""Who is let in, and what every answer carries."""

from __future__ import annotations

import asyncio

import pytest
from starlette.exceptions import HTTPException
from starlette.testclient import TestClient, WebSocketDenialResponse
from starlette.types import Message

from storyrod.adapters.web import Settings, make_app
from storyrod.adapters.web._guard import MOST_BYTES, _Limited, code_cookie
from tests.unit.web.conftest import ADDRESS, AS_SCRIPT, SOCKETS, Asked


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:80", "localhost.evil.example:8021", ""])
def test_another_name_is_turned_away(asked: Asked, host: str) -> None:
    assert asked.client.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:9999", "file://127.0.0.1:8021"])
def test_a_change_sent_by_another_site_is_turned_away(asked: Asked, origin: str) -> None:
    job = asked.take("first-box")
    before = asked.job_file(job).read_text(encoding="utf-8")
    body = {"base": asked.version(job), "changes": [{"path": "title", "value": "taken over"}]}

    answer = asked.client.post(f"/job/{job}/change", json=body, headers={"origin": origin, **AS_SCRIPT})

    assert answer.status_code == 403
    assert asked.job_file(job).read_text(encoding="utf-8") == before


def test_a_change_without_origin_from_another_site_is_turned_away(asked: Asked) -> None:
    job = asked.take("first-box")
    sent = asked.client.post(f"/job/{job}/step", json={"by": 1}, headers={"sec-fetch-site": "cross-site"})

    assert sent.status_code == 403


def test_a_socket_from_another_site_is_turned_away(asked: Asked) -> None:
    job = asked.take("first-box")

    with (
        pytest.raises(WebSocketDenialResponse) as refused,
        asked.client.websocket_connect(f"{SOCKETS}/job/{job}/live", headers={"origin": "http://evil.example"}),
    ):
        pass
    assert refused.value.status_code == 403


def test_a_body_that_is_too_large_is_turned_away(asked: Asked) -> None:
    job = asked.take("first-box")

    assert asked.client.post(f"/job/{job}/change", content=b" " * (MOST_BYTES + 1)).status_code == 413


def test_a_body_that_hides_its_length_is_turned_away(asked: Asked) -> None:
    job = asked.take("first-box")
    pieces = (b" " * 1_000_000 for _ in range(MOST_BYTES // 1_000_000 + 2))
    headers = {"content-type": "application/json"}

    assert asked.client.post(f"/job/{job}/change", content=pieces, headers=headers).status_code == 413


def test_nothing_is_waited_for_after_a_body_is_whole() -> None:
    """One that is too large by its last part is told so at once, not when the time to hear it out is over."""
    whole = {"type": "http.request", "body": b" " * (MOST_BYTES + 1), "more_body": False}
    parts = [whole]

    async def receive() -> Message:
        return parts.pop(0)  # fails where more is asked for

    async def ask() -> None:
        await _Limited(receive)()

    with pytest.raises(HTTPException, match="413"):
        asyncio.run(ask())


@pytest.mark.parametrize("address", ["/", "/nowhere", "/job/none/brief", "/static/page.css"])
def test_every_answer_keeps_the_browser_to_ourselves(asked: Asked, address: str) -> None:
    headers = asked.client.get(address).headers

    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["x-frame-options"] == "DENY"


def test_with_a_code_only_its_bearers_are_let_in(asked: Asked) -> None:
    settings = asked.settings
    app = make_app(
        Settings(jobs=settings.jobs, home=settings.home, hosts=settings.hosts), admits=lambda code: code == "tenor"
    )
    with TestClient(app, base_url=ADDRESS) as client:
        assert client.get("/", headers=AS_SCRIPT).status_code == 401
        assert client.get("/", headers={"accept": "text/html"}, follow_redirects=False).headers["location"] == "/enter"
        assert client.get("/static/page.css").status_code == 200
        assert client.get("/", headers={"cookie": f"{code_cookie(str(client.base_url))}=alto"}).status_code == 401
        assert client.get("/", headers={"cookie": f"{code_cookie(str(client.base_url))}=tenor"}).status_code == 200
        assert client.get("/", headers={"cookie": "=;;=\x01"}).status_code == 401


def test_what_the_page_is_drawn_with_is_kept_by_the_browser_and_nothing_else_is(asked: Asked) -> None:
    style = asked.client.get("/static/page.css")
    again = asked.client.get("/static/page.css", headers={"if-none-match": style.headers["etag"]})

    assert style.headers["cache-control"] == "no-cache"
    assert again.status_code == 304
    assert asked.client.get("/").headers["cache-control"] == "no-store"
