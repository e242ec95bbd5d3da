"""The reference pages and the schemas say what the readers do, and are up to date."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from storyrod.adapters.files._patterns import length_schema
from storyrod.adapters.files._read import read_table
from storyrod.adapters.files._schema import job_schema, workshop_schema
from storyrod.adapters.files._tables import about, sections
from storyrod.adapters.files.reference import (
    files,
    job_reference,
    main,
    workshop_reference,
)
from storyrod.faults import JobError
from storyrod.measure.length import LONGEST, Unit, parse_length
from storyrod.model.job import Job
from storyrod.model.workshop import Workshop
from storyrod.model.written import Choice
from tests.places import EXAMPLES, ROOT

AGAIN = "Run `python -m storyrod.adapters.files.reference` and look at what changed."
WORKSHOPS = [EXAMPLES / "choir-workshop.toml", ROOT / "src/storyrod/data/workshop.toml"]


def test_the_generated_files_are_up_to_date() -> None:
    for name, text in files().items():
        assert (ROOT / name).read_text(encoding="utf-8") == text, AGAIN


def test_they_are_written_below_the_root_that_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(tmp_path)

    assert {str(p.relative_to(tmp_path)) for p in tmp_path.rglob("*.*")} == set(files())
    assert "docs/job-file.md" in capsys.readouterr().out


@pytest.mark.parametrize("schema", [job_schema(), workshop_schema()], ids=["job", "workshop"])
def test_the_schemas_are_good_schemas(schema: dict[str, Any]) -> None:
    Draft202012Validator.check_schema(schema)
    assert '"default": null' not in json.dumps(schema)


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda p: p.name)
def test_every_example_goes_through_its_schema(path: Path) -> None:
    schema = workshop_schema() if path in WORKSHOPS else job_schema()

    assert not list(Draft202012Validator(schema).iter_errors(tomllib.loads(path.read_text(encoding="utf-8"))))


def test_the_packaged_files_go_through_the_workshop_schema() -> None:
    validator = Draft202012Validator(workshop_schema())
    for name in ("workshop.toml", "methods.toml"):
        text = (ROOT / "src/storyrod/data" / name).read_text(encoding="utf-8")
        assert not list(validator.iter_errors(tomllib.loads(text)))


@pytest.mark.parametrize(
    "wrong",
    [
        {"cases": []},
        {"boards": {"a": {"kind": "plywood"}}, "cases": []},
        {"boards": {"a": {"kind": "straw", "thickness": 18}}, "cases": []},
        {"boards": {}, "cases": [{"code": "A", "widht": 3}]},
        {"boards": {}, "cases": [{"code": "A", "width": True}]},
        {"boards": {}, "cases": [{"code": "A", "width": "abc"}]},
        {"boards": {}, "cases": [{"code": "A", "width": "60 dm"}]},
        {"boards": {}, "cases": [{"code": "A", "width": 6000}]},
        {"boards": {}, "cases": [{"code": "A", "width": -600}]},
        {"boards": {"a": {"kind": "plywood", "thickness": 18, "sheets": [{"price": "much"}]}}, "cases": []},
        {"boards": {}, "cases": [{"code": "A", "inside": {"rows": [{"height": "2 shares"}]}}]},
        {"boards": {}, "cases": [{"code": "A", "back": "rabbeted"}]},
        {"boards": {}, "cases": [{"code": "A", "inside": {"rows": [{"holds": "drawers"}]}}]},
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(wrong: dict[str, Any]) -> None:
    assert list(Draft202012Validator(job_schema()).iter_errors(wrong))


PIECES = (
    "1",
    "23",
    "0",
    "5",
    ".",
    ",",
    "/",
    " ",
    "-",
    "+",
    '"',
    "'",
    "''",
    "mm",
    "cm",
    "m",
    "in",
    "ft",
    "MM",
    "abc",
    "\u2032",
)


@given(pieces=st.lists(st.sampled_from(PIECES), min_size=1, max_size=6), unit=st.sampled_from(Unit))
def test_a_length_goes_through_the_schema_where_either_unit_would_read_it(pieces: list[str], unit: Unit) -> None:
    """A schema knows no unit: it may let through what the other unit reads, and refuses what neither does."""
    written = "".join(pieces)
    passes = Draft202012Validator(length_schema(-LONGEST, LONGEST)).is_valid(written)

    assert passes == any(_is_length(written, u) for u in Unit)
    assert passes or not _is_length(written, unit)


def _is_length(written: str, unit: Unit) -> bool:
    try:
        parse_length(written, unit)
    except JobError as error:
        return "longer" in error.faults[0].found
    return True


@pytest.mark.parametrize("root", [Job, Workshop])
def test_every_field_has_its_meaning_and_every_table_its_sentence(root: type) -> None:
    for section in sections(root):
        assert about(section.table).endswith(".")
        assert "Attributes" not in about(section.table)
        for name, of in section.fields.items():
            assert of.told.words.endswith("."), f"{section.head}: {name}"
            assert of.rule or of.table, f"{section.head}: {name}"
            if of.told.only is not None:
                deciding = section.fields[of.told.only[0]].rule
                assert isinstance(deciding, Choice)
                assert set(of.told.only[1]) < set(deciding.values), name
            if of.needed:  # what stands in for it can be read itself
                assert read_table(section.table, {name: of.told.example}, Unit.MM).unknown.isdisjoint({(name,)}), name


def test_every_field_stands_in_its_page() -> None:
    for page, root in ((job_reference(), Job), (workshop_reference(), Workshop)):
        for section in sections(root):
            assert f"## {section.head}\n" in page
            for name in section.fields:
                assert f"| `{name}` |" in page
