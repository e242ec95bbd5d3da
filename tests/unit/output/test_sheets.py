"""Sheets as files and data: drawings to scale, the saw's list as CSV, and what plan.json says."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from functools import cache

import ezdxf
import pytest
from ezdxf.entities.lwpolyline import LWPolyline

from storyrod.adapters.files import read_job
from storyrod.adapters.output import plan_document
from storyrod.adapters.output._sheets import SAW_COLUMNS, saw_list_csv
from storyrod.adapters.printing._plan_files import plan_files
from storyrod.model.board import SheetSize
from storyrod.planning import Plan
from storyrod.telling.purposes import Purpose
from storyrod.telling.sheets import step_numbers
from tests.places import EXAMPLES


@cache
def plan() -> Plan:
    """Return the plan of two kinds of low units."""
    read = read_job(EXAMPLES / "low-units.toml")
    return Plan(read.job, read.workshop)


def made(name: str) -> bytes:
    """Return the bytes of one file of the plan."""
    return next(f for f in plan_files(plan()) if f.name == name).make()


def test_every_sheet_has_its_drawings() -> None:
    names = {f.name for f in plan_files(plan(), prints=[Purpose.LABELS])}

    for sheet in plan().sheets.sheets:
        assert {f"sheets/{sheet.name}.dxf", f"sheets/{sheet.name}.svg"} <= names
    assert {"saw-list.csv", "labels.pdf"} <= names


def test_a_sheet_s_dxf_is_at_true_size() -> None:
    sheet = plan().sheets.sheets[0]
    document = ezdxf.read(io.StringIO(made(f"sheets/{sheet.name}.dxf").decode()))  # type: ignore[attr-defined]

    found = document.modelspace().query('LWPOLYLINE[layer=="PARTS"]')
    outlines = [p.get_points("xy") for p in found if isinstance(p, LWPolyline)]
    sizes = sorted((round(p[2][0] - p[0][0], 2), round(p[2][1] - p[0][1], 2)) for p in outlines)
    assert sizes == sorted((round(p.length, 2), round(p.width, 2)) for p in sheet.placements)


def test_the_saw_s_list_has_a_row_for_each_step() -> None:
    rows = list(csv.DictReader(io.StringIO(saw_list_csv(plan()))))

    assert tuple(rows[0]) == SAW_COLUMNS
    assert len(rows) == sum(len(s.steps) for s in plan().saw_lists)
    assert all(row["set to"] for row in rows)


def test_trims_say_what_comes_off_first_and_what_is_left_then() -> None:
    """8 off the first edge, kerf counted; on a sheet that one part fills, its own size is left between the edges."""
    part = next(p for p in plan().parts if p.mark == "D5")
    boards = tuple(
        replace(b, sheets=(SheetSize(length=part.length + 16.0, width=part.width + 16.0, price_cents=100),))
        if b.code == part.board
        else b
        for b in plan().job.boards
    )
    snug = Plan(replace(plan().job, boards=boards), replace(plan().workshop, rack=()))

    assert trims(plan()) == {("trim end", "8 off"), ("trim long edge", "8 off")}
    assert trims(snug) >= trims(plan()) | {("trim end", "764.6 left"), ("trim long edge", "553.9 left")}


def trims(of: Plan) -> set[tuple[str, str]]:
    rows = csv.DictReader(io.StringIO(saw_list_csv(of)))
    settings = {(row["what"], one) for row in rows for one in row["set to"].split(" / ")}
    return {(what, one) for what, one in settings if what.startswith("trim")}


def test_plan_json_tells_sheets_and_steps() -> None:
    told = json.loads(json.dumps(plan_document(plan())))

    assert [s["name"] for s in told["sheets"]] == [s.name for s in plan().sheets.sheets]
    parts = sorted((p["part"], p["copy"]) for s in told["sheets"] for p in s["placements"])
    assert parts == sorted((p["id"], n) for p in told["panels"] for n in range(1, p["count"] + 1))
    for at in told["cutting"]:
        sheets = {s["name"]: s for s in told["sheets"] if s["board"] == at["board"]}
        cuts = sorted((c["sheet"], c["cut"]) for step in at["steps"] for c in step["cuts"])
        assert cuts == sorted((n, c["number"]) for n, s in sheets.items() for c in s["cuts"])


def test_each_cut_of_a_sheet_has_its_step() -> None:
    for at, saw in zip(plan().sheets.boards, plan().saw_lists, strict=True):
        for sheet in at.sheets:
            assert sorted(step_numbers(saw, sheet)) == [c.number for c in sheet.cuts]


def test_a_longer_search_replaces_the_sheets_and_all_that_follows() -> None:
    read = read_job(EXAMPLES / "first-box.toml")
    one = Plan(read.job, read.workshop)
    before = one.sheets, one.saw_lists, one.part_labels
    heard: list[str] = []
    other = one.with_sheets_laid_out(0.2, progress=lambda p: heard.append(p.board))

    assert other.sheets is not before[0]
    assert other.saw_lists is not before[1]
    assert (one.sheets, one.saw_lists, one.part_labels) == before
    assert other.sheets.cents <= before[0].cents
    assert set(heard) <= {"birch18"}


@pytest.mark.parametrize("name", ["rehearsal-room.toml"])
def test_the_same_job_gives_the_same_sheets(name: str) -> None:
    read = read_job(EXAMPLES / name)

    assert Plan(read.job, read.workshop).sheets == Plan(read.job, read.workshop).sheets
