"""What is pressed beside a sum or a step: words that are written to the job or the workshop, and the way back."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

from starlette.exceptions import HTTPException
from starlette.requests import Request

from storyrod.adapters.web._desk import Desk, desk_of
from storyrod.adapters.web._render import body_of
from storyrod.adapters.web._shelf import StaleError
from storyrod.adapters.web._worked import Worked
from storyrod.adapters.web._workshops import WorkshopShelf, workshops_of

type Keep = Callable[[Desk, WorkshopShelf, Worked, dict[str, str]], None]


async def kept(request: Request, keep: Keep) -> dict[str, str]:
    """Return the words that were sent, once `keep` has written what they ask for.

    Raises:
        HTTPException: the job or the workshop was written by another at this moment.
        JobError: what was sent cannot be written.
    """
    sent = {k: v for k, v in (await body_of(request)).items() if isinstance(v, str)}
    name = request.path_params["job"]
    try:
        await asyncio.to_thread(lambda: keep(desk_of(request), workshops_of(request), desk_of(request).job(name), sent))
    except StaleError:
        raise HTTPException(409, "The job or the workshop was being changed at this moment: try again.") from None
    return sent
