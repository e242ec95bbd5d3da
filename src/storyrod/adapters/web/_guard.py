"""Who is let in: a guard around the whole app, so that no route can forget it.

A request must name this machine (else 421: another site's name was pointed here); one that changes something, and every
socket, must come from one of our own pages (else 403); none may bring more than a few megabytes (413). Where the page
is open to the workshop's network, a caller without the access code is turned away (401) but for the page that asks it.
Every answer carries the headers that keep the browser from loading or running anything that is not ours.
"""

from __future__ import annotations

from collections.abc import Callable, MutableMapping
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie
from typing import Any, Final
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_BYTES: Final = 4_000_000
"""No job file, workshop file or form is nearly as large."""

_TOO_LARGE: Final = f"More than {MOST_BYTES // 1_000_000} MB were sent; nothing was done."

COOKIE: Final = "storyrod-code"

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
    """

    hosts: frozenset[str]
    admits: Callable[[str], bool] | None = None


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
            await _refuse(refusal, scope, receive, send)
            return
        kept = "no-cache" if scope["path"].startswith("/static/") else "no-store"  # kept, but asked whether it is new
        await self.app(scope, _Limited(receive), _with_headers(send, kept))

    def _refusal(self, scope: Scope) -> Response | None:
        headers = Headers(scope=scope)
        if headers.get("host", "") not in self.gate.hosts:
            return PlainTextResponse("This name is not one of this page's. Open it at the address it told.", 421)
        method = scope.get("method", "GET") if scope["type"] == "http" else "SOCKET"
        if method not in _SAFE and not self._from_us(headers):
            return PlainTextResponse("This was sent from another site's page, and nothing was done.", 403)
        admits = self.gate.admits
        if admits is not None and not scope["path"].startswith(self.OPEN) and not admits(code_of(headers)):
            return Response("", 303, {"Location": "/enter"}) if _wants_page(scope, headers) else _no_code()
        length = headers.get("content-length", "0")
        if not length.isdecimal() or int(length) > MOST_BYTES:
            return _too_large()
        return None

    def _from_us(self, headers: Headers) -> bool:
        """Return whether what changes something was sent by a page of ours, or by no page at all (a script)."""
        origin = headers.get("origin")
        if origin is None:
            return headers.get("sec-fetch-site", "same-origin") in {"same-origin", "none"}
        return urlsplit(origin).netloc in self.gate.hosts and urlsplit(origin).scheme in {"http", "https"}


def code_of(headers: Headers) -> str:
    """Return the access code that a caller's cookie holds; nothing where there is none."""
    try:
        cookie = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return ""
    held = cookie.get(COOKIE)
    return held.value if held is not None else ""


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


def _with_headers(send: Send, kept: str) -> Send:
    async def wrapped(message: MutableMapping[str, Any]) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers.setdefault(name, value)
            headers.setdefault("Cache-Control", kept)
        await send(message)

    return wrapped


class _Limited:
    """Counts what a request brings, for one that does not say its length beforehand."""

    def __init__(self, receive: Receive) -> None:
        self.receive = receive
        self.bytes = 0

    async def __call__(self) -> Message:
        message = await self.receive()
        self.bytes += len(message.get("body", b"")) if message["type"] == "http.request" else 0
        if self.bytes > MOST_BYTES:
            raise HTTPException(413, _TOO_LARGE)  # answered as any other, where the app reads the body
        return message
