"""The connections of one listener: those of strangers are few and short, so that nobody can take up all there are.

A connection is a stranger's until a request came over it that was let in. There may be so many of one address, and so
many in all; where there are more, the one that came first goes. A request must be told whole in its first lines within
some seconds, and brought whole soon after. Whoever was let in is not counted.

Whoever takes nothing of what is sent for a minute is let go, known or not: a page behind others would hold its line for
as long as its browser runs.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from starlette.types import Scope
from uvicorn.protocols.http.h11_impl import H11Protocol

HEADER_S: Final = 10.0
"""A browser sends the first lines of a request in one go; over a bad radio in some seconds."""

MOST_STRANGERS: Final = 64
MOST_OF_ONE: Final = 48
"""Tablets that come at once through one address, each with a few connections, are still let in."""

UNREAD_S: Final = 60.0
"""A line over which not one byte of what waits could be sent for so long has nobody at its end."""

MARK: Final = "storyrod.connection"


@dataclass(slots=True, eq=False)
class Connection:
    """One connection: where it comes from, and whether it is known."""

    address: str
    close: Callable[[], None]
    is_open: Callable[[], bool]
    known: bool = False


@dataclass(slots=True, kw_only=True)
class Doors:
    """Who stands at one listener."""

    most: int = MOST_STRANGERS
    of_one: int = MOST_OF_ONE
    header_s: float = HEADER_S
    unread_s: float = UNREAD_S
    _there: list[Connection] = field(default_factory=list)

    def came(self, new: Connection) -> None:
        """Take a connection in; where there are too many strangers, the one that came first goes."""
        self._there = [c for c in self._there if c.is_open() and not c.known]
        alike = [c for c in self._there if c.address == new.address]
        gone = alike[0] if len(alike) >= self.of_one else self._there[0] if len(self._there) >= self.most else None
        if gone is not None:
            self._there.remove(gone)
            gone.close()
        self._there.append(new)

    @property
    def last(self) -> Connection | None:
        """The stranger that came last."""
        return self._there[-1] if self._there else None

    @property
    def strangers(self) -> int:
        """How many are there that nobody let in."""
        return sum(1 for c in self._there if c.is_open() and not c.known)

    def protocol(self) -> type[H11Protocol]:
        """Return what the server speaks with at this listener."""
        here = self

        class Spoken(_Watched):
            doors = here

        return Spoken


def let_in(scope: Scope) -> None:
    """Note that a request was let in: its connection is no stranger's."""
    connection = scope.get("state", {}).get(MARK)
    if isinstance(connection, Connection):
        connection.known = True


class _Watched(H11Protocol):
    """Speaks as the server does, and closes what does not say what it wants."""

    doors: Doors
    _ends: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]  # as in the server's own
        """Begin, as a stranger."""
        super().connection_made(transport)
        connection = Connection(
            self.client[0] if self.client else "", transport.abort, lambda: not transport.is_closing()
        )
        self.app_state = {**self.app_state, MARK: connection}
        self.doors.came(connection)
        self._look()
        self._watch(transport, 0)

    def data_received(self, data: bytes) -> None:
        """Take what came, and see whether it is a request by now."""
        super().data_received(data)
        self._look()

    def connection_lost(self, exc: Exception | None) -> None:
        """Forget it."""
        self._let_be()
        super().connection_lost(exc)

    def _watch(self, transport: asyncio.Transport, waited: int) -> None:
        """Let go of a line of which as many bytes wait to be sent as some time ago: nobody takes them.

        It goes on where the line became a socket's, and where it is about to be closed, which waits for them too.
        """
        waits = transport.get_write_buffer_size()
        if waits and waits == waited:
            transport.abort()
        elif waits or not transport.is_closing():
            self.loop.call_later(self.doors.unread_s, self._watch, transport, waits)

    def _look(self) -> None:
        """Wait for the first lines of a request only so long; not while one is answered, nor at a socket."""
        if self._answers() or self.transport.is_closing() or self.transport.get_protocol() is not self:
            self._let_be()
        elif self._ends is None:
            self._ends = self.loop.call_later(self.doors.header_s, self._too_slow)

    def _let_be(self) -> None:
        if self._ends is not None:
            self._ends.cancel()
            self._ends = None

    def _too_slow(self) -> None:
        self._ends = None
        if not self._answers():
            self.transport.abort()

    def _answers(self) -> bool:
        """Return whether a request is being answered; there is none at first."""
        cycle = getattr(self, "cycle", None)
        return cycle is not None and not cycle.response_complete
