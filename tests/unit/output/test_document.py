"""plan.json and the lists say what the plan says."""

from __future__ import annotations

import csv
import io
import json
import re

import pytest

from storyrod.adapters.files import packaged_workshop, read_job
from storyrod.adapters.output import plan_document
from storyrod.adapters.output._lists import as_csv, connector_list, cutting_list
from storyrod.adapters.printing._plan_files import plan_files
from storyrod.model.job import Back, BackKind, Job, Plinth
from storyrod.planning import Plan
from storyrod.telling.file_names import file_name
from tests.builders import case, drawer, job, opening, rows
from tests.places import EXAMPLES


def a_job(count: int = 1) -> Job:
    """Return one case with a drawer, a plinth and an applied back, made `count` times."""
    one = case(
        count=count,
        plinth=Plinth(height=80.0, setback=40.0, field="cases[0].plinth"),
        back=Back(kind=BackKind.APPLIED, board="b6", field="cases[0].back"),
        inside=rows(drawer(160.0), opening()),
    )
    return job(one)


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Return the plan of one such case."""
    return Plan(a_job(), packaged_workshop())


def test_panels_have_the_sizes_worked_by_hand(plan: Plan) -> None:
    """600 x 720 x 400 outside, 18 mm board, 6 mm applied back, plinth 80: see section "Panels" of the conventions."""
    sizes = {p["name"]: (p["length"], p["width"], p["thickness"]) for p in plan_document(plan)["panels"]}

    assert sizes["left side"] == sizes["right side"] == (720.0, 394.0, 18.0)
    assert sizes["top"] == sizes["base"] == (564.0, 394.0, 18.0)
    assert sizes["plinth"] == (564.0, 80.0, 18.0)
    assert sizes["back"] == (600.0, 640.0, 6.0)


def test_every_key_that_outside_checks_read_is_there(plan: Plan) -> None:
    told = json.loads(json.dumps(plan_document(plan)))

    panel_keys = {"id", "case", "role", "length", "width", "thickness", "board", "grain", "features"}
    assert all(panel_keys <= p.keys() for p in told["panels"])
    feature_keys = {"kind", "face", "u", "v", "depth"}
    assert all(feature_keys <= f.keys() for p in told["panels"] for f in p["features"])
    joint_keys = {"id", "kind", "receiving", "entering", "method", "length", "stations"}
    assert all(joint_keys <= j.keys() for j in told["joints"])
    assert told["connectors"]["dowels"] > 0


def test_copies_of_a_case_multiply_connectors_but_not_work(plan: Plan) -> None:
    three = Plan(a_job(3), packaged_workshop())

    one, many = plan_document(plan), plan_document(three)
    assert many["connectors"] == {m: 3 * n for m, n in one["connectors"].items()}
    assert [p["id"] for p in many["panels"]] == [p["id"] for p in one["panels"]]
    assert {p["count"] for p in many["panels"]} == {3}


def test_connectors_are_the_stations_of_the_joints(plan: Plan) -> None:
    told = plan_document(plan)
    stations = sum(len(j["stations"]) for j in told["joints"])

    assert sum(told["connectors"].values()) == stations


def test_the_cutting_list_names_every_panel(plan: Plan) -> None:
    listed = list(csv.DictReader(io.StringIO(cutting_list(plan))))

    assert {r["mark"] for r in listed} == {p.mark for c in plan.details.cases for p in c.panels}
    side = next(r for r in listed if r["panel"] == "left side")
    assert (side["finished length"], side["finished width"], side["count"]) == ("720", "394", "1")


def test_the_connector_list_has_connectors_and_hardware(plan: Plan) -> None:
    listed = list(csv.DictReader(io.StringIO(connector_list(plan))))

    assert {r["kind"] for r in listed} == {"connector", "hardware"}
    assert all(int(r["count"]) > 0 for r in listed)


def test_a_name_that_begins_like_a_formula_is_made_inert() -> None:
    from dataclasses import replace

    wicked = replace(a_job(), cases=(replace(a_job().cases[0], code="=1+1"),))
    text = cutting_list(Plan(wicked, packaged_workshop()))

    assert ",=" not in text
    assert "'=1+1" in text


@pytest.mark.parametrize(
    ("cell", "written"),
    [("=1", "'=1"), ("@a", "'@a"), ("-a", "'-a"), ("-5.5", "-5.5"), ("x;=1+1", "x;'=1+1"), ("a\n+b", "a\n'+b")],
)
def test_no_cell_of_any_list_is_a_formula_whatever_parts_it(cell: str, written: str) -> None:
    ((told,),) = list(csv.reader(io.StringIO(as_csv(("words",), [[cell]])), strict=True))[1:]

    assert told == written


@pytest.mark.parametrize(
    ("written", "wanted"),
    [("A.side-left", "A.side-left"), ("../../etc/x", "etc-x"), ("Ä_b c", "Ä_b-c"), ("", "unnamed"), ("a/b", "a-b")],
)
def test_file_names_are_never_paths(written: str, wanted: str) -> None:
    assert file_name(written) == wanted


def test_equal_jobs_have_equal_versions_and_documents(plan: Plan) -> None:
    again = Plan(a_job(), packaged_workshop())

    assert again.version == plan.version
    assert plan_document(again) == plan_document(plan)
    assert Plan(a_job(2), packaged_workshop()).version != plan.version


def test_jigs_are_written_at_full_size() -> None:
    """A jig's DXF is in mm, and its SVG is as wide on paper as the jig is in wood."""
    told = read_job(EXAMPLES / "low-units.toml")
    plan = Plan(told.job, told.workshop)
    files = {f.name: f for f in plan_files(plan) if f.name.startswith("jigs/")}

    assert {n.split("/")[1].split(".")[0] for n in files} == {j.id for j in plan.machining.jigs}
    jig = plan.machining.jigs[0]
    drawn = files[f"jigs/{jig.id}.svg"].make().decode()
    width = re.search(r'width="([\d.]+)mm"', drawn)
    assert width is not None
    assert float(width[1]) >= jig.end - jig.start
    assert "SECTION" in files[f"jigs/{jig.id}.dxf"].make().decode()
