"""A value put at a path of a file's tables, beside everything else as it is: nothing that was there is changed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from storyrod.adapters.files._lines import Key, path_text
from storyrod.adapters.files._tables import alone_in, table_at, table_of
from storyrod.faults import Fault, JobError
from storyrod.model.job import Job
from storyrod.model.written import Field, Many

type Tables = dict[str, Any]

OPENINGS = ("rows", "columns")


def put(tables: Tables, path: Sequence[Key], value: object) -> Tables:
    """Return a job's tables with `value` at `path`; what lies beside the path is shared with the tables given.

    A whole number at `rows` or `columns` stands for so many openings, each like the first one that is written.
    """
    made: Tables = _put(tables, (), tuple(path), value)
    return made


def _put(outer: Any, gone: tuple[Key, ...], left: tuple[Key, ...], value: object) -> Any:  # noqa: ANN401 - TOML
    key, *rest = left
    if isinstance(outer, list):
        assert isinstance(key, int)  # noqa: S101 - the path was looked over before
        return [_below(o, gone, key, rest, value) if n == key else o for n, o in enumerate(outer)]
    table = _opened(outer, gone)
    return {**table, str(key): _below(table.get(str(key)), gone, key, rest, value)}


def _below(old: Any, gone: tuple[Key, ...], key: Key, rest: Sequence[Key], value: object) -> Any:  # noqa: ANN401
    if rest:
        return _put({} if old is None else old, (*gone, key), tuple(rest), value)
    return [old[0] if old else {}] * value if key in OPENINGS and type(value) is int else value


def _opened(outer: Any, path: tuple[Key, ...]) -> Tables:  # noqa: ANN401 - what TOML gave
    """Return a table; one that is written in short, by its one word, in full."""
    if isinstance(outer, dict):
        return outer
    kind = table_at(Job, path)
    alone = alone_in(kind) if kind is not None else None
    return {alone.name: outer} if alone is not None else {}


def got(tables: Tables, path: Sequence[Key]) -> Any:  # noqa: ANN401 - what TOML gave
    """Return what is written at a path of a job's tables; None where nothing is."""
    at: Any = tables
    for n, key in enumerate(path):
        if isinstance(at, list):
            at = at[key] if isinstance(key, int) and key < len(at) else None
        else:
            at = _opened(at, tuple(path[:n])).get(str(key))
        if at is None:
            return None
    return at


def field_in(tables: Tables, path: Sequence[Key], told_at: str) -> Field:
    """Return the field of a job at a path.

    Raises:
        JobError: the job has no such field, or no such case, board or opening; the fault is of `told_at`.
    """
    kind: type = Job
    held: Field | None = None
    for n, key in enumerate(path):
        here = tuple(path[:n])
        if held is not None:
            kind = _one_of_many(held, tables, here, key, told_at)
            held = None
            continue
        found = table_of(kind).get(str(key)) if isinstance(key, str) else None
        if found is None:
            raise _unknown(path, told_at, tuple(table_of(kind)), str(key))
        if n == len(path) - 1:
            return found
        if found.table is None:
            raise _unknown(path, told_at, (path_text(path[: n + 1]),), str(key))
        kind, held = found.table, None if found.many is Many.ONE else found
    raise _unknown(path, told_at, ("a field of one case, board or opening",), "")


def _one_of_many(held: Field, tables: Tables, here: tuple[Key, ...], key: Key, told_at: str) -> type:
    written = got(tables, here)
    assert held.table is not None  # noqa: S101 - fields of many hold tables
    if held.many is Many.KEYED:
        codes = tuple(written) if isinstance(written, dict) else ()
        if key in codes:
            return held.table
        raise _unknown((*here, key), told_at, tuple(path_text((*here, c)) for c in codes), str(key))
    count = len(written) if isinstance(written, list) else 0
    if isinstance(key, int) and key < count:
        return held.table
    raise _unknown((*here, key), told_at, tuple(path_text((*here, n)) for n in range(count)), str(key))


def _unknown(path: Sequence[Key], told_at: str, known: Sequence[str], word: str) -> JobError:
    from storyrod.adapters.files._fields import nearest

    near = nearest(word, known)
    return JobError(
        Fault(
            code="study-field",
            field=told_at,
            found=f'"{path_text(path)}", which is not in the job',
            allowed=", ".join(known) or "a field of something in the job file",
            do=f'Did you mean "{near}"?' if near else "Write a field of the job, as faults name it.",
        )
    )
