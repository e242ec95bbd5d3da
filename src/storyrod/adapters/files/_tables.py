"""The tables of the files: the model's own fields, with the few that stand in a file only."""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Annotated, Any, Final

from storyrod.adapters.files._lines import Key
from storyrod.measure.length import Unit
from storyrod.model.as_built import AsBuilt
from storyrod.model.job import Job, Opening
from storyrod.model.method import Method, SizeForBoard
from storyrod.model.workshop import Workshop
from storyrod.model.written import CODE, Choice, Field, Length, Lengths, Many, OneOf, Size, Text, Told, fields_of

FORMAT: Final = 1
"""The format of the files that this version writes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Defaults:
    """What is taken where a job does not choose."""

    corner: Annotated[str | None, CODE, Told("Method of corner joints.")] = None
    mid_panel: Annotated[str | None, CODE, Told("Method of mid-panel joints.")] = None
    plinth: Annotated[str | None, CODE, Told("Method of the plinth's joints, and a hanging rail's.")] = None
    back: Annotated[
        str | None, CODE, Told("Method of the back's joints; a grooved back always sits in its groove.")
    ] = None
    drawer_box: Annotated[str | None, CODE, Told("Method of drawer boxes.")] = None
    runner: Annotated[str | None, CODE, Told("Drawer runner.")] = None
    hinge: Annotated[str | None, CODE, Told("Door hinge.")] = None
    clothes_rail: Annotated[str | None, CODE, Told("Clothes rail.")] = None
    foot: Annotated[str | None, CODE, Told("Levelling foot.")] = None
    front_screw: Annotated[str | None, CODE, Told("Screws that hold a drawer's front to its box.")] = None


_FORMAT = Field(name="format", told=Told("Format of the file."), rule=OneOf((FORMAT,)), usual=FORMAT)
_ROWS = "Openings one below the other, from the top down."
_SHARE = "or its share of the rest; an equal share unless set."

FILE_ONLY: Final[Mapping[type, Mapping[str, tuple[Field, ...]]]] = {
    Job: {
        "": (_FORMAT,),
        "mark_to": (
            Field(
                name="workshop",
                told=Told("Name of the workshop file, beside the job file; the built-in workshop unless set."),
                rule=Text(1, 300),
            ),
        ),
    },
    AsBuilt: {
        "": (
            _FORMAT,
            Field(name="units", told=Told("Unit of bare numbers."), rule=Choice(Unit), usual=Unit.MM),
        ),
    },
    Opening: {
        "": (
            Field(name="height", told=Told(f"Clear height of a row, {_SHARE}"), rule=Size()),
            Field(name="width", told=Told(f"Clear width of a column, {_SHARE}"), rule=Size()),
        ),
        "name": (
            Field(name="rows", told=Told(_ROWS), table=Opening, many=Many.LIST, usual=()),
            Field(
                name="columns",
                told=Told("Openings side by side, from the left."),
                table=Opening,
                many=Many.LIST,
                usual=(),
            ),
        ),
    },
    SizeForBoard: {
        "consumes": (
            Field(
                name="connector_length",
                told=Told(
                    "Length of a connector that lies in both panels: the two depths must leave room for it.",
                ),
                rule=Length(0.1, 500),
            ),
        )
    },
    Method: {
        "name": (
            Field(
                name="like",
                told=Told("Code of a method whose figures it takes over where it gives none itself."),
                rule=Text(0, 60),
                usual="",
            ),
        )
    },
    Workshop: {
        "": (_FORMAT,),
        "name": (
            Field(name="units", told=Told("Unit of bare numbers."), rule=Choice(Unit), usual=Unit.MM),
            Field(name="defaults", told=Told("What is taken where a job does not choose."), table=Defaults),
        ),
    },
}
"""Fields that the model holds in another form or not at all, by the field after which each stands in its table."""


def table_of(kind: type) -> Mapping[str, Field]:
    """Return the fields of a table by their names in the file, in the order in which they are told."""
    return _table_of(kind)


@cache
def _table_of(kind: type) -> Mapping[str, Field]:
    more = FILE_ONLY.get(kind, {})
    found = [*more.get("", ())]
    for each in fields_of(kind).values():
        found += [each, *more.get(each.name, ())]
    return {f.name: f for f in found}


@cache
def alone_in(kind: type) -> Field | None:
    """Return the field that may be written alone in place of its whole table, or None."""
    return next((f for f in table_of(kind).values() if f.told.alone), None)


@cache
def has_needed(kind: type) -> bool:
    """Return whether a table has a field that must be written."""
    return any(f.needed for f in table_of(kind).values())


def field_at(root: type, path: Sequence[Key]) -> Field | None:
    """Return the field at a path of a file, or None where none is, as at an item of a list."""
    kind = table_at(root, path[:-1]) if path else None
    return table_of(kind).get(str(path[-1])) if kind is not None and path else None


def table_at(root: type, path: Sequence[Key]) -> type | None:
    """Return the kind of the table that stands at a path, or None where none does."""
    kind: type | None = root
    held: Field | None = None  # a field of many tables, whose item or key comes next
    for key in path:
        if held is not None:
            kind, held = held.table, None
        elif kind is None:
            return None
        else:
            found = table_of(kind).get(str(key))
            kind = found.table if found is not None and found.many is Many.ONE else None
            held = found if found is not None and found.many is not Many.ONE else None
    return kind


def in_mm(kind: type, written: Mapping[str, Any]) -> dict[str, Any]:
    """Return a written table with its unit at every bare length, so that a file in inches can take figures over."""
    fields = table_of(kind)
    return {name: _with_unit(fields[name], value) if name in fields else value for name, value in written.items()}


def _with_unit(of: Field, value: Any) -> Any:  # noqa: ANN401 - whatever is written
    if isinstance(of.rule, Length):
        return value if isinstance(value, str) else f"{value} mm"
    if isinstance(of.rule, Lengths):
        return [v if isinstance(v, str) else f"{v} mm" for v in value]
    if of.table is None:
        return value
    kind = of.table
    if of.many is Many.LIST and isinstance(value, list):
        return [in_mm(kind, v) for v in value]
    if of.many is Many.KEYED and isinstance(value, Mapping):
        return {code: in_mm(kind, v) for code, v in value.items()}
    return in_mm(kind, value) if isinstance(value, Mapping) else value


def about(kind: type) -> str:
    """Return what a table is, in sentences: its class's docstring, without what only the model knows."""
    return " ".join((inspect.getdoc(kind) or "").split("\n\nAttributes:")[0].split())


@dataclass(frozen=True, slots=True)
class Section:
    """A table of a file as its reference tells it: where it stands, and what kind it is."""

    head: str
    table: type
    fields: Mapping[str, Field] = field(default_factory=dict)


def sections(root: type) -> Iterator[Section]:
    """Yield the tables of a file, each kind once, from the outermost in."""
    yield Section("At the top of the file", root, table_of(root))
    seen, waiting = {root}, [("", root)]
    while waiting:
        outer, kind = waiting.pop(0)
        for found in table_of(kind).values():
            inner = found.table
            if inner is None or inner in seen:
                continue
            seen.add(inner)
            path = f"{outer}.{found.name}" if outer else found.name
            below = f"{path}.CODE" if found.many is Many.KEYED else path
            yield Section(f"`[[{path}]]`" if found.many is Many.LIST else f"`[{below}]`", inner, table_of(inner))
            waiting.append((below, inner))
