"""Changes of what a job is made of: boards, the sizes in which they are bought, and edgings."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final

from storyrod.adapters.files._edit import Act, Change
from storyrod.adapters.files.reshaping import cases_in, not_done, path_in, value_at
from storyrod.measure.length import MM_PER_INCH, Unit
from storyrod.trade.sold import commonest

BOARD_FIELDS: Final = frozenset({"board", "bottom_board"})
"""Fields of a case, at any depth, in which a board is named."""

MOST_SIZES: Final = 20
"""Sizes of one board that are added by tapping; a slip of the finger makes no hundred."""


def add_board(raw: dict[str, Any], code: str, kind: str, thickness: str | float) -> list[Change]:
    """Add a board by its code; cases that took the only one there was without naming it name it from now on.

    Raises:
        JobError: there is one of that code, or the code is empty.
    """
    boards = raw.get("boards")
    only = next(iter(boards)) if isinstance(boards, dict) and len(boards) == 1 else None
    bare = [n for n, case in enumerate(cases_in(raw)) if only is not None and "board" not in case]
    naming = [Change(path=f"cases[{n}].board", value=only) for n in bare]
    return [*naming, Change(path=_new_code(raw, "boards", code), value={"kind": kind, "thickness": thickness})]


def remove_board(raw: dict[str, Any], code: str) -> list[Change]:
    """Take a board away that nothing is made of.

    Raises:
        JobError: there is no such board, it is the only one, or something is made of it; told where.
    """
    path, boards = _known(raw, "boards", code)
    if len(boards) < 2:
        raise not_done(path, "the only board", "a job with another board", "Change this one, or add the other first.")
    users = list(users_of_board(raw, code))
    if users:
        raise not_done(path, f"a board that is used: {_listed(users)}", "one that nothing is made of",
                      "Choose another board there first.")  # fmt: skip
    return [Change(path=path, act=Act.DELETE)]


def users_of_board(raw: dict[str, Any], code: str) -> Iterator[str]:
    """Yield what is made of a board, in a maker's words, such as `case A (back)`."""
    for number, case in enumerate(cases_in(raw)):
        named = case.get("code")
        word = f"case {named if isinstance(named, str) and named else number + 1}"
        yield from dict.fromkeys(f"{word} ({p})" if p else word for p in _parts(case, code, ""))


def _parts(table: Any, code: str, part: str) -> Iterator[str]:  # noqa: ANN401  # as it is written
    if isinstance(table, list):
        for inner in table:
            yield from _parts(inner, code, part)
    elif isinstance(table, dict):
        for name, value in table.items():
            if name in BOARD_FIELDS:
                if value == code:
                    yield "drawer bottoms" if name == "bottom_board" else part
            else:
                yield from _parts(value, code, part or name.replace("_", " "))


def add_sheet(raw: dict[str, Any], code: str) -> list[Change]:
    """Write one more size in which a board is bought: the usual one, to be changed.

    Raises:
        JobError: there is no such board, or it has very many sizes.
    """
    path, boards = _known(raw, "boards", code)
    board = boards[code]
    unit = Unit.INCH if raw.get("units") == "in" else Unit.MM
    length, width = (int(size / (MM_PER_INCH if unit is Unit.INCH else 1)) for size in commonest(unit))
    sheet: dict[str, Any] = {"length": length, "width": width}
    sheets = board.get("sheets") if isinstance(board, dict) else None
    if not isinstance(sheets, list) or not sheets:
        return [Change(path=f"{path}.sheets", value=[sheet])]
    if len(sheets) >= MOST_SIZES:
        raise not_done(path, f"{len(sheets)} sizes", f"up to {MOST_SIZES}", "Remove a size that is not needed.")
    return [Change(path=f"{path}.sheets[{len(sheets)}]", act=Act.INSERT, value=sheet)]


def remove_sheet(raw: dict[str, Any], path: str) -> list[Change]:
    """Take away a size of a board, by its path; with the last one gone, the usual one holds.

    Raises:
        JobError: there is no such size.
    """
    outer, _, number = path.rpartition("[")
    sheets = value_at(raw, outer) if outer.startswith("boards.") and outer.endswith(".sheets") else None
    place = number.removesuffix("]")
    if not isinstance(sheets, list) or not (place.isascii() and place.isdigit() and int(place) < len(sheets)):
        raise not_done(path, "no such size", "a size of a board", "Load the page again.")
    return [Change(path=outer if len(sheets) == 1 else path, act=Act.DELETE)]


def add_edging(raw: dict[str, Any], code: str, thickness: str | float) -> list[Change]:
    """Add an edging by its code.

    Raises:
        JobError: there is one of that code, or the code is empty.
    """
    return [Change(path=_new_code(raw, "edgings", code), value={"thickness": thickness})]


def remove_edging(raw: dict[str, Any], code: str) -> list[Change]:
    """Take an edging away that no board names.

    Raises:
        JobError: there is no such edging, or a board names it; told which.
    """
    path, edgings = _known(raw, "edgings", code)
    boards = raw.get("boards")
    named = boards.items() if isinstance(boards, dict) else ()
    users = [f"board {c}" for c, b in named if isinstance(b, dict) and b.get("edging") == code]
    if users:
        raise not_done(path, f"an edging that is used: {_listed(users)}", "one that no board names",
                      "Choose another edging there first.")  # fmt: skip
    return [Change(path="edgings" if len(edgings) == 1 else path, act=Act.DELETE)]


def _listed(users: list[str]) -> str:
    return ", ".join(users[:4]) + (f" and {len(users) - 4} more" if len(users) > 4 else "")


def _known(raw: dict[str, Any], table: str, code: str) -> tuple[str, dict[str, Any]]:
    known = raw.get(table)
    path = path_in(table, code)
    if not isinstance(known, dict) or code not in known:
        word = "board" if table == "boards" else "edging"
        raise not_done(path, f'"{code[:60]}"', f"a {word} of this job" if word == "board" else "an edging of this job",
                      "Load the page again.")  # fmt: skip
    return path, known


def _new_code(raw: dict[str, Any], table: str, code: str) -> str:
    known = raw.get(table) if isinstance(raw.get(table), dict) else {}
    name = re.sub(r"[^a-z0-9]+", "-", code.casefold()).strip("-")
    if not name or name in (known or {}):
        found = f'"{code[:60]}"' if code.strip() else "no code"
        raise not_done(table, found, "a code that none has yet, as birch12", "Give it a code of its own.")
    return path_in(table, name)
