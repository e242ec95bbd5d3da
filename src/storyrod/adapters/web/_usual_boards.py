"""The boards of the last job, which a new one begins with: kind, thickness, measured thickness, sheets and price."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Final

from storyrod.adapters.files.asking import as_shown
from storyrod.adapters.files.editing import Change, Value, parsed
from storyrod.adapters.files.reshaping import path_in
from storyrod.adapters.web._folder import tables_in
from storyrod.faults import JobError
from storyrod.measure.length import Unit, parse_length
from storyrod.trade.sold import commonest

if TYPE_CHECKING:
    from storyrod.adapters.web._desk import Desk

_ALIKE_MM: Final = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualBoards:
    """Boards as a job file has them, by code, with the unit of their bare numbers.

    Attributes:
        typed: the answers that they are to the questions of a new job, as one would type them.
    """

    unit: Unit = Unit.MM
    boards: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    typed: Mapping[str, str] = field(default_factory=dict)

    def changes(self, text: str, kept: bool) -> Iterator[Change]:  # noqa: FBT001
        """Yield what brings these boards into a new job's text: measured thickness and sheets of each one alike.

        The board that the questions were about has what was answered; only its sheets come along, and those only where
        the price was left as it came (`kept`).
        """
        raw = parsed(text)
        unit = Unit.INCH if raw.get("units") == "in" else Unit.MM
        for code, board in raw.get("boards", {}).items():
            like = next((b for b in self.boards.values() if self._is_alike(board, unit, b)), None)
            if like is None or (code == "board" and not kept):
                continue
            if code != "board" and "measured" in like and "measured" not in board:
                yield Change(path=path_in("boards", code) + ".measured", value=self._length(like["measured"], unit))
            if isinstance(like.get("sheets"), list) and like["sheets"]:
                sheets: list[Value] = [self._sheet(s, unit) for s in like["sheets"] if isinstance(s, dict)]
                yield Change(path=path_in("boards", code) + ".sheets", value=sheets)

    def _is_alike(self, board: Mapping[str, Any], unit: Unit, like: Mapping[str, Any]) -> bool:
        one, other = _mm(board.get("thickness"), unit), _mm(like.get("thickness"), self.unit)
        same = one is not None and other is not None and abs(one - other) < _ALIKE_MM
        return same and board.get("kind") == like.get("kind")

    def _sheet(self, sheet: Mapping[str, Any], unit: Unit) -> dict[str, Any]:
        lengths = {n: self._length(sheet[n], unit) for n in ("length", "width") if n in sheet}
        return lengths | {n: sheet[n] for n in ("price",) if n in sheet}

    def _length(self, value: Any, unit: Unit) -> Any:  # noqa: ANN401  # as the file has it
        if isinstance(value, str) or unit is self.unit:
            return value
        return f"{value:g} {self.unit.value}"


def _mm(value: object, unit: Unit) -> float | None:
    try:
        return parse_length(value, unit) if isinstance(value, str | int | float) else None
    except JobError:
        return None


def usual_boards(desk: Desk) -> UsualBoards:
    """Return the boards of the job of the list that was changed last and is no example; none where there is none."""
    from storyrod.adapters.web.first_visit import EXAMPLE, is_example

    for entry in desk.shelf.entries():
        tables = tables_in(desk.shelf.path(entry.name))
        boards = tables.get("boards") if tables is not None else None
        if tables is None or not isinstance(boards, dict):
            continue
        if entry.name.startswith(EXAMPLE) and is_example(desk.shelf.text(entry.name)):
            continue
        known = {str(c): b for c, b in boards.items() if isinstance(b, dict)}
        unit = Unit.INCH if tables.get("units") == "in" else Unit.MM
        return UsualBoards(unit=unit, boards=known, typed=_typed(tables, known, unit))
    return UsualBoards()


def _typed(tables: Mapping[str, Any], boards: Mapping[str, Mapping[str, Any]], unit: Unit) -> dict[str, str]:
    """Return the answers that a job's first board is: the one that its first case is made of."""
    cases = tables.get("cases")
    first = cases[0].get("board") if isinstance(cases, list) and cases and isinstance(cases[0], dict) else None
    board = boards.get(first) if isinstance(first, str) else next(iter(boards.values()), None)
    if board is None:
        return {}
    told = {"units": unit.value}
    told |= {n: as_shown(board[n]) for n in ("kind", "thickness", "measured") if n in board}
    sheets = board.get("sheets")
    sheet = sheets[0] if isinstance(sheets, list) and len(sheets) == 1 and isinstance(sheets[0], dict) else {}
    size = (_mm(sheet.get("length"), unit) or 0.0, _mm(sheet.get("width"), unit) or 0.0)
    alike = all(abs(a - b) <= _ALIKE_MM for a, b in zip(size, commonest(unit), strict=True))
    if alike and "price" in sheet:
        told["price"] = as_shown(sheet["price"])
    return told
