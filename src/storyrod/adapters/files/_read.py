"""Reading tables strictly: every fault at once, and still a whole file to cross-check where some fields are wrong.

A field that is wrong is told, and then replaced by its default or example, so that what else can be known of the
file is known at once. Faults that would only follow from such a stand-in are held back.
"""

from __future__ import annotations

import copy
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from storyrod.adapters.files._fields import Rule, nearest, show
from storyrod.adapters.files._lines import Key, Path, path_text
from storyrod.faults import Fault
from storyrod.measure.length import Unit

ROUNDS = 12
"""How often stand-ins are put in before the file is given up as too far from what it should be."""

MOST_FAULTS = 200
"""So many faults are told one by one; a file with more is most likely another one."""


@dataclass(frozen=True, slots=True)
class Read[T: BaseModel]:
    """A file read: its tables, unless hardly anything is right; the faults; and the fields that were stood in for."""

    table: T | None
    faults: tuple[Fault, ...]
    unknown: frozenset[Path]


def read_table[T: BaseModel](model: type[T], raw: dict[str, Any], unit: Unit) -> Read[T]:
    """Return the tables of `raw` as `model`, with every fault of its fields."""
    context = {"unit": unit}
    try:
        return Read(table=model.model_validate(raw, context=context), faults=(), unknown=frozenset())
    except ValidationError as error:
        problems = error.errors(include_url=False, include_input=True)
    if len(problems) > MOST_FAULTS:
        told = (*(_fault(model, p) for p in problems[:MOST_FAULTS]), and_more(len(problems) - MOST_FAULTS))
        return Read(table=None, faults=told, unknown=frozenset())
    faults = tuple(_fault(model, p) for p in problems)
    unknown = {tuple(p["loc"]) for p in problems}
    mended = copy.deepcopy(raw)
    for _ in range(ROUNDS):
        for problem in problems:
            _stand_in(model, mended, tuple(problem["loc"]), problem["type"])
        try:
            table = model.model_validate(mended, context=context)
        except ValidationError as error:
            problems = error.errors(include_url=False, include_input=True)
            unknown.update(tuple(p["loc"]) for p in problems)
        else:
            return Read(table=table, faults=faults, unknown=frozenset(unknown))
    return Read(table=None, faults=faults, unknown=frozenset(unknown))


def and_more(count: int) -> Fault:
    """Return what stands for the faults that are told no more one by one."""
    return Fault(
        code="many-faults",
        field="",
        found=f"{count} faults more",
        allowed="a job or workshop file",
        do="Mend the ones told, or name the right file; then the others are told.",
    )


def _fault(model: type[BaseModel], problem: ErrorDetails) -> Fault:
    path: Path = tuple(problem["loc"])
    kind, context, value = problem["type"], problem.get("ctx", {}), problem["input"]
    field = path_text(path)
    if kind == "told":
        found, allowed, do = context["found"], context["allowed"], context["do"]
        return Fault(code=context["code"], field=field, found=found, allowed=allowed, do=do)
    if kind == "extra_forbidden":
        return _unknown_field(model, path)
    allowed = allowed_at(model, path)
    if kind == "missing":
        do = f"Write `{path[-1]} = …`."
        return Fault(code="missing", field=field, found="nothing", allowed=allowed, do=do)
    return Fault(code="type", field=field, found=show(value), allowed=allowed, do="Write it as the examples do.")


def _unknown_field(model: type[BaseModel], path: Path) -> Fault:
    inner = table_at(model, path[:-1])
    known = list(inner.model_fields) if inner else []
    word = str(path[-1])
    near = nearest(word, known)
    do = f'Did you mean "{near}"?' if near else "Delete it, or choose one of these."
    return Fault(
        code="unknown-field",
        field=path_text(path),
        found=f'a field "{word}" that no such table has',
        allowed=", ".join(known),
        do=do,
    )


def table_at(model: type[BaseModel], path: Sequence[Key]) -> type[BaseModel] | None:
    """Return the class of the table that stands at a path, or None where none does."""
    kind: object = model
    for key in path:
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            info = kind.model_fields.get(str(key))
            kind = _plain(info.annotation) if info else None
        else:
            args = get_args(kind)
            kind = _plain(args[-1]) if args else None
    return kind if isinstance(kind, type) and issubclass(kind, BaseModel) else None


def _plain(annotation: object) -> object:
    """Return what stands beside None in `X | None`."""
    if get_origin(annotation) in {list, dict, tuple}:
        return annotation
    parts = [a for a in get_args(annotation) if a is not type(None)]
    return parts[0] if len(parts) == 1 and get_origin(annotation) is not type else annotation


def _info_at(model: type[BaseModel], path: Path) -> FieldInfo | None:
    inner = table_at(model, path[:-1])
    return inner.model_fields.get(str(path[-1])) if inner else None


def rule_of(info: FieldInfo) -> Rule | None:
    """Return the rule by which a field is read, or None where it is a table or a list of tables."""
    return next((m for m in info.metadata if isinstance(m, Rule)), None)


def allowed_at(model: type[BaseModel], path: Path) -> str:
    """Return what may stand at a path, in words."""
    info = _info_at(model, path)
    if info is None:
        return "a table of its own, in brackets or braces"
    rule = rule_of(info)
    if rule is not None:
        return rule.allowed
    origin = get_origin(_plain(info.annotation))
    if origin is list:
        return "a list of tables"
    return "tables, each with a code of its own" if origin is dict else "a table"


def _stand_in(model: type[BaseModel], raw: object, path: Path, kind: str) -> None:
    """Put a default or example in the place of what is wrong at `path`."""
    if not path:
        return
    outer = raw
    for index, key in enumerate(path[:-1]):
        inner = _child(outer, key)
        if not isinstance(inner, dict | list):  # a word that stands for a table
            path = path[: index + 1]
            break
        outer = inner
    last = path[-1]
    if isinstance(outer, list) and isinstance(last, int):
        outer[last] = {}
        return
    info = _info_at(model, path)
    if isinstance(outer, dict):
        outer.pop(last, None)
        if info is not None and info.is_required() and kind != "extra_forbidden":
            outer[last] = copy.deepcopy(info.examples[0]) if info.examples else {}
        elif info is None and kind != "extra_forbidden":
            outer[last] = {}


def _child(outer: object, key: Key) -> object:
    if isinstance(outer, dict):
        return outer.get(key)
    return outer[key] if isinstance(outer, list) and isinstance(key, int) and key < len(outer) else None
