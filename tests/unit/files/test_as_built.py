"""The as-built file is read strictly, written whole, and nothing recorded is ever deleted."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from storyrod.adapters.files.as_built import (
    as_built_from_text,
    as_built_path,
    as_built_text,
    change_as_built,
    read_as_built,
    redone,
    undone,
)
from storyrod.faults import JobError
from storyrod.measure.length import Unit
from storyrod.model.as_built import AsBuilt, Slip, SlipKind, Taken
from storyrod.model.panel import Surface
from tests.places import ROOT

FACTS = AsBuilt(
    cut=("A2", "A3.1"),
    slips=(
        Slip(panel="A1", kind=SlipKind.ELSEWHERE, cuts=("J2",), across=-7.25, note="the fence slipped"),
        Slip(panel="A3", kind=SlipKind.SIZE, length=598.0, thickness=17.4, copy=2),
        Slip(panel="A4", kind=SlipKind.DAMAGE, surface=Surface.FACE_EDGE, from_end=10.0, from_edge=0.0, size=12.7),
        Slip(panel="A5", kind=SlipKind.LOST, taken_back=True, when="2026-12-01 10:12"),
    ),
    taken=(Taken(case="A", copy=2, moves=("turn A1 --+", "plug A1 3,4")),),
)


@pytest.mark.parametrize("unit", [*Unit])
def test_it_reads_back_what_it_writes(unit: Unit) -> None:
    assert as_built_from_text(as_built_text(FACTS, unit)) == FACTS


def test_what_it_writes_goes_through_the_schema() -> None:
    schema = json.loads((ROOT / "src/storyrod/data/schemas/as-built.schema.json").read_text(encoding="utf-8"))

    Draft202012Validator.check_schema(schema)
    for unit in Unit:
        assert not list(Draft202012Validator(schema).iter_errors(tomllib.loads(as_built_text(FACTS, unit))))


def test_every_fault_is_told_with_its_line() -> None:
    with pytest.raises(JobError) as error:
        as_built_from_text('[[slips]]\npanel = "A1"\nwhat = "broken"\nlenght = 3\n')

    assert [(f.code, f.field, f.line) for f in error.value.faults] == [
        ("choice", "slips[0].what", 3),
        ("unknown-field", "slips[0].lenght", 4),
    ]


def test_undo_and_redo_go_back_and_forth_and_delete_nothing() -> None:
    facts = AsBuilt(slips=(FACTS.slips[0], FACTS.slips[1]), taken=FACTS.taken)
    steps = [facts]
    for _ in range(3):
        steps.append(undone(steps[-1]))

    assert [len(s.standing) for s in steps] == [2, 2, 1, 0]
    assert [len(s.slips) for s in steps] == [2, 2, 2, 2]
    assert steps[1].taken_for("A", 2) == ()
    with pytest.raises(JobError):
        undone(steps[-1])
    back = redone(redone(redone(steps[-1])))
    assert back == facts
    with pytest.raises(JobError):
        redone(back)


def test_a_change_that_is_refused_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    job = tmp_path / "box.toml"
    change_as_built(job, Unit.MM, lambda _: FACTS)

    def refuse(facts: AsBuilt) -> AsBuilt:
        raise JobError

    with pytest.raises(JobError):
        change_as_built(job, Unit.MM, refuse)
    assert read_as_built(job) == FACTS
    assert [p.name for p in as_built_path(job).parent.iterdir()] == ["as-built.toml"]


def test_nothing_recorded_is_nothing(tmp_path: Path) -> None:
    assert read_as_built(tmp_path / "box.toml") == AsBuilt()
