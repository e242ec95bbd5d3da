"""Which pieces of a stage's page are drawn anew after a change, by the stage's key: each view says its own."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._worked import Worked

type Pieces = Callable[[Desk, Worked, Mapping[str, Any]], dict[str, str]]

_PIECES: Final[dict[str, Pieces]] = {}


def pieces_by(stage: str, make: Pieces) -> None:
    """Let `make` draw the pieces of a stage: it gets the job as it stands, and what the page says of its view."""
    _PIECES[stage] = make


def pieces_of(stage: str, desk: Desk, worked: Worked, view: Mapping[str, Any]) -> dict[str, str]:
    """Return the pieces of a stage by the ids of what they replace; none where the stage draws itself."""
    make = _PIECES.get(stage)
    return make(desk, worked, view) if make is not None else {}
