"""Who is let in on this machine itself: the browser of whoever started the page, and no other user of the machine.

Each start has a secret of its own. It stands in the address that is opened first, and is exchanged there for a cookie,
whose worth ends by time. Cookies are signed with a second secret, which lies in the page's own folder where nobody but
its owner can read: so pages that are open go on when the page is started anew.
"""

from __future__ import annotations

import contextlib
import hashlib
import hmac
import os
import secrets
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final
from urllib.parse import parse_qsl, quote, urlencode

from storyrod.adapters.web._cookies import cookie_of

PARAMETER: Final = "key"
LASTS_S: Final = 30 * 86_400
"""A browser that was not seen for so long needs the address of a start again."""

FILE: Final = "browser-key"
_BYTES: Final = 32


class Key:
    """The secret of one start of the page at a port, and the cookies that are given for it."""

    def __init__(self, home: Path, port: int, clock: Callable[[], float] = time.time) -> None:
        self.secret = secrets.token_urlsafe(24)
        self.cookie = f"storyrod-here-{port}"  # browsers keep cookies by the host's name alone, for all its ports
        self._signing = _kept(home / FILE)
        self._clock = clock

    def address(self, first: str) -> str:
        """Return a path of the page with the secret of this start."""
        return f"{first}{'&' if '?' in first else '?'}{urlencode({PARAMETER: self.secret})}"

    def exchange(self, path: str, query: str) -> str | None:
        """Return where an address leads that brings the right secret: to itself, without it; None for any other."""
        told = parse_qsl(query, keep_blank_values=True)
        if not any(n == PARAMETER and hmac.compare_digest(v.encode(), self.secret.encode()) for n, v in told):
            return None
        rest = urlencode([(n, v) for n, v in told if n != PARAMETER])
        return f"{quote('/' + path.lstrip('/'))}{'?' if rest else ''}{rest}"

    def admits(self, cookies: str) -> bool:
        """Return whether the cookies of a request are of a browser that brought the secret of a start."""
        return self._until(cookies) > self._clock()

    def fades(self, cookies: str) -> bool:
        """Return whether half the time of a cookie has gone: it is given anew to a browser that is in use."""
        return self._until(cookies) < self._clock() + LASTS_S / 2

    def given(self) -> str:
        """Return a new cookie as the header that sets it.

        It is sent along when a link elsewhere leads here, for a first page is opened from a file; what changes
        something is told from another site's by its origin.
        """
        until = f"{self._clock() + LASTS_S:.0f}"
        value = f"{until}.{self._signed(until)}"
        return f"{self.cookie}={value}; Max-Age={LASTS_S}; Path=/; HttpOnly; SameSite=Lax"

    def _until(self, cookies: str) -> float:
        until, _, signed = cookie_of(cookies, self.cookie).partition(".")
        if not until.isascii() or not until.isdecimal() or len(until) > 15:
            return 0.0
        return float(until) if hmac.compare_digest(signed.encode(), self._signed(until).encode()) else 0.0

    def _signed(self, until: str) -> str:
        told = f"{self.cookie} {until}".encode()
        return hmac.new(self._signing, told, hashlib.sha256).hexdigest()


def _kept(path: Path) -> bytes:
    """Return the secret that lies in a file, made where there is none; one of this start where nothing can be kept."""
    made = secrets.token_bytes(_BYTES)
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        with contextlib.suppress(FileExistsError):
            handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "wb") as file:
                file.write(made)
        found = path.read_bytes() if path.is_file() else b""
        if len(found) == _BYTES and _is_private(path):
            return found
    return made


def _is_private(path: Path) -> bool:
    """Return whether nobody but the owner can read a file (where the system has such rights)."""
    return os.name != "posix" or path.stat().st_mode & 0o077 == 0
