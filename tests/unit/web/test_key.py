"""The page on this machine itself is for the browser of whoever started it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from starlette.testclient import TestClient, WebSocketDenialResponse

from storyrod.adapters.web import Settings
from storyrod.adapters.web._app import bare_app
from storyrod.adapters.web._guard import Gate, Guard
from storyrod.adapters.web._key import FILE, LASTS_S, Key
from storyrod.adapters.web._lately import Lately
from storyrod.adapters.web._settings import local_hosts
from storyrod.adapters.web.first_visit import EXAMPLE, prepare
from tests.unit.web.conftest import ADDRESS, AS_SCRIPT, SOCKETS


@dataclass(slots=True)
class Clock:
    now: float = 1_000_000.0

    def __call__(self) -> float:
        return self.now


@dataclass(slots=True, kw_only=True)
class Start:
    client: TestClient
    key: Key
    clock: Clock
    home: Path


@pytest.fixture
def start(tmp_path: Path) -> Iterator[Start]:
    settings = Settings(jobs=tmp_path / "jobs", home=tmp_path / "home", hosts=local_hosts(8021))
    prepare(settings.jobs)
    clock = Clock()
    key = Key(settings.home, 8021, clock)
    app = Guard(bare_app(settings), Gate(hosts=settings.hosts, key=key))
    with TestClient(app, base_url=ADDRESS, follow_redirects=False) as client:
        yield Start(client=client, key=key, clock=clock, home=settings.home)


def test_without_the_key_nothing_is_told_or_done(start: Start) -> None:
    job = start.home.parent / "jobs" / f"{EXAMPLE}.toml"
    before = job.read_bytes()

    for address in ("/", f"/job/{EXAMPLE}/brief", "/nowhere", "/enter", "/?key=wrong", "/?key="):
        answer = start.client.get(address, headers={"accept": "text/html"})
        assert answer.status_code == 401
        assert EXAMPLE not in answer.text
        assert "set-cookie" not in answer.headers
    assert start.client.post(f"/jobs/{EXAMPLE}/delete").status_code == 401
    assert start.client.post("/network", data={"do": "open"}).status_code == 401
    with (
        pytest.raises(WebSocketDenialResponse) as refused,
        start.client.websocket_connect(f"{SOCKETS}/job/{EXAMPLE}/live"),
    ):
        pass
    assert refused.value.status_code == 401
    assert job.read_bytes() == before
    assert start.client.get("/static/page.css").status_code == 200


def test_the_address_of_the_start_is_exchanged_for_a_cookie_and_leaves_no_trace(start: Start) -> None:
    answer = start.client.get(start.key.address(f"/job/{EXAMPLE}/brief?at=A.width"))

    assert answer.status_code == 303
    assert answer.headers["location"] == f"/job/{EXAMPLE}/brief?at=A.width"
    assert start.key.secret not in str(answer.headers)
    assert "HttpOnly" in answer.headers["set-cookie"]
    assert start.client.get("/", headers={"accept": "text/html"}).status_code == 200
    assert start.client.post("/network", data={"do": "both"}).status_code == 422  # heard, and found to be nonsense


def test_the_exchange_leads_nowhere_else(start: Start) -> None:
    for path in ("//evil.example/x", "/\\evil.example", "///evil.example"):
        to = start.key.exchange(path, f"key={start.key.secret}")
        assert to is not None
        assert not to.startswith(("//", "/\\"))


def test_a_cookie_outlives_a_start_but_not_its_time(start: Start) -> None:
    start.client.get(start.key.address("/"))
    again = Key(start.home, 8021, start.clock)
    held = f"{start.key.cookie}={start.client.cookies[start.key.cookie]}"

    assert again.secret != start.key.secret
    assert again.admits(held)
    assert not Key(start.home, 8022, start.clock).admits(held)
    assert not Key(start.home.parent / "other", 8021, start.clock).admits(held)
    assert again.exchange("/", f"key={start.key.secret}") is None
    start.clock.now += LASTS_S + 1
    assert not again.admits(held)
    assert start.client.get("/", headers=AS_SCRIPT).status_code == 401


def test_a_browser_that_is_in_use_goes_on(start: Start) -> None:
    start.client.get(start.key.address("/"))
    assert "set-cookie" not in start.client.get("/").headers
    for _ in range(4):
        start.clock.now += 0.6 * LASTS_S
        answer = start.client.get("/")
        assert answer.status_code == 200
        assert start.key.cookie in answer.headers["set-cookie"]


@pytest.mark.parametrize("value", ["", ".", "9999999999.", "9999999999.00", "\u00b2.aa", "inf.aa", "1e9.aa", "nan"])
def test_a_made_up_cookie_is_worth_nothing(start: Start, value: str) -> None:
    assert not start.key.admits(f"{start.key.cookie}={value}")


@pytest.mark.skipif(os.name != "posix", reason="Rights of files are told otherwise there.")
def test_what_signs_is_read_by_its_owner_alone(start: Start) -> None:
    kept = start.home / FILE

    assert kept.stat().st_mode & 0o777 == 0o600
    kept.chmod(0o644)  # others may have read it by now
    start.client.get(start.key.address("/"))
    held = f"{start.key.cookie}={start.client.cookies[start.key.cookie]}"
    assert not Key(start.home, 8021, start.clock).admits(held)


def test_plans_of_long_ago_are_let_go() -> None:
    """A page that is open for weeks keeps the last drawable text of a few jobs, each a whole plan."""
    lately = Lately[int](3)
    for n in range(10):
        lately[f"{n}"] = n
        lately["kept"] = n

    assert list(lately) == ["8", "9", "kept"]
