"""The reference of both files, and their JSON Schemas for editors, made from the classes that read them.

    python -m storyrod.adapters.files.reference

writes `docs/job-file.md`, `docs/workshop-file.md`, the schemas in `src/storyrod/data/schemas/` and the packaged
workshop ready read. A test fails as long as they are not up to date.
"""

from __future__ import annotations

import inspect
import json
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from storyrod.adapters.files._fields import Length, Lengths, Number, Share, Table
from storyrod.adapters.files._job_file import JobTable
from storyrod.adapters.files._read import rule_of
from storyrod.adapters.files._reference_words import JOB_WORDS, WORKSHOP_WORDS
from storyrod.adapters.files._snapshot import NAME, snapshot_of
from storyrod.adapters.files._workshop_file import WorkshopTable
from storyrod.adapters.files._workshop_reading import read_packaged
from storyrod.adapters.files.methods import MethodTable

DIALECT = "https://json-schema.org/draft/2020-12/schema"
"""The name of the dialect of JSON Schema; nothing is fetched from there."""


def files() -> dict[str, str]:
    """Return what each generated file must hold, by its path from the project's root."""
    return {
        "docs/job-file.md": job_reference(),
        "docs/workshop-file.md": workshop_reference(),
        "src/storyrod/data/schemas/job.schema.json": _json(job_schema()),
        "src/storyrod/data/schemas/workshop.schema.json": _json(workshop_schema()),
        f"src/storyrod/data/{NAME}": snapshot_of(read_packaged()),
    }


def _json(schema: dict[str, Any]) -> str:
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


# --- JSON Schema ------------------------------------------------------------------------------------------------------


def job_schema() -> dict[str, Any]:
    """Return the JSON Schema of a job file."""
    return _schema(JobTable, "storyrod-job", "A storyrod job file")


def workshop_schema() -> dict[str, Any]:
    """Return the JSON Schema of a workshop file, methods included."""
    schema = _schema(WorkshopTable, "storyrod-workshop", "A storyrod workshop file")
    methods = _schema(MethodTable, "", "A joining method")
    definitions = methods.pop("$defs")
    for name in ("$schema", "$id"):
        methods.pop(name)
    methods.pop("required", None)  # a method `like` another takes over what it does not give
    schema["$defs"] = dict(sorted({**schema["$defs"], **definitions, "MethodTable": methods}.items()))
    schema["properties"]["methods"] |= {"additionalProperties": {"$ref": "#/$defs/MethodTable"}}
    return schema


def _schema(root: type[Table], name: str, title: str) -> dict[str, Any]:
    made = root.model_json_schema()
    for table in (root, *_tables_in(root)):
        part = made if table is root and "properties" in made else made["$defs"][table.__name__]
        _describe(table, part)
    plain = _without_nulls(made)
    return {"$schema": DIALECT, "$id": name, **plain, "title": title}


def _describe(table: type[Table], part: dict[str, Any]) -> None:
    """Give every field the range that may stand there, since an editor shows nothing else of it."""
    whole = next((p for p in part.get("anyOf", ()) if "properties" in p), part)
    whole.pop("title", None)
    whole["description"] = _first_line(table)
    for name, info in table.model_fields.items():
        field = whole["properties"][name]
        field.pop("title", None)
        rule = rule_of(info)
        if rule is not None:
            field["description"] = f"{info.description} Allowed: {rule.allowed}."


def _without_nulls(value: Any) -> Any:  # noqa: ANN401 - any part of a schema
    if isinstance(value, dict):
        kept = {k: _without_nulls(v) for k, v in value.items() if not (k == "default" and v is None)}
        choices = [c for c in kept.get("anyOf", ()) if c != {"type": "null"}]
        if len(choices) == 1:
            kept.pop("anyOf")
            kept = {**choices[0], **kept}
        elif choices:
            kept["anyOf"] = choices
        return kept
    return [_without_nulls(v) for v in value] if isinstance(value, list) else value


# --- The pages --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Section:
    head: str
    table: type[Table]


def job_reference() -> str:
    """Return the page that tells every field of a job file."""
    return _page(JOB_WORDS, JobTable)


def workshop_reference() -> str:
    """Return the page that tells every field of a workshop file; methods have a page of their own."""
    return _page(WORKSHOP_WORDS, WorkshopTable)


def _page(words: str, root: type[Table]) -> str:
    note = "<!-- Made by `python -m storyrod.adapters.files.reference`: change the classes, not this page. -->"
    sections = "\n\n".join(_section(s) for s in _sections(root))
    return f"{note}\n\n{words.strip()}\n\n{sections}\n"


def _section(section: _Section) -> str:
    rows = [
        f"| `{name}` | {_cell(info.description or '')} | {_cell(_allowed(info))} | {_cell(_usual(info))} |"
        for name, info in section.table.model_fields.items()
    ]
    told = " ".join(inspect.getdoc(section.table).split()) if section.table.__doc__ else ""  # type: ignore[union-attr]
    head = ["| field | meaning | allowed | usual |", "| --- | --- | --- | --- |"]
    return "\n".join([f"## {section.head}", "", told, "", *head, *rows])


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _sections(root: type[Table]) -> list[_Section]:
    found = [_Section("At the top of the file", root)]
    seen = {root}
    waiting: list[tuple[str, type[Table]]] = [("", root)]
    while waiting:
        outer, table = waiting.pop(0)
        for name, info in table.model_fields.items():
            inner, many, keyed = _inner(info.annotation)
            if inner is None or inner in seen:
                continue
            seen.add(inner)
            path = f"{outer}.{name}" if outer else name
            head = f"`[{path}.CODE]`" if keyed else f"`[[{path}]]`" if many else f"`[{path}]`"
            found.append(_Section(head, inner))
            waiting.append((f"{path}.CODE" if keyed else path, inner))
    return found


def _inner(annotation: object) -> tuple[type[Table] | None, bool, bool]:
    """Return the table that a field holds, whether many of them, and whether each has a code as its key."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation, False, False
    origin, args = get_origin(annotation), get_args(annotation)
    for part in args:
        inner, many, keyed = _inner(part)
        if inner is not None:
            return inner, many or origin is list, keyed or origin is dict
    return None, False, False


def _tables_in(root: type[Table]) -> Iterator[type[Table]]:
    for section in _sections(root)[1:]:
        yield section.table


def _first_line(table: type[BaseModel]) -> str:
    return (inspect.getdoc(table) or "").split("\n\n")[0].replace("\n", " ")


def _allowed(info: FieldInfo) -> str:
    rule = rule_of(info)
    if rule is not None:
        return rule.allowed
    inner, many, keyed = _inner(info.annotation)
    if inner is None:
        return "tables, each with a code of its own"
    return "tables, each with a code of its own" if keyed else "a list of tables" if many else "a table"


def _usual(info: FieldInfo) -> str:
    if info.is_required():
        return "**needed**"
    value = info.get_default(call_default_factory=True)
    rule = rule_of(info)
    if rule is None or value in (None, "", (), {}) or isinstance(value, Share):
        return ""
    if isinstance(value, bool):
        return "`true`" if value else "`false`"
    if isinstance(value, StrEnum):
        return f'`"{value.value}"`'
    if isinstance(value, str):
        return f'`"{value}"`'
    unit = "mm" if isinstance(rule, Length | Lengths) else rule.unit if isinstance(rule, Number) else ""
    if isinstance(value, tuple):
        return f"`[{', '.join(f'{v:g}' for v in value)}]` {unit}"
    return f"{value:g} {unit}".rstrip()


def main(root: Path) -> None:
    """Write the generated files below the project's root."""
    for name, text in files().items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        sys.stdout.write(f"{name}\n")


if __name__ == "__main__":
    main(Path(__file__).resolve().parents[4])
