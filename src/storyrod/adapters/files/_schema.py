"""JSON Schema of the files, so that an editor marks what would be refused: made from the fields of the model."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Any, Final

from storyrod.adapters.files._patterns import AMOUNT, length_schema
from storyrod.adapters.files._tables import about, alone_in, sections, table_of
from storyrod.model.as_built import AsBuilt
from storyrod.model.batch import BatchFile
from storyrod.model.job import Job
from storyrod.model.method import Method
from storyrod.model.study import Study
from storyrod.model.wish import Wish
from storyrod.model.workshop import Workshop
from storyrod.model.written import (
    Amount,
    CaseCode,
    Choice,
    Choices,
    Field,
    Flag,
    Free,
    Length,
    Lengths,
    Many,
    Names,
    Number,
    OneOf,
    Rule,
    Share,
    Size,
    Text,
)

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
"""The name of the dialect of JSON Schema; nothing is fetched from there."""


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of a job file."""
    return _root(Job, "storyrod-job", "A storyrod job file", _kinds(Job))


def as_built_schema() -> dict[str, Any]:
    """Return the JSON Schema of an as-built file."""
    return _root(AsBuilt, "storyrod-as-built", "A storyrod as-built file", _kinds(AsBuilt))


def workshop_schema() -> dict[str, Any]:
    """Return the JSON Schema of a workshop file, methods included."""
    found = _root(Workshop, "storyrod-workshop", "A storyrod workshop file", {**_kinds(Workshop), **_kinds(Method)})
    method = _table(Method)
    del method["required"]  # a method `like` another takes over what it does not give
    found["$defs"] = dict(sorted({**found["$defs"], "Method": method}.items()))
    found["properties"]["methods"] |= {"additionalProperties": {"$ref": "#/$defs/Method"}}
    return found


def study_schema() -> dict[str, Any]:
    """Return the JSON Schema of a study file."""
    return _root(Study, "storyrod-study", "A storyrod study file", _kinds(Study))


def batch_schema() -> dict[str, Any]:
    """Return the JSON Schema of a batch file."""
    return _root(BatchFile, "storyrod-batch", "A storyrod batch file", _kinds(BatchFile))


def wish_schema() -> dict[str, Any]:
    """Return the JSON Schema of a wish file."""
    return _root(Wish, "storyrod-wish", "A storyrod wish file", _kinds(Wish))


def _kinds(root: type) -> Mapping[str, type]:
    return {s.table.__name__: s.table for s in sections(root) if s.table is not root}


def _root(kind: type, name: str, title: str, parts: Mapping[str, type]) -> dict[str, Any]:
    inner = {n: _table(parts[n]) for n in sorted(parts)}
    return {"$schema": DIALECT, "$id": name, "$defs": inner, **_table(kind), "title": title}


def _table(kind: type) -> dict[str, Any]:
    fields = table_of(kind).values()
    made: dict[str, Any] = {
        "additionalProperties": False,
        "description": about(kind),
        "properties": {of.name: _field(of) for of in fields},
    }
    if needed := [of.name for of in fields if of.needed]:
        made["required"] = needed
    made["type"] = "object"
    alone = alone_in(kind)
    if alone is None or alone.rule is None:
        return made
    return {"anyOf": [_of_rule(alone.rule), made]}


def _field(of: Field) -> dict[str, Any]:
    made = _plain_field(of)
    return made if of.told.example is None else {**made, "examples": [of.told.example]}


def _plain_field(of: Field) -> dict[str, Any]:
    if of.rule is not None:
        made = {**_of_rule(of.rule), "description": f"{of.told.words} Allowed: {of.rule.allowed}."}
        usual = of.usual
        if usual is not None and not of.needed:
            plain = usual.value if isinstance(usual, StrEnum) else usual
            made["default"] = list(plain) if isinstance(plain, tuple) else plain
        return made
    assert of.table is not None  # noqa: S101 - a field without a rule holds tables
    inner = {"$ref": f"#/$defs/{of.table.__name__}"}
    words = {"description": of.told.words}
    if of.many is Many.LIST:
        return {"type": "array", "items": inner, **words}
    return {"type": "object", "additionalProperties": inner, **words} if of.many is Many.KEYED else {**inner, **words}


def _of_rule(rule: Rule) -> dict[str, Any]:  # noqa: C901, PLR0912 - one case for each kind of rule
    """Return the JSON Schema of what a rule lets stand."""
    match rule:
        case Length(low, high):
            return {**length_schema(low, high), "examples": [18, "60 cm", '23 5/8"']}
        case Size(low, high):
            return {**length_schema(low, high, or_parts=True), "examples": [140, "2 parts"]}
        case Lengths(low, high, least):
            return {"type": "array", "items": length_schema(low, high), "minItems": least}
        case Number(low, high):
            return {"type": "integer" if rule.whole else "number", "minimum": low, "maximum": high}
        case Amount():
            written = {"minimum": 0, "maximum": 1_000_000, "pattern": AMOUNT}
            return {"type": ["number", "string"], **written, "examples": [62.5]}
        case Share(low, high):
            written = {"minimum": low, "maximum": high, "pattern": r"^\s*\d{1,4}([.,]\d+)?\s*%\s*$"}
            return {"type": ["number", "string"], **written, "examples": ["15 %"]}
        case Text(least, most):
            return {"type": "string", "minLength": least, "maxLength": most}
        case CaseCode(most):
            plain = r"\s!-,./:-@\[-^`{-~"  # what editors must mark; dashes and underscores are left in
            return {"type": "string", "minLength": 1, "maxLength": most, "pattern": f"^[^{plain}_-][^{plain}]*$"}
        case Names(least, most):
            return {"type": "array", "items": {"type": "string"}, "minItems": least, "maxItems": most}
        case Flag():
            return {"type": "boolean"}
        case Choice():
            return {"type": "string", "enum": list(rule.values)}
        case Choices():
            return {"type": "array", "items": {"type": "string", "enum": [v.value for v in rule.kind]}}
        case Free(many):
            return {"type": "array", "minItems": 1} if many else {"type": ["number", "string"]}
        case OneOf(numbers):
            return {"type": "integer", "enum": list(numbers)}
        case _:
            return {"type": "object"}
