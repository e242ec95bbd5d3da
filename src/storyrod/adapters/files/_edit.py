"""Changing fields of a job file's text: comments, order and spacing stay as the maker left them."""

from __future__ import annotations

import copy
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, cast

import tomlkit
from tomlkit import TOMLDocument
from tomlkit.items import AoT, Array, InlineTable, Item, Table

from storyrod.adapters.files._edit_line import set_in_lines
from storyrod.adapters.files._lines import Path, path_of
from storyrod.adapters.files._open import parse_toml, parsed
from storyrod.adapters.files._values import Value
from storyrod.faults import Fault, JobError


class Act(StrEnum):
    """What is done to a field."""

    SET = "set"
    DELETE = "delete"
    INSERT = "insert"


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change of a file.

    Attributes:
        path: the field, as faults tell it: `cases[0].inside.rows[1].height`.
        act: set it, delete it, or insert an item of a list before the one of that number.
        value: what it is set to: plain text, numbers, true or false, lists, and dicts for tables.
    """

    path: str
    act: Act = Act.SET
    value: Value | None = None


def edit_job(text: str, changes: Sequence[Change]) -> str:
    """Return the text of a job or workshop file with `changes` made one after the other.

    The fields themselves are not judged: read the text that comes back.

    Raises:
        JobError: the text is not TOML, a path leads nowhere, or the rest of the file would not stay as it is.
    """
    wanted = parse_toml(text, name="the file")
    paths = [path_of(change.path) for change in changes]
    for path, change in zip(paths, changes, strict=True):
        _apply_plain(wanted, path, change)
    quick = _in_lines(text, paths, changes)
    if quick is not None and _same(quick, wanted):
        return quick
    document = tomlkit.parse(text)
    for path, change in zip(paths, changes, strict=True):
        _apply(document, path, change)
    edited = tomlkit.dumps(document)
    if not _same(edited, wanted):
        raise JobError(
            Fault(
                code="edit",
                field=changes[-1].path,
                found="a file laid out in a way that this change would upset",
                allowed="a change that leaves the rest of the file as it is",
                do="Make the change in your editor.",
            )
        )
    return edited


def _in_lines(text: str, paths: Sequence[Path], changes: Sequence[Change]) -> str | None:
    """Return the text with fields set in their own lines, where all of them stand so: it takes far less time."""
    if any(change.act is not Act.SET for change in changes):
        return None
    return set_in_lines(text, [(p, c.value) for p, c in zip(paths, changes, strict=True)])


def _same(text: str, wanted: dict[str, Any]) -> bool:
    """Return whether the text says what is wanted; a table without fields may as well be left out."""
    try:
        return _filled(parsed(text)) == _filled(wanted)
    except ValueError:
        return False


def _filled(value: object) -> object:
    if isinstance(value, dict):
        inner = {k: _filled(v) for k, v in value.items()}
        return {k: v for k, v in inner.items() if v != {}}
    return [_filled(v) for v in value] if isinstance(value, list) else value


def _lost(change: Change, allowed: str) -> JobError:
    return JobError(
        Fault(
            code="edit",
            field=change.path,
            found="no such place in the file",
            allowed=allowed,
            do="Read the file again: it may have been changed in the meantime.",
        )
    )


def _apply_plain(root: dict[str, Any], path: Path, change: Change) -> None:
    """Make a change in plain tables: what the text must say in the end."""
    outer: Any = root
    for key in path[:-1]:
        if isinstance(outer, dict) and isinstance(key, str):
            outer = outer.setdefault(key, {})
        elif isinstance(outer, list) and isinstance(key, int) and key < len(outer):
            outer = outer[key]
        else:
            raise _lost(change, "a field of a table, or an item of a list that is there")
    if not path:
        raise _lost(change, "a field")
    last = path[-1]
    value = copy.deepcopy(change.value)
    if isinstance(outer, dict) and isinstance(last, str):
        _change_table(outer, last, change, value)
    elif isinstance(outer, dict):
        raise _lost(change, "a list")
    elif isinstance(outer, list) and isinstance(last, int):
        _change_list(outer, last, change, value)
    else:
        raise _lost(change, "a field of a table, or an item of a list")


def _change_table(outer: Any, last: str, change: Change, value: object) -> None:  # noqa: ANN401
    if change.act is Act.SET:
        outer[last] = value
    elif change.act is Act.DELETE:
        if last not in outer:
            raise _lost(change, "a field that is written in the file")
        del outer[last]
    else:
        raise _lost(change, "an item of a list, such as `rows[1]`")


def _change_list(outer: Any, last: int, change: Change, value: object) -> None:  # noqa: ANN401
    if change.act is Act.INSERT and last <= len(outer):
        outer.insert(last, value)
    elif last >= len(outer):
        raise _lost(change, f"an item up to [{len(outer) - 1}]" if outer else "an item of a list that is not empty")
    elif change.act is Act.SET:
        outer[last] = value
    else:
        del outer[last]


def _apply(document: Any, path: Path, change: Change) -> None:  # noqa: ANN401 - tomlkit's containers share no type
    """Make a change in the written tables; places are known to be there, since the plain change went through."""
    outer = document
    for key in path[:-1]:
        if isinstance(key, str) and key not in outer:
            outer[key] = tomlkit.inline_table() if isinstance(outer, InlineTable) else tomlkit.table()
        outer = outer[key]
    last = path[-1]
    if change.act is Act.DELETE:
        del outer[last]
    elif isinstance(last, str):
        _set_field(outer, last, change.value)
    elif change.act is Act.INSERT:
        item = _table_item(change.value) if isinstance(outer, AoT) else _item(change.value, inline=True)
        outer.insert(last, item)
    elif isinstance(outer, AoT):
        outer[last] = _table_item(change.value)
    else:
        outer[last] = _item(change.value, inline=True)


def _set_field(outer: Any, name: str, value: object) -> None:  # noqa: ANN401
    inline = isinstance(outer, InlineTable)
    old = outer.get(name)
    if old is None and isinstance(outer, TOMLDocument) and _is_tables(value):
        # Tables of their own, at the end of the file: a list would stand above the first table, under its comment.
        tables = tomlkit.aot()
        for inner in cast("list[object]", value):
            tables.append(_table_item(inner))
        outer[name] = tables
        return
    item = _item(value, inline=inline)
    if isinstance(old, Item) and not isinstance(old, Table | AoT) and not isinstance(item, Table | AoT):
        item.trivia.comment_ws = old.trivia.comment_ws
        item.trivia.comment = old.trivia.comment
    outer[name] = item


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def _table_item(value: object) -> Table:
    table = tomlkit.table()
    for name, inner in (value if isinstance(value, dict) else {}).items():
        table[name] = _item(inner, inline=isinstance(inner, dict))
    return table


def _item(value: object, *, inline: bool = False) -> Item:
    """Return a value as an item to be written: tables inside lists on one line each."""
    if isinstance(value, dict):
        table: Any = tomlkit.inline_table() if inline else tomlkit.table()
        for name, inner in value.items():
            table[name] = _item(inner, inline=inline or isinstance(inner, dict))
        return cast("Item", table)
    if isinstance(value, list):
        array: Array = tomlkit.array()
        for inner in value:
            array.append(_item(inner, inline=True))
        return array.multiline(any(isinstance(i, dict) for i in value) and not inline)
    return tomlkit.item(value)
