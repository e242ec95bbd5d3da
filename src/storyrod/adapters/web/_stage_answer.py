"""A stage shown anew on a page that is open: its own pieces, and those that every page of a job has."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from storyrod.adapters.web._desk import desk_of
from storyrod.adapters.web._render import answer, fragment, notches_of
from storyrod.adapters.web._worked import Worked


def stage_answer(
    request: Request,
    worked: Worked,
    stage: str,
    pieces: Mapping[str, str],
    **more: Any,  # noqa: ANN401  # whatever the stage's script reads
) -> Response:
    """Return the stage's pieces with the rod, the faults and the steps that can be undone."""
    desk = desk_of(request)
    history = desk.shelf.history(worked.name)
    common = {
        "rod": fragment("rod.html", notches=notches_of(worked, desk), stage=stage),
        "faults": fragment("faults.html", worked=worked),
        "cautions": fragment("cautions.html", worked=worked, stage=stage),
        "undoing": fragment("undoing.html", history=history),
    }
    return answer(common | dict(pieces), version=worked.version, title=worked.title, **more)
