"""Firefox as Debian has it, for Playwright: driven by WebDriver BiDi (W3C), with a go-between for what it lacks.

Playwright's own build of Firefox comes from its makers alone; the browser of the distribution does as well, but for one
command that every window begins with and that this Firefox does not know: which colours are preferred. The go-between
starts Firefox, hands every message on, and answers that command itself; dark is asked of Firefox by its own setting.

Playwright starts it as if it were Firefox: `python -m tests.browser.firefox PROGRAM ARGUMENTS ...`.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import os
import shlex
import shutil
import stat
import sys
from pathlib import Path
from typing import Final

from websockets.asyncio.client import ClientConnection, connect
from websockets.asyncio.server import ServerConnection, serve

LISTENS: Final = "WebDriver BiDi listening on "
UNKNOWN: Final = frozenset({"emulation.setMediaFeaturesOverride"})
"""Commands that are answered here: without them a window is as Firefox's settings have it."""


def find_firefox() -> str | None:
    """Return the Firefox for browser tests: the one that STORYROD_FIREFOX names, else the one on PATH."""
    named = os.environ.get("STORYROD_FIREFOX")
    return shutil.which(named) if named else shutil.which("firefox-esr") or shutil.which("firefox")


def is_asked_for() -> bool:
    """Return whether more than the short walk is to be done in Firefox."""
    return bool(os.environ.get("STORYROD_FIREFOX")) or os.environ.get("STORYROD_BROWSER") == "firefox"


def as_program(firefox: str, folder: Path) -> Path:
    """Write a program into a folder that Playwright can start in the place of Firefox."""
    program = folder / "firefox"
    root = Path(__file__).resolve().parent.parent.parent
    words = shlex.join([sys.executable, "-m", "tests.browser.firefox", firefox])
    program.write_text(
        f'#!/bin/sh\nPYTHONPATH={shlex.quote(str(root))}\nexport PYTHONPATH\nexec {words} "$@"\n', encoding="utf-8"
    )
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    return program


def answered_here(message: str) -> str | None:
    """Return the answer to a command that Firefox is not asked; None for all others."""
    told = json.loads(message)
    if told.get("method") not in UNKNOWN:
        return None
    return json.dumps({"type": "success", "id": told["id"], "result": {}})


async def _to_firefox(playwright: ServerConnection, firefox: ClientConnection) -> None:
    async for message in playwright:
        answer = answered_here(message if isinstance(message, str) else message.decode())
        await (firefox.send(message) if answer is None else playwright.send(answer))


async def _from_firefox(playwright: ServerConnection, firefox: ClientConnection) -> None:
    async for message in firefox:
        await playwright.send(message)


async def _listening(told: asyncio.StreamReader) -> str:
    while line := (await told.readline()).decode("utf-8", "replace"):
        if line.startswith(LISTENS):
            return line.removeprefix(LISTENS).strip()
    raise RuntimeError("Firefox did not begin to listen.")


async def _drain(told: asyncio.StreamReader) -> None:
    while await told.read(65536):
        pass


async def main(words: list[str]) -> int:
    """Start Firefox, tell Playwright where to connect, and hand its messages on until Firefox ends."""
    process = await asyncio.create_subprocess_exec(
        *words, stdin=asyncio.subprocess.DEVNULL, stderr=asyncio.subprocess.PIPE
    )
    assert process.stderr is not None
    address = await _listening(process.stderr)
    draining = asyncio.create_task(_drain(process.stderr))

    async def handle(playwright: ServerConnection) -> None:
        path = playwright.request.path if playwright.request else "/session"
        async with connect(address.rstrip("/") + path, max_size=None, compression=None, ping_interval=None) as firefox:
            ways = [
                asyncio.create_task(_to_firefox(playwright, firefox)),
                asyncio.create_task(_from_firefox(playwright, firefox)),
            ]
            with contextlib.suppress(Exception):
                await asyncio.wait(ways, return_when=asyncio.FIRST_COMPLETED)
            for way in ways:
                way.cancel()

    async with serve(handle, "127.0.0.1", 0, max_size=None, compression=None, ping_interval=None) as server:
        port = next(iter(server.sockets)).getsockname()[1]
        sys.stderr.write(f"{LISTENS}ws://127.0.0.1:{port}\n")
        sys.stderr.flush()
        status = await process.wait()
    await draining
    return status


if __name__ == "__main__":
    sys.exit(asyncio.run(main(sys.argv[1:])))
