"""The socket of a job's page: passes on what is told of the job, until the page goes away."""

from __future__ import annotations

import asyncio
import contextlib

from starlette.routing import WebSocketRoute
from starlette.websockets import WebSocket, WebSocketDisconnect

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._live import Word


async def listen(socket: WebSocket) -> None:
    """Serve one page's socket."""
    desk = desk_of(socket)
    name = socket.path_params["job"]
    if name not in await asyncio.to_thread(desk.shelf.names):
        await socket.close(1008)
        return
    await socket.accept()
    async with desk.live.listening(name) as words:
        passing = asyncio.create_task(_pass_on(socket, words))
        try:
            while (await socket.receive())["type"] != "websocket.disconnect":
                pass  # nothing is said this way, in words or in bytes; it tells when the page goes away
        except (WebSocketDisconnect, RuntimeError):
            pass
        finally:
            passing.cancel()
            with contextlib.suppress(asyncio.CancelledError, WebSocketDisconnect, RuntimeError):
                await passing


async def _pass_on(socket: WebSocket, words: asyncio.Queue[Word | None]) -> None:
    while (word := await words.get()) is not None:
        await socket.send_json(word)
    await socket.close(1013)


routes = (WebSocketRoute("/job/{job}/live", listen),)
