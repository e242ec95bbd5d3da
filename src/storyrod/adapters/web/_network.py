"""The way in from the workshop's network: opened on purpose, with an access code, and closed again.

It is a second listener of the same page, at this machine's own addresses in the network, behind a guard of its own.
Nothing listens there before it is opened. The code is made anew each time; whoever gives it gets a token of their own,
which is worth nothing after a day, or once the way in is closed. Wrong codes are answered ever later, but nobody is
shut out for good.
"""

from __future__ import annotations

import asyncio
import contextlib
import hmac
import secrets
import socket
import time
from collections.abc import Awaitable, Callable, Iterator
from dataclasses import dataclass, field
from typing import Final, Protocol

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from storyrod.adapters.web._certificate import Certificate
from storyrod.adapters.web._guard import Gate, Guard
from storyrod.faults import Fault, JobError

TOKEN_S: Final = 86_400.0
"""A device that came in is asked for the code again after a day."""

MOST_TOKENS: Final = 500

LETTERS: Final = "abcdefghjkmnpqrstuvwxyz23456789"
"""Letters and figures that are not taken for one another."""

CODE_LENGTH: Final = 8
FREE_TRIES: Final = 5
FIRST_WAIT_S: Final = 15.0
LONGEST_WAIT_S: Final = 600.0
FORGET_S: Final = 3600.0
"""A caller who tried nothing for so long begins anew."""

MOST_CALLERS: Final = 2000
MARK: Final = "storyrod.over_network"
"""By this entry of its scope a request is known that came in over the network."""


class Listener(Protocol):
    """What serves an app at sockets until it is stopped."""

    async def stop(self) -> None:
        """Take no more, let go of who is there."""


type Start = Callable[[ASGIApp, list[socket.socket], Certificate | None], Awaitable[Listener]]


@dataclass(slots=True)
class _Tries:
    wrong: int = 0
    last: float = 0.0
    free_at: float = 0.0


@dataclass(slots=True, kw_only=True)
class LockOut:
    """Makes callers wait who give wrong codes: each further one twice as long, up to ten minutes."""

    clock: Callable[[], float] = time.monotonic
    _callers: dict[str, _Tries] = field(default_factory=dict)

    def wait_s(self, caller: str) -> float:
        """Return how long a caller must wait before the next try; 0 for not at all."""
        tries = self._callers.get(caller)
        return max(0.0, tries.free_at - self.clock()) if tries else 0.0

    def wrong(self, caller: str) -> None:
        """Count a wrong code."""
        now = self.clock()
        self._tidy(now)
        tries = self._callers.setdefault(caller, _Tries())
        tries.wrong, tries.last = tries.wrong + 1, now
        if tries.wrong >= FREE_TRIES:
            tries.free_at = now + min(FIRST_WAIT_S * 2 ** (tries.wrong - FREE_TRIES), LONGEST_WAIT_S)

    def right(self, caller: str) -> None:
        """Forget a caller's wrong codes."""
        self._callers.pop(caller, None)

    def _tidy(self, now: float) -> None:
        for caller in [c for c, t in self._callers.items() if now - t.last > FORGET_S]:
            del self._callers[caller]
        while len(self._callers) >= MOST_CALLERS:
            del self._callers[min(self._callers, key=lambda c: self._callers[c].last)]


class Network:
    """Whether the page is open to the network, at which addresses, and with which code."""

    def __init__(self) -> None:
        self.code = ""
        self.addresses: tuple[str, ...] = ()
        self.lock_out = LockOut()
        self.clock: Callable[[], float] = time.monotonic
        self.certificate: Certificate | None = None
        """Where there is one, the way in is encrypted."""
        self._tokens: dict[str, float] = {}
        self._listener: Listener | None = None
        self._app: ASGIApp | None = None
        self._start: Start | None = None
        self._find: Callable[[], tuple[str, ...]] = own_addresses
        self._port = 0
        self._busy = asyncio.Lock()

    def attach(
        self, app: ASGIApp, start: Start, *, port: int, find: Callable[[], tuple[str, ...]] | None = None
    ) -> None:
        """Say which app is served and how a listener is started; without this the way in cannot be opened."""
        self._app, self._start, self._port = app, start, port
        self._find = find or own_addresses

    @property
    def is_open(self) -> bool:
        """Whether anyone can come in over the network."""
        return self._listener is not None

    def admits(self, token: str) -> bool:
        """Return whether a token was given to someone who knew the code of this opening, not longer than a day ago."""
        now = self.clock()
        return self.is_open and any(
            hmac.compare_digest(token.encode(), t.encode()) and now < until for t, until in self._tokens.items()
        )

    def enter(self, typed: str, caller: str) -> str | None:
        """Return a token for the right code; None for a wrong one, which is counted.

        Ask `lock_out.wait_s` first: a caller who must wait gets none, not even for the right code.
        """
        if not self.is_open or self.lock_out.wait_s(caller) > 0:
            return None
        code = "".join(c for c in typed.lower() if c.isalnum())
        if not hmac.compare_digest(code.encode(), self.code.encode()):
            self.lock_out.wrong(caller)
            return None
        self.lock_out.right(caller)
        token = secrets.token_urlsafe(24)
        now = self.clock()
        self._tokens = {t: until for t, until in self._tokens.items() if now < until}
        while len(self._tokens) >= MOST_TOKENS:
            del self._tokens[next(iter(self._tokens))]
        self._tokens[token] = now + TOKEN_S
        return token

    async def open(self) -> None:
        """Listen at this machine's addresses in the network, with a new code; nothing happens where it is open.

        Raises:
            JobError: this machine is in no network, or no port is free there.
        """
        async with self._busy:
            if self._listener is not None:
                return
            if self._app is None or self._start is None:
                raise _closed("a page that is served in another way", "Start it with `storyrod open`.")
            found = await asyncio.to_thread(self._find)
            if not found:
                raise _closed("no address of this computer in a network", "Join it to the workshop's network first.")
            port, sockets = _sockets(found, self._port)
            self.code = "".join(secrets.choice(LETTERS) for _ in range(CODE_LENGTH))
            self._tokens.clear()
            self.addresses = _addresses(found, port, self.certificate)
            named = self.certificate.names if self.certificate is not None else ()
            gate = Gate(hosts=frozenset((*_hosts(found, port), *(f"{n}:{port}" for n in named))), admits=self.admits)
            guard = Guard(_Marked(self._app), gate)
            served = guard if self.certificate is not None else _OverAnOpenLine(guard)
            self._listener = await self._start(served, sockets, self.certificate)

    async def close(self) -> None:
        """Take no one in any more, and let go of who is there; their tokens are worth nothing from now on."""
        async with self._busy:
            listener, self._listener = self._listener, None
            self._tokens.clear()
            self.code, self.addresses = "", ()
            if listener is not None:
                await listener.stop()


class _Marked:
    """Marks what came in over the network, so that a view can tell."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        scope[MARK] = True
        await self.app(scope, receive, send)


class _OverAnOpenLine:
    """Leaves out a header that browsers ignore without encryption, and complain of at every page."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        async def answer(message: Message) -> None:
            if message["type"] == "http.response.start":
                del MutableHeaders(scope=message)["Cross-Origin-Opener-Policy"]
            await send(message)

        await self.app(scope, receive, answer)


def own_addresses() -> tuple[str, ...]:
    """Return this machine's IPv4 addresses in networks, the one that leads outward first; nothing is sent."""
    found: list[str] = []
    with contextlib.suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        probe.connect(("192.0.2.1", 9))  # an address that is nobody's: only the way there is looked up
        found.append(probe.getsockname()[0])
    with contextlib.suppress(OSError):
        found += [str(i[4][0]) for i in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)]
    return tuple(a for a in dict.fromkeys(found) if not a.startswith(("127.", "169.254.", "0.")))


def _addresses(found: tuple[str, ...], port: int, certificate: Certificate | None) -> tuple[str, ...]:
    """Return the addresses of the way in: with a certificate those that it is made for, names before numbers."""
    if certificate is None:
        return tuple(f"http://{a}:{port}" for a in found)
    made_for = [n for n in certificate.names if "*" not in n and (n in found or not n.replace(".", "").isdigit())]
    return tuple(f"https://{a}:{port}" for a in (made_for or found))


def _hosts(addresses: tuple[str, ...], port: int) -> Iterator[str]:
    yield from (f"{a}:{port}" for a in addresses)
    name = socket.gethostname().lower()
    if name and name != "localhost":
        yield from (f"{name}:{port}", f"{name}.local:{port}")


def _sockets(addresses: tuple[str, ...], port: int) -> tuple[int, list[socket.socket]]:
    """Return sockets at all addresses, at one port: that of the page on this machine, or one of the next."""
    for candidate in range(port, port + 20):
        opened: list[socket.socket] = []
        try:
            for address in addresses:
                sock = socket.socket()
                opened.append(sock)
                sock.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
                sock.bind((address, candidate))
                sock.listen()
        except OSError:
            for sock in opened:
                sock.close()
            continue
        return candidate, opened
    raise _closed(f"no free port from {port} on", "Close what uses them, or start the page with another --port.")


def _closed(found: str, do: str) -> JobError:
    allowed = "a computer that is in a network, with a free port"
    return JobError(Fault(code="network-closed", field="network", found=found, allowed=allowed, do=do))
