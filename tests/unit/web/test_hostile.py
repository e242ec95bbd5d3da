"""What no page of ours sends is refused in words, on every route: never with a mistake of ours."""

from __future__ import annotations

import asyncio
import json
import random
from typing import Any

import pytest
from starlette.routing import Route

from tests.unit.web.conftest import AS_SCRIPT, SOCKETS, Asked

JOB = "first-box"

ODD: tuple[Any, ...] = (
    None, True, -1, 0, 2**70, 10**4000, 1e308, "", "x", "9" * 5000, "\u0000", "a" * 3000, [], [[]], {},
    {"a": {"b": []}}, "../" * 30, "=1+1", "<script>", "cases[0]", "cases[99999999]", "a" + ".a" * 2000, "[" * 2000,
    [1, "a", None],
)  # fmt: skip
"""Values that a field of a body may hold."""

KEYS = (
    "base", "stage", "view", "changes", "act", "do", "at", "path", "value", "by", "id", "ticks", "stretches", "since",
    "who", "text", "title", "name", "job", "file", "code", "token", "width", "height", "depth", "method", "size",
    "case", "show", "room", "part", "used", "labels", "paper", "seconds", "reading", "kind", "set-up", "copy", "thing",
)  # fmt: skip


def routes_of(asked: Asked) -> list[Route]:
    """Return every route of the app, from the app itself."""
    found = asked.client.app.app.routes  # type: ignore[attr-defined]  # the guard's own app
    return [r for r in found if isinstance(r, Route)]


def addresses(route: Route, job: str) -> list[str]:
    known = {"job": job, "name": job}
    path = route.path
    for name in route.param_convertors:
        path = path.replace(f"{{{name}:path}}", "x").replace(f"{{{name}}}", known.get(name, "x"))
    return [path]


@pytest.mark.parametrize("seed", range(2))
def test_odd_bodies_and_queries_on_every_route_are_no_mistake_of_ours(asked: Asked, seed: int) -> None:
    asked.take(JOB)
    asked.take("low-units")
    chance = random.Random(seed)
    broken = []
    for route in routes_of(asked):
        for address in addresses(route, chance.choice([JOB, "low-units", "choir-workshop", "nowhere", "%FF", "."])):
            if "quit" in address or "network" in address:
                continue
            for method in sorted(route.methods or {"GET"}):
                body = {k: chance.choice(ODD) for k in chance.sample(KEYS, 8)}
                if method == "POST":
                    sent = json.dumps(body)
                    headers = {**AS_SCRIPT, "content-type": "application/json"}
                    answer = asked.client.post(address, content=sent, headers=headers, follow_redirects=False)
                elif method == "GET":
                    query = {k: str(v)[:2000] for k, v in body.items()}
                    answer = asked.client.get(address, params=query, headers=AS_SCRIPT, follow_redirects=False)
                else:
                    continue
                if answer.status_code >= 500 and answer.status_code != 503:
                    broken.append((method, address, {k: str(v)[:40] for k, v in body.items()}))
    assert broken == []


@pytest.mark.parametrize(
    ("address", "status"),
    [
        ("/job/first-box/prints?used=" + "9" * 5000, 422),
        ("/jobs/choir-workshop/card", 404),
        ("/job/first-box/brief?case=" + "9" * 5000, 200),
        ("/job/first-box/brief?at=cases[0].inside" + ".rows[0]" * 2000, 200),
        ("/job/first-box/bench/words?since=" + "9" * 5000, 200),
    ],
)
def test_addresses_that_were_a_mistake_of_ours(asked: Asked, address: str, status: int) -> None:
    asked.take(JOB)
    asked.take("low-units")

    assert asked.client.get(address).status_code in {status, 404, 422}


@pytest.mark.parametrize("body", [{"by": []}, {"by": {}}, {"by": [1]}, {"by": True}, {"by": 1.5}])
def test_a_step_by_nothing_is_refused(asked: Asked, body: dict[str, Any]) -> None:
    asked.take(JOB)

    assert asked.client.post(f"/job/{JOB}/step", json=body, headers=AS_SCRIPT).status_code in {200, 422}


@pytest.mark.parametrize(
    "change",
    [
        {"path": "cases[0].width", "act": []},
        {"path": "cases[0].width", "act": {"a": 1}},
        {"path": "cases[0].width", "value": 10**4200},
        {"path": "cases[0].width", "value": [[[[]]]]},
        {"path": ".".join("a" * 2000), "value": 1},
        {"path": "cases[0]" + ".inside.rows[0]" * 600, "value": 1},
        {"path": "[" * 3000, "value": 1},
        {"path": "cases[" + "9" * 5000 + "].width", "value": 1},
    ],
)
def test_changes_of_nothing_are_refused_in_words(asked: Asked, change: dict[str, Any]) -> None:
    asked.take(JOB)
    base = asked.version(JOB)
    sent = json.dumps({"base": base, "stage": "brief", "changes": [change]})
    headers = {**AS_SCRIPT, "content-type": "application/json"}

    answer = asked.client.post(f"/job/{JOB}/change", content=sent, headers=headers)

    assert answer.status_code in {200, 422}


@pytest.mark.parametrize("table", ["edgings", "boards", "cases", "methods", "use", "limits", "overrides", "units"])
@pytest.mark.parametrize("value", ['"x"', "3", "[]", "[[1]]", "{}", "true", "1979-05-27", "[{a = 1}, 2]", "{ x = 3 }"])
def test_the_brief_of_a_job_whose_tables_are_none_is_shown(asked: Asked, table: str, value: str) -> None:
    asked.settings.jobs.mkdir(parents=True, exist_ok=True)
    rest = "" if table == "cases" else "[[cases]]\ncode = 'A'\nboard = 'b'\nfronts = 3\n[cases.inside]\nrows = 4\n"
    asked.job_file("odd").write_text(f"{table} = {value}\n{rest}", encoding="utf-8")

    for stage in ("brief", "text", "brief/pieces", "panels", "sheets", "costs", "bench"):
        assert asked.client.get(f"/job/odd/{stage}", headers=AS_SCRIPT).status_code < 500, stage
    assert asked.client.get("/").status_code == 200


def test_bytes_over_the_socket_are_passed_over(asked: Asked) -> None:
    job = asked.take(JOB)
    asked.version(job)
    with asked.client.websocket_connect(f"{SOCKETS}/job/{job}/live") as socket:
        asked.client.portal.call(asyncio.sleep, 0.3)  # type: ignore[union-attr]  # open while the client is
        socket.send_bytes(b"\xff" * 100)
        socket.send_text("x")
        text = asked.job_file(job).read_text(encoding="utf-8")
        asked.job_file(job).write_text(f"{text}\n# by hand\n", encoding="utf-8")
        assert socket.receive_json()["kind"] == "job"
