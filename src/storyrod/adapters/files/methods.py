"""Reading joining methods: those that come with the package, and those that a maker adds or corrects.

A table of methods is keyed by the method's code. A method may be made `like` another one: it takes over every figure
of that one which it does not give itself. `docs/methods.md` tells the fields.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from typing import Any

from storyrod.adapters.files._fields import nearest, show
from storyrod.adapters.files._lines import path_text
from storyrod.adapters.files._made import made
from storyrod.adapters.files._method_checks import check_method
from storyrod.adapters.files._open import data_text
from storyrod.adapters.files._read import read_table
from storyrod.adapters.files._tables import in_mm
from storyrod.faults import Fault, JobError, joined, raise_if_any
from storyrod.measure.length import Unit
from storyrod.measure.writing import LengthWriter
from storyrod.model.job import JointClass
from storyrod.model.method import Method


def methods_from(table: dict[str, object], unit: Unit, where: str) -> tuple[Method, ...]:
    """Return the methods of a table keyed by code, in its order.

    Bare numbers are in `unit`. `where` is the table's own path, such as `methods`. A method `like` another finds it
    in the same table or among those of the package.

    Raises:
        JobError: every fault of every method, each with its path.
    """
    found: list[Method] = []
    faults: list[Fault] = []
    for code, written in table.items():
        place = joined(where, path_text((code,)))
        try:
            method = _method(code, _filled(code, written, table, place), unit, place)
        except JobError as error:
            faults.extend(error.faults)
        else:
            found.append(method)
    raise_if_any(faults)
    return tuple(found)


@cache
def packaged_methods() -> tuple[Method, ...]:
    """Return the methods that come with the package."""
    return methods_from(dict(_packaged()), Unit.MM, "methods")


@cache
def _packaged() -> Mapping[str, Any]:
    return {code: in_mm(Method, m) for code, m in tomllib.loads(data_text("methods.toml"))["methods"].items()}


def _filled(code: str, written: object, table: Mapping[str, object], place: str, depth: int = 0) -> dict[str, object]:
    """Return the written method with what it takes over from the one it is like."""
    if not isinstance(written, Mapping):
        raise JobError(
            Fault(
                code="type",
                field=place,
                found=show(written),
                allowed="a table with the method's figures",
                do="Write the method as a table of its own.",
            )
        )
    own = dict(written)
    like = own.get("like")
    if not isinstance(like, str) or not like:
        return own
    known = {**_packaged(), **{k: v for k, v in table.items() if k != code}}
    if like not in known or depth > 10:
        near = nearest(like, tuple(known))
        raise JobError(
            Fault(
                code="unknown-name",
                field=joined(place, "like"),
                found=show(like),
                allowed=f"the code of another method: {', '.join(known)}",
                do=f'Did you mean "{near}"?' if near and near != like else "Write the code of another method.",
            )
        )
    base = _filled(like, known[like], known, place, depth + 1)
    for part in ("rules", "work"):
        if isinstance(base.get(part), Mapping) and isinstance(own.get(part), Mapping):
            own[part] = {**_mapping(base[part]), **_mapping(own[part])}
    return {**base, **own, "like": ""}


def _mapping(value: object) -> dict[str, object]:
    return dict(value) if isinstance(value, Mapping) else {}


def _method(code: str, written: dict[str, object], unit: Unit, place: str) -> Method:
    told = read_table(Method, written, unit)
    if told.faults or told.table is None:
        raise JobError(*told.faults).under(place)
    read = told.table
    classes, faults = _classes(read["classes"], joined(place, "classes"))
    method = made(Method, read, place, code=code, name=read["name"] or code, classes=classes)
    connectors = tuple(s["connector_length"] for s in read["sizes"])
    raise_if_any((*faults, *check_method(method, connectors, place, LengthWriter(unit).told)))
    return method


def _classes(words: tuple[str, ...], place: str) -> tuple[tuple[JointClass, ...], list[Fault]]:
    known = {c.value: c for c in JointClass}
    faults: list[Fault] = []
    for i, word in enumerate(words):
        if word not in known:
            near = nearest(word, tuple(known))
            faults.append(
                Fault(
                    code="choice",
                    field=f"{place}[{i}]",
                    found=show(word),
                    allowed=", ".join(known),
                    do=f'Did you mean "{near}"?' if near else "Write one of these words.",
                )
            )
    return tuple(known[w] for w in words if w in known), faults
