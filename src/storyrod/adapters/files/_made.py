"""Values of the model made of the tables of a file, field by field."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import is_dataclass, replace
from typing import Any

from storyrod.adapters.files._lines import path_text
from storyrod.adapters.files._read import Table
from storyrod.adapters.files._tables import table_of
from storyrod.model.written import Field, Many, key_of


def made[T](kind: type[T], table: Table, path: str, **own: object) -> T:
    """Return a table as the model's `kind`, found at `path`; `own` are attributes that the table does not say so."""
    values = {
        of.attribute: _value(of, table[of.name], f"{path}.{of.name}" if path else of.name)
        for of in table_of(kind).values()
        if of.attribute and of.attribute not in own
    }
    if "field" in kind.__annotations__:
        values["field"] = path
    return kind(**(values | own))


def keyed[T](
    kind: type[T], tables: Mapping[str, Table], path: str, name: Callable[[Table], str] | None = None
) -> tuple[T, ...]:
    """Return tables that have a code of their own; one without a name gets that of `name`, or its code."""
    key, named = key_of(kind), "name" in table_of(kind)
    return tuple(
        made(
            kind,
            table,
            f"{path}.{path_text((code,))}",
            **{key: code},
            **({"name": table["name"] or (name(table) if name else code)} if named else {}),
        )
        for code, table in tables.items()
    )


def _value(of: Field, value: Any, path: str) -> object:  # noqa: ANN401 - whatever the field holds
    kind = of.table
    if kind is None:
        return value
    if of.many is Many.KEYED:
        return keyed(kind, value, path)
    if of.many is Many.LIST:
        return tuple(made(kind, inner, f"{path}[{number}]") for number, inner in enumerate(value))
    if value is not None:
        return made(kind, value, path)
    usual = of.usual
    return replace(usual, field=path) if is_dataclass(usual) and not isinstance(usual, type) else usual
