"""Every route of the page, found in the app itself so that none is forgotten: good requests, and hostile ones.

Whatever is asked, the answer is in words: never a mistake of ours (500), a traceback, or a path of the machine.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, Final
from urllib.parse import quote

import pytest
from starlette.routing import BaseRoute, Mount, Route, WebSocketRoute
from starlette.testclient import TestClient, WebSocketDenialResponse

from storyrod.adapters.files._lines import path_text
from storyrod.adapters.files.editing import Change, Value, edit_job
from storyrod.adapters.web import Settings, make_app
from storyrod.adapters.web._app import bare_app
from storyrod.adapters.web._settings import local_hosts
from storyrod.adapters.web._stages import STAGES
from tests.places import EXAMPLES, ROOT
from tests.unit.web.conftest import ADDRESS, AS_SCRIPT

SAMPLES: Final = {
    "job": "first-box",
    "token": "1a2b3c",
    "group": "saw",
    "case": "A",
    "name": "plan.json",
    "paper": "buying-list.pdf",
    "photo": "0" * 32 + ".png",
    "path": "page.css",
}
"""A good value of each part of an address that changes; a route with a part that is not here fails the test."""

QUERIES: Final = {
    "/job/{job}/joints/options": "?of=corner",
    "/job/{job}/study/file/{name}": "?field=cases[0].width&from=390&to=400&step=10",
}
"""What an address needs after its question mark to be answered with more than words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """A route: the methods that it takes, and the address with its changing parts in braces."""

    methods: frozenset[str]
    path: str

    @property
    def parts(self) -> tuple[str, ...]:
        """The names of the parts that change."""
        return tuple(name.partition(":")[0] for name in re.findall(r"\{([^}]+)\}", self.path))

    def address(self, **values: str) -> str:
        """Return the address with values in the place of its parts, which are given as they stand in an address."""
        return re.sub(
            r"\{([^}:]+)(:[^}]*)?\}", lambda m: values[m[1]] if m[1] in values else quote(SAMPLES[m[1]]), self.path
        )

    def good(self) -> str:
        """Return an address that is answered with more than words."""
        values = {"path": "B612-Regular.otf"} if self.path.startswith("/static/fonts") else {}
        values |= {"name": "study.toml"} if "/study/file/" in self.path else {}
        return self.address(**values) + QUERIES.get(self.path, "")

    def __str__(self) -> str:
        return f"{'+'.join(sorted(self.methods - {'HEAD'}))} {self.path}"


def routes_of(routes: list[BaseRoute], before: str = "") -> Iterator[Found]:
    """Yield every route, those inside others too; what serves files as they lie takes any path."""
    for route in routes:
        if isinstance(route, Mount):
            inner = list(route.routes)
            if inner:
                yield from routes_of(inner, before + route.path)
            else:
                yield Found(methods=frozenset({"GET", "HEAD"}), path=f"{before}{route.path}/{{path:path}}")
        elif isinstance(route, WebSocketRoute):
            yield Found(methods=frozenset({"SOCKET"}), path=before + route.path)
        elif isinstance(route, Route):
            yield Found(methods=frozenset(route.methods or ()), path=before + route.path)
        else:
            raise TypeError(f"a route of a kind that this walk does not know: {route!r}")


NOWHERE: Final = Settings(jobs=ROOT / "no-such-folder", home=ROOT / "no-such-folder", hosts=frozenset())
ALL: Final = tuple(routes_of(list(bare_app(NOWHERE).routes)))
ASKED: Final = tuple(f for f in ALL if "GET" in f.methods)
SENT: Final = tuple(f for f in ALL if "POST" in f.methods)
SOCKETS: Final = tuple(f for f in ALL if "SOCKET" in f.methods)
CHANGING: Final = tuple((f, part) for f in ALL if "SOCKET" not in f.methods for part in f.parts)

HOSTILE: Final = (
    "..%2F..%2F..%2Fetc%2Fpasswd",
    "%2e%2e%2f%2e%2e%2fsecret",
    "..%5c..%5csecret",
    "%2Fetc%2Fpasswd",
    "secret%00",
    "%00",
    "%0d%0aSet-Cookie:%20a=b",
    "x" * 3000,
    "%3Cscript%3Ealert(1)%3C%2Fscript%3E",
    "%ff%fe",
    "%F0%9F%8E%B5" * 80,
    "con",
    ".hidden",
    "*",
)

EVIL: Final = "<script>alert(1)</script><img src=x onerror=alert(2)>\"'&"
"""A text for every name that a maker may give."""


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that holds jobs and home, with a secret beside them."""
    folder = tmp_path_factory.mktemp("every-route")
    (folder / "jobs").mkdir()
    (folder / "secret.toml").write_text("cases = []\nword = 'the secret of the altos'\n", encoding="utf-8")
    (folder / "jobs" / ".hidden.toml").write_text("cases = []\nword = 'the secret of the altos'\n", encoding="utf-8")
    shutil.copy(EXAMPLES / "first-box.toml", folder / "jobs")
    (folder / "jobs" / "first-box.notes").mkdir()
    (folder / "jobs" / "first-box.notes" / SAMPLES["photo"]).write_bytes(b"\x89PNG\r\n\x1a\n")
    return folder


@pytest.fixture(scope="module")
def client(place: Path) -> Iterator[TestClient]:
    """One page for all routes."""
    settings = Settings(jobs=place / "jobs", home=place / "home", hosts=local_hosts(8021), polling_s=5.0)
    with TestClient(
        make_app(settings), base_url=ADDRESS, raise_server_exceptions=False, follow_redirects=False
    ) as opened:
        yield opened


def in_words(response: Any, place: Path, *, what: str = "") -> str:
    """Return the text of an answer, which must be in words: no mistake of ours, nothing of the machine."""
    kind = response.headers.get("content-type", "")
    text = response.text if kind.startswith(("text/", "application/json", "image/svg")) else ""
    told = f"{what} {response.status_code} {text[:400]}"
    assert response.status_code < 500, told
    for secret in (
        "Traceback (most recent",
        'File "',
        str(place),
        str(ROOT),
        "site-packages",
        "the secret of the altos",
    ):
        assert secret not in text, f"{secret} in {told}"
    assert "set-cookie" not in response.headers or "a=b" not in response.headers["set-cookie"]
    if response.status_code >= 400:
        assert text.strip(), told
    assert "default-src 'none'" in response.headers["content-security-policy"]
    return text


def test_the_walk_finds_the_routes() -> None:
    paths = {f.path for f in ALL}

    assert {"/", "/workshop", "/job/{job}/change", "/job/{job}/live", "/static/{path:path}"} <= paths
    assert {f"/job/{{job}}/{stage.key}" for stage in STAGES} <= paths
    unknown = {part for f in ALL for part in f.parts} - set(SAMPLES)
    assert not unknown, f"give a sample in SAMPLES of: {', '.join(sorted(unknown))}"


@pytest.mark.parametrize("found", ASKED, ids=str)
def test_a_good_request_is_answered(client: TestClient, place: Path, found: Found) -> None:
    address = found.good()
    response = client.get(address)

    in_words(response, place, what=address)
    assert response.status_code in {200, 303}, response.text[:500]


@pytest.mark.parametrize(("found", "part"), CHANGING, ids=str)
def test_a_name_that_leads_elsewhere_leads_nowhere(client: TestClient, place: Path, found: Found, part: str) -> None:
    before = {p: p.read_bytes() for p in (place / "jobs").rglob("*.*") if p.is_file()}
    for name in HOSTILE:
        address = found.address(**{part: name})
        for headers in ({}, AS_SCRIPT):
            response = (
                client.get(address, headers=headers)
                if "GET" in found.methods
                else client.post(address, headers=headers)
            )
            text = in_words(response, place, what=address)
            assert response.status_code in {303, 400, 404, 405, 422}, (address, response.status_code, text[:300])
            assert "<script>alert" not in text or response.headers["content-type"].startswith(
                ("application/json", "text/plain")
            )
    assert {p: p.read_bytes() for p in (place / "jobs").rglob("*.*") if p.is_file()} == before


WEB: Final = ROOT / "src" / "storyrod" / "adapters" / "web"
_ASKS: Final = re.compile(r'(?:query|query_params)\.get(?:list)?\("([^"]+)"')
QUESTIONS: Final = tuple(sorted({n for p in WEB.rglob("*.py") for n in _ASKS.findall(p.read_text("utf-8"))}))
"""Every name that an address may give after its question mark, as the views ask for them."""

ODD_WORDS: Final = (
    *("", "nan", "1e999", "-1", "9" * 400, "0", "x" * 1200, "../../secret", "\0", EVIL, "\u202e\ud7ff", "1;2", "[]"),
)


@pytest.mark.parametrize("found", ASKED, ids=str)
def test_odd_questions_are_answered_in_words(client: TestClient, place: Path, found: Found) -> None:
    assert {"mark", "case", "width"} <= set(QUESTIONS)
    for words in ODD_WORDS:
        for headers in ({}, AS_SCRIPT):
            response = client.get(found.address(), params=dict.fromkeys(QUESTIONS, words), headers=headers)
            text = in_words(response, place, what=f"{found} {words[:40]!r}")
            if response.headers.get("content-type", "").startswith("text/html"):
                _check_harmless(text, f"{found} {words[:40]!r}")


BODIES: Final[tuple[tuple[str, bytes], ...]] = (
    ("application/json", b""),
    ("application/json", b"[]"),
    ("application/json", b"{}"),
    ("application/json", b'{"a":' * 2000 + b"1" + b"}" * 2000),
    (
        "application/json",
        b'{"base": 1e999, "changes": {"a": null}, "by": "x", "act": [], "code": {}, "file": 3, "job": null}',
    ),
    ("application/json", b'{"base": "", "by": 9999999999999999999999, "events": [1, null, "x"], "ticks": "\\u0000"}'),
    ("application/json", b"\xff\xfe\x00"),
    (
        "application/json",
        b'{"base": "\\ud800", "file": "\\ud800", "title": "\\ud800", "text": "\\ud800", "name": "\\ud800"}',
    ),
    ("application/x-www-form-urlencoded", b""),
    (
        "application/x-www-form-urlencoded",
        b"title=%00&by=x&act=%FF&file=..%2Fsecret&code=%3Cscript%3E&width=1e999&height=-1",
    ),
    ("multipart/form-data; boundary=x", b"--x\r\nnonsense"),
    (
        "multipart/form-data; boundary=x",
        b'--x\r\nContent-Disposition: form-data; name="title"; filename="a"\r\n\r\nz\r\n--x--\r\n',
    ),
    ("text/plain", b"words"),
)


@pytest.mark.parametrize("found", SENT, ids=str)
def test_nonsense_that_is_sent_is_told_and_breaks_nothing(client: TestClient, place: Path, found: Found) -> None:
    job = place / "jobs" / "first-box.toml"
    for kind, body in BODIES:
        for headers in ({}, AS_SCRIPT):
            before = (
                job.read_bytes() if job.exists() else shutil.copy(EXAMPLES / "first-box.toml", job) and job.read_bytes()
            )
            response = client.post(found.address(), content=body, headers={"content-type": kind, **headers})
            in_words(response, place, what=f"{found} {kind} {body[:60]!r}")
            if response.status_code >= 400 and job.exists():
                assert job.read_bytes() == before, (found, body)
    assert in_words(client.get("/"), place)


@pytest.mark.parametrize("found", [f for f in ALL if "SOCKET" not in f.methods], ids=str)
def test_what_comes_from_elsewhere_is_turned_away(client: TestClient, place: Path, found: Found) -> None:
    method = "POST" if found in SENT else "GET"
    foreign = client.request(method, found.address(), headers={"host": "evil.example"})
    assert foreign.status_code == 421
    in_words(foreign, place)
    if found in SENT:
        for headers in ({"origin": "http://evil.example"}, {"origin": "null"}, {"sec-fetch-site": "cross-site"}):
            sent = client.post(found.address(), headers=headers)
            assert sent.status_code == 403
            in_words(sent, place)


@pytest.mark.parametrize("found", SOCKETS, ids=str)
def test_no_socket_is_opened_for_a_page_from_elsewhere(client: TestClient, found: Found) -> None:
    for headers in ({"origin": "http://evil.example"}, {"host": "evil.example"}):
        with (
            pytest.raises(WebSocketDenialResponse) as refused,
            client.websocket_connect(found.address(), headers=headers),
        ):
            pass
        assert refused.value.status_code in {403, 421}


@pytest.mark.parametrize("path", sorted({f.path for f in ALL if "SOCKET" not in f.methods}))
def test_a_method_that_is_not_meant_is_told(client: TestClient, place: Path, path: str) -> None:
    taken = frozenset().union(*(f.methods for f in ALL if f.path == path))
    address = Found(methods=taken, path=path).address()
    for method in {"GET", "POST", "PUT", "DELETE", "PATCH", "TRACE"} - taken:
        for headers in ({}, AS_SCRIPT):
            response = client.request(method, address, headers=headers)
            in_words(response, place, what=f"{method} {address}")
            assert response.status_code in {404, 405}, (method, address)


@pytest.mark.parametrize("found", SENT, ids=str)
def test_fifty_megabytes_are_turned_away(client: TestClient, place: Path, found: Found) -> None:
    said = client.post(
        found.address(), content=b"x", headers={"content-length": "50000000", "content-type": "text/plain"}
    )

    assert said.status_code == 413
    in_words(said, place)


def test_fifty_megabytes_that_hide_their_length_are_turned_away(client: TestClient, place: Path) -> None:
    block = b"x" * 1_000_000
    headers = {"content-type": "application/json"}
    for address in ("/job/first-box/change", "/new", "/workshop/saw"):
        response = client.post(address, content=(block for _ in range(50)), headers=headers)
        assert response.status_code == 413
        in_words(response, place)


# Jobs that are not as they should be ----------------------------------------------------------------------------------


def evil_job() -> str:
    """Return a job in which every name is an attempt to be run."""
    name = json.dumps(EVIL)
    return f"""
format = 1
title = {name}
workshop = "evil-workshop.toml"
[methods]
corner = {name}
mid_panel = {name}
[boards.{name}]
name = {name}
kind = "plywood"
thickness = 18
sheets = [{{ length = 2500, width = 1250, price = 50 }}]
[[cases]]
code = "A"
name = {name}
board = {name}
width = 600
height = 700
depth = 400
drawers = {{ board = {name}, bottom_board = "thin", runner = {name} }}
inside = {{ rows = [{{ height = 180, holds = "drawer" }}, {{ loose_shelves = 1 }}] }}
[boards.thin]
kind = "plywood"
thickness = 6
"""


def evil_workshop() -> str:
    """Return a workshop in which every name is an attempt to be run."""
    method: dict[str, Value] = {"like": "dowels", "name": EVIL, "note": EVIL, "shows": EVIL}
    tool: dict[str, Value] = {"kind": "router", "name": EVIL}
    rack: dict[str, Value] = {"board": EVIL[:60], "length": 900, "width": 400}
    runner: dict[str, Value] = {"name": EVIL, "mount": "side", "lengths": [250, 300, 350]}
    changes = (("methods", method), ("tools", tool), ("rack", rack), ("runners", runner))
    text = f"format = 1\nname = {json.dumps(EVIL)}\n"
    return edit_job(text, [Change(path=path_text((group, EVIL)), value=value) for group, value in changes])


@pytest.fixture(scope="module")
def evil(client: TestClient, place: Path) -> str:
    """A job and its workshop, all of whose names are attempts to be run."""
    (place / "jobs" / "evil-workshop.toml").write_text(evil_workshop(), encoding="utf-8")
    (place / "jobs" / "evil.toml").write_text(evil_job(), encoding="utf-8")
    return "evil"


def test_the_evil_job_can_be_built(client: TestClient, place: Path, evil: str) -> None:
    """Else the tests below would only look at faults."""
    told = client.get(f"/job/{evil}/brief").text

    assert "to fix before this can be built" not in told
    assert "alert(1)" in unescape(told)


@pytest.mark.parametrize("found", [f for f in ASKED if "job" in f.parts], ids=str)
def test_no_name_is_ever_run(client: TestClient, place: Path, evil: str, found: Found) -> None:
    response = client.get(found.address(job=evil) + QUERIES.get(found.path, ""))
    text = in_words(response, place, what=str(found))
    kind = response.headers.get("content-type", "")

    pieces = _pieces(response.json()) if kind.startswith("application/json") else [text]
    if not kind.startswith("text/plain"):
        for piece in pieces:
            _check_harmless(piece, str(found))


def _check_harmless(text: str, what: str) -> None:
    """A piece of a page runs nothing but our own files, whatever names are shown in it."""
    assert "<script>alert" not in text, what
    assert "<img src=x" not in text, what
    read = Elements()
    read.feed(text)
    for tag, given in read.found:
        assert not any(name.startswith("on") for name in given), (what, tag, given)
        assert "style" not in given, (what, tag, given)
        assert tag != "style", what
        runs = given.get("type") != "application/json"  # a block of figures, which no browser runs
        assert tag != "script" or not runs or str(given.get("src")).startswith("/"), (what, given)
        for name in ("href", "src", "action", "formaction"):
            assert not str(given.get(name) or "").lower().startswith(("javascript:", "http", "//")), (what, tag, given)


class Elements(HTMLParser):
    """Every element of a page with its attributes."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))


def _pieces(told: Any) -> Iterator[str]:
    """Yield what an answer puts into the page as it is."""
    for html in (told.get("swap") or {}).values() if isinstance(told, dict) else ():
        yield str(html)


@pytest.mark.parametrize(
    "address", ["/", "/workshop", "/workshop/tools?file=evil-workshop", "/workshop/rack?file=evil-workshop"]
)
def test_no_name_is_run_on_the_other_pages(client: TestClient, place: Path, evil: str, address: str) -> None:
    _check_harmless(in_words(client.get(address), place), address)


_BOARD: Final = b"[boards.b]\nkind = 'plywood'\nthickness = 18\n"
_CASE: Final = b"[[cases]]\ncode = 'A'\nboard = 'b'\n"
_USUAL: Final = _CASE + b"width = 600\nheight = 600\ndepth = 400\n"

ODD: Final[dict[str, bytes]] = {
    "no-cases": b"format = 1\ntitle = 'Nothing yet'\ncases = []\n",
    "empty": b"",
    "no-toml": b"[[[ = nonsense",
    "no-text": b"\xff\xfe\x00\x01",
    "deep": b"a = " + b"[" * 3000 + b"]" * 3000,
    "wrong": b"title = 3\nunits = 'ells'\n" + _CASE + b"width = 'wide'\nheight = -4\n",
    "too-small": _BOARD + _CASE + b"width = 90\nheight = 90\ndepth = 60\ninside = { rows = [{}, {}, {}, {}, {}] }\n",
    "no-joint": _BOARD + b"[methods]\ncorner = 'nothing'\n" + _USUAL,
    "huge": _BOARD + _CASE + b"width = 9e99\nheight = 600\ndepth = 400\n",
    "lost-workshop": b"workshop = '../../etc/passwd'\n" + _BOARD + _USUAL,
}


@pytest.fixture(scope="module", params=sorted(ODD))
def odd(request: pytest.FixtureRequest, place: Path, client: TestClient) -> str:
    """A job that cannot be read, or not be built."""
    name = str(request.param)
    (place / "jobs" / f"{name}.toml").write_bytes(ODD[name])
    return name


def test_a_job_that_can_not_be_built_is_told_on_every_page(client: TestClient, place: Path, odd: str) -> None:
    for found in ASKED:
        if "job" not in found.parts:
            continue
        address = found.address(job=odd) + QUERIES.get(found.path, "")
        response = client.get(address)
        text = in_words(response, place, what=address)
        is_stage = found.path.removeprefix("/job/{job}/") in {s.key for s in STAGES}
        unreadable = odd == "no-text"
        wanted = {200, 422} if unreadable or not is_stage else {200}
        assert response.status_code in wanted | (set() if is_stage else {303, 404}), (address, text[:300])
        if is_stage and odd != "too-small":
            assert "found" in text.lower() or "no case" in text.lower(), address


def test_a_job_that_can_not_be_built_is_in_the_list(client: TestClient, place: Path, odd: str) -> None:
    assert f"/job/{odd}" in in_words(client.get("/"), place)


def test_changing_a_job_that_can_not_be_built_is_told_or_mends_it(client: TestClient, place: Path, odd: str) -> None:
    body = {"base": "", "stage": "brief", "changes": [{"path": "title", "value": "mended"}]}
    response = client.post(f"/job/{odd}/change", json=body, headers=AS_SCRIPT)

    in_words(response, place)
    assert response.status_code in {200, 409, 422}
