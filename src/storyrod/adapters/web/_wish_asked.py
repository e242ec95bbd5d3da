"""What a wish on the page asks for, as it stands in the address, and the wish file that it makes."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final
from urllib.parse import urlencode

from starlette.datastructures import QueryParams

from storyrod.adapters.files.wishing import catalogue, groups_of
from storyrod.adapters.web._desk import Desk
from storyrod.adapters.web._usual_boards import UsualBoards, usual_boards
from storyrod.measure.length import Unit, parse_length
from storyrod.model.wish import Bound, Reach, Users, Zone

ROWS: Final = 6
"""So many things are asked for at the most; a wish file may hold more."""

SIZES: Final = {"width": "1200", "height": "1100", "depth": "420"}
"""A place that stands in the form before one is written (mm): below a window; an example, never taken unseen."""

REACHES: Final = {
    Reach.OPEN: "open",
    Reach.DOOR: "behind a door",
    Reach.DRAWER: "in a drawer",
    Reach.HANGING: "hanging, open",
}
ZONES: Final = {Zone.ANYWHERE: "anywhere", Zone.NEAR: "near the hand", Zone.LOW: "low"}
USERS: Final = {
    Users.STANDING: "someone standing",
    Users.WHEELCHAIR: "someone in a wheelchair",
    Users.CHILDREN: "children",
}

_FIELD: Final = re.compile(r"things\[(\d+)\]\.?(\w*)")
_LONGEST: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The answers, as they are typed."""

    said: Mapping[str, str]

    @property
    def is_asked(self) -> bool:
        """Whether anything is to go in."""
        return any(self.said[f"thing{n}"] for n in range(ROWS))

    @property
    def query(self) -> str:
        """The same as it stands in an address."""
        return urlencode([(name, value) for name, value in self.said.items() if value])

    @property
    def rows(self) -> int:
        """How many rows of the form are shown: those written, and one more."""
        last = max((n for n in range(ROWS) if self.said[f"thing{n}"]), default=-1)
        return min(ROWS, max(2, last + 2))

    def text(self, desk: Desk) -> str:
        """Return the wish file that the answers make, with the boards of the last job."""
        import tomlkit

        usual, own = usual_boards(desk), desk.settings.workshop
        tables = self._tables(usual)
        if own.exists():
            tables = {"workshop": own.name, **tables}
        return tomlkit.dumps(tables)

    def _tables(self, usual: UsualBoards) -> dict[str, Any]:
        said = self.said
        boards, names = _boards(usual)
        place: dict[str, Any] = {size: _length(said[size]) for size in SIZES}
        place |= {f"{size}_is": Bound.EXACT.value for size in SIZES if said[f"{size}_is"]}
        limits = {"money": _number(said["money"])} if said["money"] else {}
        look = {name: True for name in ("symmetric", "lines") if said[name]}
        things = [self._thing(n) for n in range(ROWS) if said[f"thing{n}"]]
        return {
            "title": said["title"] or "From a wish",
            "units": usual.unit.value,
            "users": said["users"] or Users.STANDING.value,
            **names,
            "place": place,
            **({"look": look} if look else {}),
            **({"limits": limits} if limits else {}),
            "things": things,
            "boards": boards,
        }

    def _thing(self, number: int) -> dict[str, Any]:
        said = self.said
        return {
            "thing": said[f"thing{number}"],
            "count": _number(said[f"count{number}"]),
            "reach": said[f"reach{number}"] or Reach.OPEN.value,
            "at": said[f"at{number}"] or Zone.ANYWHERE.value,
        }

    def place_of(self, field: str) -> str:
        """Return what a field of the wish is called in the form."""
        filled = [n for n in range(ROWS) if self.said[f"thing{n}"]]
        found = _FIELD.match(field)
        if found is not None and int(found[1]) < len(filled):
            return f"thing {filled[int(found[1])] + 1}" + (f", {found[2]}" if found[2] else "")
        return field.replace("place.", "place, ").replace("look.", "look, ").replace("limits.", "")


NAMES: Final = (
    "title",
    "users",
    "symmetric",
    "lines",
    "money",
    *SIZES,
    *(f"{size}_is" for size in SIZES),
    *(f"{what}{n}" for n in range(ROWS) for what in ("thing", "count", "reach", "at")),
)
"""Every field of the form."""


def asked_of(query: QueryParams) -> Asked:
    """Return the answers in an address; what is not there is empty."""
    said = {name: query.get(name, "").strip()[:_LONGEST] for name in NAMES}
    if not any(said.values()):
        said |= SIZES
    return Asked(said=said)


def choices() -> dict[str, Any]:
    """Return what the form offers."""
    return {
        "groups": groups_of(list(catalogue().values())),
        "reaches": {r.value: words for r, words in REACHES.items()},
        "zones": {z.value: words for z, words in ZONES.items()},
        "users": {u.value: words for u, words in USERS.items()},
        "most_rows": ROWS,
    }


def _number(words: str) -> Any:  # noqa: ANN401 - a number, or what was typed, which is then told
    plain = words.replace(",", ".").replace(" ", "")
    try:
        return int(plain)
    except ValueError:
        pass
    try:
        return float(plain)
    except ValueError:
        return words


def _length(words: str) -> Any:  # noqa: ANN401 - a number, or a length with its unit
    number = _number(words)
    return number if isinstance(number, int | float) else words


def _boards(usual: UsualBoards) -> tuple[dict[str, Any], dict[str, str]]:
    """Return the boards of the last job, or usual ones, and which is for the carcass and which for the back."""
    boards = {
        code: {key: value for key, value in board.items() if key not in {"edging", "edged"}}
        for code, board in usual.boards.items()
        if _thick(board, usual.unit) > 0
    }
    if not boards:
        boards = {
            "board": {"kind": "plywood", "thickness": "18 mm"},
            "back": {"kind": "plywood", "thickness": "6 mm"},
        }
    thick = {code: _thick(board, usual.unit) for code, board in boards.items()}
    carcass = min(thick, key=lambda code: (abs(thick[code] - 18.0), code))
    return boards, {"board": carcass, "back_board": min(thick, key=lambda code: (thick[code], code))}


def _thick(board: Mapping[str, Any], unit: Unit) -> float:
    from storyrod.faults import JobError

    try:
        return parse_length(board.get("thickness", ""), unit)
    except JobError:
        return 0.0
