"""What a page asks to be changed, turned into plain changes of the job file's text."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from storyrod.adapters.files import reshaping, reshaping_stock
from storyrod.adapters.files.asking import Asked, about, as_shown, typed
from storyrod.adapters.files.editing import Act, Change, parsed
from storyrod.adapters.files.reshaping import value_at
from storyrod.adapters.web._brief_drawing import cases_of, sizes_beside
from storyrod.adapters.web._brief_fields import NO_RAIL, WORDS_FOR_TABLES
from storyrod.adapters.web._worked import Worked
from storyrod.faults import Fault, JobError
from storyrod.measure.length import Unit

type Raw = dict[str, Any]


def tables_of(text: str) -> Raw:
    """Return the tables of a text; none where it is no TOML, which is told when it is changed."""
    try:
        return parsed(text)
    except ValueError:
        return {}


def unit_of(raw: Raw) -> Unit:
    """Return the unit of bare numbers in a job."""
    return Unit.INCH if raw.get("units") == "in" else Unit.MM


# Fields ---------------------------------------------------------------------------------------------------------------


def settled(raw: Raw, changes: Sequence[Change]) -> list[Change]:
    """Return changes as they can be made on the tables as they are.

    A field set to nothing is left out, and nothing is done where it was; a word that stands for a table becomes that
    table before one of its fields is set; a plinth without a height, a hand hold without a kind, what hangs without a
    height, and a clothes rail of the kind "none", are none.
    """
    made: list[Change] = []
    for change in changes:
        outer, _, name = change.path.rpartition(".")
        alone = WORDS_FOR_TABLES.get(outer.rpartition(".")[2])
        if alone and isinstance(value_at(raw, outer), str):
            made.append(Change(path=outer, value={alone: value_at(raw, outer)}))
        if change.path.endswith(".clothes_rail.kind") and change.value == NO_RAIL:
            made += [Change(path=outer, act=Act.DELETE)] if value_at(raw, outer) is not None else []
        elif change.act is Act.SET and _is_nothing(change.value):
            made += _left_out(raw, change.path, outer, name)
        else:
            made.append(change)
    return made


def _is_nothing(value: object) -> bool:
    return value is None or (isinstance(value, str) and not value)


_MADE_BY: Final = {
    "plinth": "height",
    "hand_hold": "kind",
    "hung": "top_at",
    "worktop": "front",
    "feet": "height",
    "skirting": "height",
    "graduated": "by",
}
"""The field without which a table is none."""


def _left_out(raw: Raw, path: str, outer: str, name: str) -> list[Change]:
    if value_at(raw, path) is None and not (name in {"kind", "by"} and isinstance(value_at(raw, outer), str)):
        return []
    whole = name == _MADE_BY.get(outer.rpartition(".")[2])
    return [Change(path=outer if whole else path, act=Act.DELETE)]


def changed_fields(raw: Raw, sent: Mapping[str, str]) -> list[Change]:
    """Return the fields of a posted form that differ from the file; names that are no field's are passed over."""
    found = []
    for path, words in sent.items():
        asked = about(path) if "." in path or path in raw or re.fullmatch(r"[a-z_]+", path) else None
        if asked is None:
            continue
        old = as_shown(_said(raw, path))
        if not old and asked.kind is Asked.FLAG and isinstance(asked.usual, bool):
            old = as_shown(asked.usual)
        if words.strip().replace("\r\n", "\n") != old.strip():
            found.append(Change(path=path, value=typed(path, words.replace("\r\n", "\n"))))
    return found


def _said(raw: Raw, path: str) -> object:
    outer, _, name = path.rpartition(".")
    around = value_at(raw, outer) if outer else raw
    if isinstance(around, str) and name == "kind":
        return around
    return value_at(raw, path)


# Changes of shape -----------------------------------------------------------------------------------------------------


def act_changes(worked: Worked, sent: Mapping[str, Any]) -> list[Change]:
    """Return the changes of one act: `do` says what, `at` where; the rest is the act's own.

    Raises:
        JobError: there is no such act, or it cannot be done there.
    """
    raw = tables_of(worked.text)
    do, _, named = str(sent.get("do", "")).partition(":")  # a button may name what it is about
    at = named or str(sent.get("at", ""))
    make = _ACTS.get(do)
    if make is None:
        raise JobError(
            Fault(code="sent", field="do", found=repr(do), allowed=", ".join(_ACTS), do="Load the page again.")
        )
    return make(worked, raw, at, sent)


def _whole(sent: Mapping[str, Any], name: str, otherwise: int) -> int:
    try:
        return int(float(str(sent.get(name, otherwise))))
    except (ValueError, OverflowError):
        return otherwise


def _mm(sent: Mapping[str, Any]) -> float:
    try:
        return float(sent.get("to", "nan"))
    except (TypeError, ValueError):
        return float("nan")


def _part(worked: Worked, raw: Raw, at: str, sent: Mapping[str, Any]) -> list[Change]:
    for case in cases_of(worked):
        sizes = sizes_beside(case, at)
        if sizes:
            return reshaping.part_at(raw, at, sizes, _mm(sent), unit_of(raw))
    return reshaping.part_at(raw, at, (), _mm(sent), unit_of(raw))


def _resize(_: Worked, raw: Raw, at: str, sent: Mapping[str, Any]) -> list[Change]:
    if not re.fullmatch(r"cases\[\d+\]\.(width|height|depth|worktop\.(left|right))", at):
        raise JobError(
            Fault(code="sent", field="at", found=repr(at), allowed="a size of a case", do="Load the page again.")
        )
    return reshaping.resize(at, _mm(sent), unit_of(raw))


def _add_board(_: Worked, raw: Raw, __: str, sent: Mapping[str, Any]) -> list[Change]:
    thickness = typed("boards.new.thickness", str(sent.get("thickness", "")) or "18")
    assert not isinstance(thickness, bool)  # noqa: S101  # a thickness is no flag
    return reshaping_stock.add_board(raw, str(sent.get("code", "")), str(sent.get("kind", "plywood")), thickness)


def _add_edging(_: Worked, raw: Raw, __: str, sent: Mapping[str, Any]) -> list[Change]:
    thickness = typed("edgings.new.thickness", str(sent.get("thickness", "")) or "1")
    assert not isinstance(thickness, bool)  # noqa: S101  # a thickness is no flag
    return reshaping_stock.add_edging(raw, str(sent.get("code", "")), thickness)


type _Make = Callable[[Worked, Raw, str, Mapping[str, Any]], list[Change]]

_ACTS: Final[dict[str, _Make]] = {
    "cut-rows": lambda _, raw, at, sent: reshaping.cut(raw, at, "rows", _whole(sent, "many", 2)),
    "cut-columns": lambda _, raw, at, sent: reshaping.cut(raw, at, "columns", _whole(sent, "many", 2)),
    "whole": lambda _, raw, at, __: reshaping.make_whole(raw, at),
    "add-before": lambda _, raw, at, __: reshaping.add_beside(raw, at, after=False),
    "add-after": lambda _, raw, at, __: reshaping.add_beside(raw, at, after=True),
    "move-before": lambda _, raw, at, __: reshaping.move(raw, at, -1),
    "move-after": lambda _, raw, at, __: reshaping.move(raw, at, 1),
    "remove": lambda _, raw, at, __: reshaping.remove(raw, at),
    "part": _part,
    "resize": _resize,
    "add-case": lambda _, raw, __, ___: reshaping.add_case(raw, None),
    "copy-case": lambda _, raw, __, sent: reshaping.add_case(raw, _whole(sent, "case", -1)),
    "remove-case": lambda _, raw, __, sent: reshaping.remove_case(raw, _whole(sent, "case", -1)),
    "add-board": _add_board,
    "add-edging": _add_edging,
    "add-sheet": lambda _, raw, at, __: reshaping_stock.add_sheet(raw, at),
    "remove-board": lambda _, raw, at, __: reshaping_stock.remove_board(raw, at),
    "remove-edging": lambda _, raw, at, __: reshaping_stock.remove_edging(raw, at),
    "remove-sheet": lambda _, raw, at, __: reshaping_stock.remove_sheet(raw, at),
}


def place_after(do: str, at: str) -> str:
    """Return what is chosen once an act is done: the opening moved or added, the one around an opening removed."""
    place = reshaping.place_of(at)
    if place is None:
        return at
    outer, split, number = place
    if do == "move-before":
        return f"{outer}.{split}[{number - 1}]"
    if do in {"move-after", "add-after"}:
        return f"{outer}.{split}[{number + 1}]"
    return outer if do == "remove" else at
