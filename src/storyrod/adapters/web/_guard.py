"""Who is let in: a guard around the whole app, so that no route can forget it.

A request must name this machine (else 421: another site's name was pointed here); one that changes something, and every
socket, must come from one of our own pages (else 403); none may bring more than a few megabytes (413), or take long to
bring them (408). On this machine itself a browser must have come by the address of a start (else 401). Where the page
is open to the workshop's network, a caller without the access code is turned away (401) but for the page that asks it.
Every answer carries the headers that keep the browser from loading or running anything that is not ours.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, MutableMapping
from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from storyrod.adapters.web._cookies import cookie_of
from storyrod.adapters.web._doors import let_in
from storyrod.adapters.web._key import Key

MOST_BYTES: Final = 4_000_000
"""No job file, workshop file or form is nearly as large."""

BODY_S: Final = 30.0
"""So long may a request take to bring what it brings."""

DRAINED_BYTES: Final = 16_000_000
DRAINED_S: Final = 10.0
"""So much of what is not wanted is taken all the same: a sender hears an answer only once it has sent everything."""

_TOO_LARGE: Final = f"More than {MOST_BYTES // 1_000_000} MB were sent; nothing was done."

_TOO_SLOW: Final = "What was sent did not come whole in time; nothing was done."

_NOT_YOURS: Final = (
    "This page is for whoever started it: open the address that `storyrod open` shows in its terminal, with its key."
)


def code_cookie(host: str) -> str:
    """Return the name of the cookie that stands for the access code at a host and port, as a request names them.

    Browsers keep cookies by the host's name alone, for all its ports: the port in the name keeps two servers apart.
    """
    return f"storyrod-code-{host.rpartition(':')[2]}"


_SAFE: Final = frozenset({"GET", "HEAD", "OPTIONS"})

_HEADERS: Final = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=()",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """One way in.

    Attributes:
        hosts: the names, with port, by which this machine may be asked for.
        admits: tells whether a code lets its bearer in; None where no code is asked, on this machine itself.
        key: whose browser is let in on this machine itself; None where everybody is, as in tests.
    """

    hosts: frozenset[str]
    admits: Callable[[str], bool] | None = None
    key: Key | None = None


class Guard:
    """Wraps an app; see the module's words."""

    OPEN: Final = ("/enter", "/static/")
    """What a caller without the code may still see: the page that asks for it, and what it is drawn with."""

    def __init__(self, app: ASGIApp, gate: Gate) -> None:
        self.app = app
        self.gate = gate

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] not in {"http", "websocket"}:
            await self.app(scope, receive, send)
            return
        refusal = self._refusal(scope)
        if refusal is not None:
            await _drain(scope, receive)
            await _refuse(refusal, scope, receive, send)
            return
        kept = "no-cache" if scope["path"].startswith("/static/") else "no-store"  # kept, but asked whether it is new
        more = self._more(scope)
        await self.app(scope, _Limited(receive), _with_headers(send, {"Cache-Control": kept, **more}))

    def _more(self, scope: Scope) -> dict[str, str]:
        """Return what an answer carries besides: a cookie that fades is given anew."""
        key, cookies = self.gate.key, Headers(scope=scope).get("cookie", "")
        return {"Set-Cookie": key.given()} if key is not None and key.admits(cookies) and key.fades(cookies) else {}

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if headers.get("host", "") not in self.gate.hosts:
            return PlainTextResponse("This address is not the page's own. Open the one it shows in its terminal.", 421)
        method = scope.get("method", "GET") if scope["type"] == "http" else "SOCKET"
        if method not in _SAFE and not self._from_us(headers):
            return PlainTextResponse("This was sent from another site's page, and nothing was done.", 403)
        turned_away = self._stranger(scope, headers)
        if turned_away is not None:
            return turned_away
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > MOST_BYTES:
            return _too_large()
        return None

    def _stranger(self, scope: Scope, headers: Headers) -> Response | None:
        """Return what a caller is told who is not let in; None for one who is, or who sees no more than anyone may."""
        key, admits, path = self.gate.key, self.gate.admits, scope["path"]
        cookies = headers.get("cookie", "")
        if key is not None and scope.get("method") == "GET":
            to = key.exchange(path, scope.get("query_string", b"").decode("latin-1"))
            if to is not None:
                return Response("", 303, {"Location": to, "Set-Cookie": key.given()})
        known = key is None or key.admits(cookies)
        if known and (admits is None or admits(cookie_of(cookies, code_cookie(headers["host"])))):
            let_in(scope)
            return None
        if not known:
            return None if path.startswith("/static/") else PlainTextResponse(_NOT_YOURS, 401)
        if path.startswith(self.OPEN):
            return None
        return Response("", 303, {"Location": "/enter"}) if _wants_page(scope, headers) else _no_code()

    def _from_us(self, headers: Headers) -> bool:
        """Return whether what changes something was sent by a page of ours, or by no page at all (a script)."""
        origin = headers.get("origin")
        if origin is None:
            return headers.get("sec-fetch-site", "same-origin") in {"same-origin", "none"}
        return urlsplit(origin).netloc in self.gate.hosts and urlsplit(origin).scheme in {"http", "https"}


def _wants_page(scope: Scope, headers: Headers) -> bool:
    return scope.get("method") == "GET" and "text/html" in headers.get("accept", "")


def _no_code() -> Response:
    return PlainTextResponse("The access code is needed: scan the code again, or type it at /enter.", 401)


def _too_large() -> Response:
    return PlainTextResponse(_TOO_LARGE, 413)


async def _refuse(response: Response, scope: Scope, receive: Receive, send: Send) -> None:
    if scope["type"] == "websocket":
        if "websocket.http.response" not in scope.get("extensions", {}):
            await send({"type": "websocket.close"})
            return
        start: Message = {
            "type": "websocket.http.response.start",
            "status": response.status_code,
            "headers": response.raw_headers,
        }
        await send(start)
        await send({"type": "websocket.http.response.body", "body": response.body})
        return
    for name, value in _HEADERS.items():
        response.headers.setdefault(name, value)
    await response(scope, receive, send)


def _with_headers(send: Send, more: dict[str, str]) -> Send:
    async def wrapped(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in (_HEADERS | more).items():
                if name == "Set-Cookie":
                    headers.append(name, value)
                else:
                    headers.setdefault(name, value)
        await send(message)

    return wrapped


async def _drain(scope: Scope, receive: Receive) -> None:
    """Take in what a request brings, up to some megabytes and seconds, before it is turned away."""
    if scope["type"] != "http":
        return
    taken = 0
    try:
        async with asyncio.timeout(DRAINED_S):
            while taken < DRAINED_BYTES:
                message = await receive()
                taken += len(message.get("body", b""))
                if message["type"] != "http.request" or not message.get("more_body", False):
                    return
    except TimeoutError:
        return


class _Limited:
    """Counts what a request brings, for one that does not say its length beforehand, and how long it takes."""

    def __init__(self, receive: Receive) -> None:
        self.receive = receive
        self.bytes = 0
        self.whole = False
        self.until = asyncio.get_running_loop().time() + BODY_S

    async def __call__(self) -> Message:
        if self.whole:
            return await self.receive()  # what comes now is that the caller went away
        try:
            async with asyncio.timeout_at(self.until):
                message = await self.receive()
        except TimeoutError:
            raise HTTPException(408, _TOO_SLOW, {"Connection": "close"}) from None
        self.bytes += len(message.get("body", b"")) if message["type"] == "http.request" else 0
        self.whole = message["type"] != "http.request" or not message.get("more_body", False)
        if self.bytes > MOST_BYTES:
            if not self.whole:  # else nothing more comes, and the answer would wait for it
                await _drain({"type": "http"}, self.receive)
            raise HTTPException(413, _TOO_LARGE)  # answered as any other, where the app reads the body
        return message
