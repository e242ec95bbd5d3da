"""The way in from the network: closed unless opened, by code only, its lock-out by time, and worthless when closed."""

from __future__ import annotations

import asyncio
import re
import socket
import urllib.error
import urllib.request
from collections.abc import Coroutine, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from http.client import HTTPConnection
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from starlette.types import ASGIApp

from storyrod.adapters.cli import main
from storyrod.adapters.web import Certificate, Settings
from storyrod.adapters.web._app import bare_app
from storyrod.adapters.web._guard import Gate, Guard, code_cookie
from storyrod.adapters.web._network import CODE_LENGTH, LETTERS, LockOut, Network, own_addresses
from storyrod.adapters.web._settings import local_hosts
from storyrod.adapters.web.serving import start_listener
from storyrod.adapters.web.views.enter import picture
from storyrod.faults import JobError
from tests.unit.web.conftest import ADDRESS

LAN = "198.51.100.7"


@dataclass(slots=True)
class Clock:
    now: float = 0.0

    def __call__(self) -> float:
        return self.now


@dataclass(slots=True)
class Listening:
    """Stands in for the second server: remembers what it serves."""

    app: ASGIApp
    stopped: bool = False

    async def stop(self) -> None:
        self.stopped = True


@dataclass(slots=True, kw_only=True)
class House:
    """A page at its own gate, and what it serves at the other once that is opened."""

    local: TestClient
    network: Network
    clock: Clock
    started: list[Listening] = field(default_factory=list)

    def over(self) -> TestClient:
        """Return a new visitor from the network."""
        base = self.network.addresses[0] if self.network.addresses else f"http://{LAN}:8021"
        return TestClient(self.started[-1].app, base_url=base, follow_redirects=False)

    def open(self) -> None:
        answer = self.local.post("/network", data={"do": "open", "back": "/"}, follow_redirects=False)
        assert answer.headers["location"] == "/#network"

    def close(self) -> None:
        self.local.post("/network", data={"do": "close", "back": "/"}, follow_redirects=False)


@pytest.fixture
def house(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[House]:
    monkeypatch.setattr("storyrod.adapters.web._network._sockets", lambda found, port: (port, []))
    settings = Settings(jobs=tmp_path / "jobs", home=tmp_path / "home", hosts=local_hosts(8021))
    app = bare_app(settings)
    network: Network = app.state.desk.network
    clock = Clock()
    network.lock_out = LockOut(clock=clock)
    started: list[Listening] = []

    async def start(guard: ASGIApp, _: list[socket.socket], _certificate: Certificate | None) -> Listening:
        started.append(Listening(guard))
        return started[-1]

    network.attach(app, start, port=8021, find=lambda: (LAN,))
    with TestClient(Guard(app, Gate(hosts=settings.hosts)), base_url=ADDRESS) as local:
        yield House(local=local, network=network, clock=clock, started=started)


def test_nothing_listens_before_it_is_opened(house: House) -> None:
    house.local.get("/")

    assert house.started == []
    assert not house.network.is_open
    assert house.network.enter("", LAN) is None
    assert not house.network.admits("")


def test_a_code_is_easy_to_read_and_made_anew_each_time(house: House) -> None:
    codes = []
    for _ in range(5):
        house.open()
        codes.append(house.network.code)
        house.close()

    assert all(len(c) == CODE_LENGTH and set(c) <= set(LETTERS) for c in codes)
    assert len(set(codes)) == len(codes)
    assert not set("01oil") & set(LETTERS)


def test_opening_twice_keeps_the_code(house: House) -> None:
    house.open()
    code = house.network.code
    house.open()

    assert (house.network.code, len(house.started)) == (code, 1)


def test_without_the_code_only_the_page_that_asks_is_seen(house: House) -> None:
    house.open()
    visitor = house.over()

    assert visitor.get("/", headers={"accept": "text/html"}).headers["location"] == "/enter"
    assert visitor.get("/job/x/bench/words", headers={"accept": "application/json"}).status_code == 401
    assert visitor.post("/network", data={"do": "close"}).status_code == 401
    asked = visitor.get("/enter")
    assert asked.status_code == 200
    assert house.network.code not in asked.text


def test_the_right_code_lets_in(house: House) -> None:
    house.open()
    visitor = house.over()
    code = house.network.code.upper()
    answer = visitor.post("/enter", data={"code": f" {code[:4]}-{code[4:]} ", "to": "/"})

    cookie = answer.headers["set-cookie"].lower()
    assert answer.status_code == 200
    assert answer.headers["refresh"] == "0; url=/"
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert house.network.code not in cookie
    assert visitor.get("/").status_code == 200


def test_a_code_in_an_address_lets_nobody_in(house: House) -> None:
    """Addresses are kept in histories and logs; the scanned link has it where no browser sends it."""
    house.open()
    visitor = house.over()
    answer = visitor.get(f"/enter?code={house.network.code}&to=%2Fjob%2Fbox%2Fbench")

    assert "set-cookie" not in answer.headers
    assert "refresh" not in answer.headers
    assert visitor.get("/", headers={"accept": "*/*"}).status_code == 401


def test_a_token_ends_by_time(house: House) -> None:
    clock = house.network.clock = Clock()
    house.open()
    visitor = house.over()
    visitor.post("/enter", data={"code": house.network.code})
    clock.now += 86_399
    assert visitor.get("/").status_code == 200
    clock.now += 2

    assert visitor.get("/", headers={"accept": "*/*"}).status_code == 401


def test_many_tokens_fill_no_memory(house: House) -> None:
    house.open()
    tokens = [house.network.enter(house.network.code, LAN) or "" for _ in range(600)]

    assert len(house.network._tokens) == 500
    assert house.network.admits(tokens[-1])
    assert not house.network.admits(tokens[0])


@pytest.mark.parametrize(
    "to", ["//evil.example", "https://evil.example", "/\\evil.example", "javascript:x", "/a\r\nx: y"]
)
def test_the_link_leads_nowhere_else(house: House, to: str) -> None:
    house.open()
    answer = house.over().post("/enter", data={"code": house.network.code, "to": to})

    assert answer.headers["refresh"] == "0; url=/"


def test_wrong_codes_make_one_wait_but_not_for_ever(house: House) -> None:
    house.open()
    visitor = house.over()
    for _ in range(5):
        assert visitor.post("/enter", data={"code": "wrongone"}).status_code == 401
    shut = visitor.post("/enter", data={"code": house.network.code})

    assert shut.status_code == 429
    assert int(shut.headers["retry-after"]) <= 16
    assert "try again in" in shut.text
    house.clock.now += 16
    assert visitor.post("/enter", data={"code": house.network.code}).status_code == 200


def test_each_further_wrong_code_waits_twice_as_long_up_to_ten_minutes() -> None:
    clock = Clock()
    lock = LockOut(clock=clock)
    waits = []
    for _ in range(16):
        lock.wrong("tablet")
        waits.append(lock.wait_s("tablet"))
        clock.now += lock.wait_s("tablet")

    assert waits[:4] == [0, 0, 0, 0]
    assert waits[4:10] == [15, 30, 60, 120, 240, 480]
    assert set(waits[10:]) == {600}
    assert lock.wait_s("another tablet") == 0
    clock.now += 3601
    lock.wrong("tablet")
    assert lock.wait_s("tablet") == 0


def test_many_callers_fill_no_memory() -> None:
    lock = LockOut(clock=Clock())
    for number in range(2100):
        lock.wrong(str(number))

    assert len(lock._callers) <= 2000


def test_a_guessed_cookie_lets_no_one_in(house: House) -> None:
    house.open()
    visitor = house.over()

    for cookie in (house.network.code, "", "\u00e9"):
        headers = {b"cookie": f"{code_cookie(house.network.addresses[0])}={cookie}".encode()}
        assert visitor.get("/", headers=headers).status_code == 401


def test_the_cookie_of_another_server_on_this_machine_takes_no_ones_place(house: House) -> None:
    """A browser keeps cookies by the host alone: what a second server at another port gives is sent along.

    Not every server writes its cookies as the standard has it: what makes no sense takes ours not away.
    """
    house.open()
    visitor = house.over()
    visitor.post("/enter", data={"code": house.network.code})
    (mine,) = visitor.cookies.keys()

    visitor.cookies.set(code_cookie(f"{LAN}:8099"), '{"of": "the other, server"')

    assert mine == f"storyrod-code-{house.network.addresses[0].rpartition(':')[2]}"
    assert len(visitor.cookies) == 2
    assert visitor.get("/").status_code == 200


def test_closing_makes_the_code_and_every_cookie_worthless(house: House) -> None:
    house.open()
    visitor = house.over()
    visitor.post("/enter", data={"code": house.network.code})
    old_code, old_listener = house.network.code, house.started[-1]
    assert visitor.get("/").status_code == 200
    house.close()

    assert old_listener.stopped
    assert visitor.get("/", headers={"accept": "*/*"}).status_code == 401
    house.open()
    assert visitor.get("/", headers={"accept": "*/*"}).status_code == 401
    assert house.over().post("/enter", data={"code": old_code}).status_code == 401


def test_only_the_computer_itself_opens_and_closes(house: House) -> None:
    house.open()
    visitor = house.over()
    visitor.post("/enter", data={"code": house.network.code})
    answer = visitor.post("/network", data={"do": "close"})

    assert answer.status_code == 403
    assert house.network.is_open


@pytest.mark.parametrize("host", ["evil.example:8021", "127.0.0.1:8021", f"{LAN}:80", "198.51.100.8:8021"])
def test_only_this_machines_own_names_are_answered(house: House, host: str) -> None:
    house.open()

    assert house.over().get("/enter", headers={"host": host}).status_code == 421


def test_another_site_can_not_give_the_code_or_open(house: House) -> None:
    evil = {"origin": "http://evil.example"}
    assert house.local.post("/network", data={"do": "open"}, headers=evil).status_code == 403
    house.open()

    assert house.over().post("/enter", data={"code": house.network.code}, headers=evil).status_code == 403


def test_the_codes_page_is_for_the_network_only(house: House) -> None:
    assert house.local.get("/enter", follow_redirects=False).headers["location"] == "/"


def test_the_bench_shows_address_code_and_picture_here_but_not_there(house: House, tmp_path: Path) -> None:
    from storyrod.adapters.web.first_visit import EXAMPLE, prepare

    prepare(tmp_path / "jobs")
    assert "Open it to the network" in house.local.get(f"/job/{EXAMPLE}/bench").text
    house.open()
    visitor = house.over()
    visitor.post("/enter", data={"code": house.network.code})
    here, there = house.local.get(f"/job/{EXAMPLE}/bench").text, visitor.get(f"/job/{EXAMPLE}/bench").text
    spoken = f"{house.network.code[:4]} {house.network.code[4:]}"

    assert f"http://{LAN}:8021" in here
    assert spoken in here
    assert "Picture to scan" in here
    assert spoken not in there
    assert house.network.code not in there
    assert "came in over the workshop" in there


def test_a_computer_in_no_network_says_so(house: House, tmp_path: Path) -> None:
    house.network._find = tuple
    answer = house.local.post("/network", data={"do": "open", "back": "/"}, follow_redirects=False)

    assert "trouble=no%20address" in answer.headers["location"]
    assert not house.network.is_open


def test_nonsense_opens_nothing(house: House) -> None:
    assert house.local.post("/network", data={"do": "both"}).status_code == 422
    assert house.local.post("/network", data={}).status_code == 422
    assert not house.network.is_open


def test_a_page_that_is_served_otherwise_can_not_be_opened() -> None:
    with pytest.raises(JobError, match="storyrod open"):
        run_alone(Network().open())


def test_addresses_are_of_networks() -> None:
    for address in own_addresses():
        assert re.fullmatch(r"\d+(\.\d+){3}", address)
        assert not address.startswith("127.")


def test_the_picture_holds_the_link() -> None:
    """The drawn squares are the very modules of the code; nothing but them is dark."""
    import segno

    link = f"http://{LAN}:8021/enter#code=abcdefgh&to=%2Fjob%2Fbox%2Fbench"
    drawn = {(int(x) - 4, int(y) - 4) for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", picture(link))}
    wanted = segno.make(link, error="m", micro=False).matrix

    assert drawn == {(x, y) for y, row in enumerate(wanted) for x, dark in enumerate(row) if dark}
    assert "style" not in picture(link)


def run_alone[T](work: Coroutine[Any, Any, T]) -> T:
    """Run in a thread of its own: the browser tests of the same process keep a loop in this one."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, work).result()


def test_a_second_listener_serves_and_is_gone_when_closed(tmp_path: Path) -> None:
    """With real sockets, on this machine's own address in place of one in a network."""
    settings = Settings(jobs=tmp_path / "jobs", home=tmp_path / "home", hosts=local_hosts(8021))
    app = bare_app(settings)
    network: Network = app.state.desk.network

    def ask(address: str) -> int:
        try:
            with urllib.request.urlopen(f"{address}/enter", timeout=5) as answer:
                return int(answer.status)
        except urllib.error.HTTPError as error:
            return error.code

    async def walk() -> tuple[int, bool]:
        network.attach(app, start_listener, port=_free_port(), find=lambda: ("127.0.0.1",))
        await network.open()
        address = network.addresses[0]
        status = await asyncio.to_thread(ask, address)
        await network.close()
        port = int(address.rsplit(":", 1)[1])
        return status, await asyncio.to_thread(_answers, port)

    assert run_alone(walk()) == (200, False)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _answers(port: int) -> bool:
    try:
        connection = HTTPConnection("127.0.0.1", port, timeout=2)
        connection.request("GET", "/enter")
        connection.getresponse()
    except OSError:
        return False
    return True


def test_the_command_opens_nothing_unless_asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    asked: list[bool] = []
    monkeypatch.setenv("STORYROD_HOME", str(tmp_path))
    monkeypatch.setattr("storyrod.adapters.web.serving.serve", lambda **told: asked.append(told["network"]))
    main(["open", "--no-browser"])
    main(["open", "--no-browser", "--network"])

    assert asked == [False, True]
