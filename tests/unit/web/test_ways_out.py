"""Faults with a way out to press: each that is shown clears its fault by the change that hand edits make."""

from __future__ import annotations

import json
import re
from html import unescape

import pytest

from storyrod.adapters.files.editing import parsed
from tests.unit.web.conftest import AS_SCRIPT, Asked

JOB = """
title = "box"
[boards.b18]
kind = "plywood"
thickness = 18
[boards.b12]
kind = "plywood"
thickness = 12
[[cases]]
code = "A"
board = "b18"
width = 600
height = 720
depth = 400
"""

ROWS = "[cases.inside]\nrows = [{ height = 300 }, { height = 400 }, {}]\n"
PLINTH = "[cases.plinth]\nheight = 500\n[cases.inside]\nrows = [{ height = 120 }, { height = 120 }]\n"
DRAWER = '[cases.inside]\nholds = "drawer"\n'


def begun(asked: Asked, text: str) -> str:
    asked.settings.jobs.mkdir(parents=True, exist_ok=True)
    asked.job_file("box").write_text(text, encoding="utf-8")
    return "box"


def ways(asked: Asked, job: str, stage: str = "brief") -> dict[str, list[dict[str, object]]]:
    """Return the buttons beside the faults, by their words, with what each sends."""
    page = asked.client.get(f"/job/{job}/{stage}").text
    faults = page.split('id="faults"')[1].split("</section>")[0]
    return {
        unescape(words): json.loads(unescape(sent))
        for sent, words in re.findall(r'data-change="([^"]+)">([^<]+)</button>', faults)
    }


def faults_of(asked: Asked, job: str) -> list[tuple[str, str]]:
    return [(f.code, f.field) for f in asked.desk.job(job).faults]


@pytest.mark.parametrize(
    ("text", "first", "field"),
    [
        (JOB + ROWS, "Make the height of row 2 328", "cases[0].inside.rows"),
        (JOB + PLINTH, "Make it 426", "cases[0].plinth.height"),
        (
            JOB + "[cases.inside]\nrows = [{ height = 400 }, { height = 300 }]\n",
            "Leave the height of row 1 out",
            "cases[0].inside.rows",
        ),
        (JOB.replace("width = 600", "width = 6000"), "Make it 5000", "cases[0].width"),
        (JOB.replace('kind = "plywood"', 'kind = "plywod"', 1), "Make it plywood", "boards.b18.kind"),
        (
            JOB + "[cases.inside]\nrows = [{ height = 100 }, { height = 100 }]\n",
            "Leave the height of row 2 out",
            "cases[0].inside.rows",
        ),
        (JOB.replace("depth = 400", "depth = 200") + DRAWER, "Make it 255", "cases[0].depth"),
        (JOB + '[cases.drawers]\nrunner = "side lite"\n' + DRAWER, "Use side light", "cases[0].drawers.runner"),
        (
            JOB + '[cases.inside]\nrows = [{ height = 30, holds = "drawer" }, {}]\n',
            "Make it 73",
            "cases[0].inside.rows[0].height",
        ),
        (
            JOB + '[cases.inside]\nrows = [{ height = 60, holds = "door" }, {}]\n',
            "Make it 136",
            "cases[0].inside.rows[0].height",
        ),
        (
            JOB.replace("height = 720", "height = 2900") + '[cases.inside]\nholds = "door"\n',
            "Make the height 2403",
            "cases[0].inside",
        ),
        (
            JOB.replace('"b18"\nw', '"b12"\nw').replace("thickness = 12", "thickness = 5")
            + '[cases.fronts]\nboard = "b18"\n[cases.inside]\nholds = "door"\n',
            "Use b18",
            "cases[0].board",
        ),
        (
            JOB + '[cases.fronts.hand_hold]\nkind = "slot"\nlength = 20\nheight = 30\n' + DRAWER,
            "Make it 30",
            "cases[0].fronts.hand_hold.length",
        ),
        (JOB + '[methods]\ncorner = "dowls"\n', "Use dowels", "methods.corner"),
        (
            JOB + "[cases.plinth]\nheight = 100\nsetback = 395\n",
            "Make it 381",
            "cases[0].plinth.setback",
        ),
        (
            JOB + '[cases.back]\nkind = "grooved"\nboard = "b12"\ninset = 2\n',
            "Make it 3.5",
            "cases[0].back.inset",
        ),
        (
            JOB + "[cases.inside]\nrows = [{ loose_shelves = 30 }, {}]\n",
            "Make it 4",
            "cases[0].inside.rows[0].loose_shelves",
        ),
        (
            JOB + '[cases.fits]\ndepth = 410\nclearance = 2\n[cases.fronts]\nboard = "b12"\n' + DRAWER,
            "Make the depth 396",
            "cases[0].fits.depth",
        ),
        (
            JOB.replace("width = 600", "width = 1200")
            + '[methods]\nmid_panel = "carcass screws"\n[cases.inside]\ncolumns = [{ rows = [{ height = 300 }, {}] }, '
            "{ rows = [{ height = 300 }, {}] }]\n",
            "Use glued butt",
            "methods.mid_panel",
        ),
        (
            JOB + '[cases.fronts]\nboard = "b12"\n[cases.inside]\nholds = "door"\n',
            "Use b18",
            "cases[0].fronts.board",
        ),
        (
            JOB.replace("width = 600", "width = 85") + '[methods]\ncorner = "plain screws"\n',
            "Make the width 113",
            "cases[0].top",
        ),
        (
            JOB.replace("depth = 400", "depth = 90")
            + '[methods]\nplinth = "housing"\n[cases.plinth]\nheight = 80\nsetback = 40\nback_rail = true\n',
            "Use dowels for plinth joints",
            "cases[0]",
        ),
    ],
)
def test_every_way_that_is_shown_clears_its_fault(asked: Asked, text: str, first: str, field: str) -> None:
    """Each button is pressed on the job as it was: its fault is gone, and the file holds what the button says."""
    job = begun(asked, text)
    found = faults_of(asked, job)
    shown = ways(asked, job)

    assert field in {at for _, at in found}
    assert next(iter(shown)) == first
    for words, sent in shown.items():
        begun(asked, text)
        answer = asked.change(job, *sent)
        assert answer.status_code == 200, words
        left = faults_of(asked, job)
        assert len(left) < len(found), words
        assert set(left) < set(found), words


def test_joints_whose_cuts_meet_get_other_methods_that_the_workshop_makes(asked: Asked) -> None:
    """In a case 85 wide the screws of both sides meet in the top, and dowels would; biscuits go less deep."""
    job = begun(asked, JOB.replace("width = 600", "width = 85") + '[methods]\ncorner = "plain screws"\n')
    shown = ways(asked, job)

    assert list(shown) == [
        "Make the width 113",
        "Use biscuits for corner joints",
        "Use dowels for J1, top to left side",
        "Use dowels for J2, base to left side",
    ]
    assert shown["Use biscuits for corner joints"] == [{"path": "methods.corner", "act": "set", "value": "biscuits"}]
    assert ways(asked, job, "joints") == shown


def test_a_case_that_fills_a_place_is_not_made_larger_for_its_joints(asked: Asked) -> None:
    text = JOB.replace("width = 600\n", "") + "[cases.fits]\nwidth = 89\nclearance = 2\n"
    job = begun(asked, text + '[methods]\ncorner = "plain screws"\n')

    assert {code for code, _ in faults_of(asked, job)} == {"clash"}
    assert next(iter(ways(asked, job))) == "Use dowels for corner joints"


def test_one_joint_is_given_another_method_where_its_class_may_not(asked: Asked) -> None:
    """What the joint chooses for itself is changed there; the other joints of its class stay as they are."""
    own = '[[joints]]\ncase = "A"\nbetween = ["{}", "top"]\nmethod = "plain screws"\n'
    job = begun(asked, JOB.replace("width = 600", "width = 85") + own.format("left side") + own.format("right side"))
    shown = ways(asked, job)

    assert {code for code, _ in faults_of(asked, job)} == {"clash"}
    assert any(sent[0]["path"] == "joints[0].method" for sent in shown.values())


def test_a_way_that_would_bring_another_fault_is_not_shown(asked: Asked) -> None:
    """A width of 20 is out of range below 80; at 80 the connectors of both sides meet, so that no button says 80."""
    job = begun(asked, JOB.replace("width = 600", "width = 20"))

    assert faults_of(asked, job) == [("range", "cases[0].width")]
    assert ways(asked, job) == {}


def test_a_tall_plinth_is_blamed_itself_and_not_the_rows_above_it(asked: Asked) -> None:
    job = begun(asked, JOB + PLINTH)
    (fault,) = asked.desk.job(job).faults

    assert fault.field == "cases[0].plinth.height"
    assert fault.code == "plinth-height"


def test_the_ways_stand_on_the_drawing_too(asked: Asked) -> None:
    job = begun(asked, JOB)
    asked.client.get(f"/job/{job}/brief")  # drawn once, so that there is a drawing from before the fault
    asked.job_file(job).write_text(JOB + ROWS, encoding="utf-8")
    figure = asked.client.get(f"/job/{job}/brief").text.split('id="brief-figure"')[1].split("</figure>")[0]

    assert "Make the height of row 2 328</button>" in figure


def test_no_path_and_no_line_of_a_file_is_told_but_where_it_is_edited_as_text(asked: Asked) -> None:
    job = begun(asked, JOB + ROWS)
    for stage in ("brief", "overview?all=1", "sheets", "costs", "print", "set-ups", "bench", "joints"):
        page = re.sub(r"<[^>]+>", " ", asked.client.get(f"/job/{job}/{stage}").text)
        assert "cases[0]" not in page, stage
        assert "(line " not in page, stage
    answer = asked.change(job, {"path": "cases[0].width", "value": "6000"}).json()
    assert [f for f in answer["faults"] if "cases[0]" in f["words"]] == []
    assert "line" in asked.client.get(f"/job/{job}/text").text


def test_an_inch_job_gets_its_way_in_inches(asked: Asked) -> None:
    """29 1/2 high with two boards of 3/4 leaves 28; rows of 16 and 12 with a board between are 3/4 too much."""
    text = """
title = "box"
units = "in"
[boards.b]
kind = "plywood"
thickness = "3/4"
[[cases]]
code = "A"
width = 24
height = "29 1/2"
depth = 15
[cases.inside]
rows = [{ height = 16 }, { height = 12 }]
"""
    job = begun(asked, text)
    shown = ways(asked, job)
    words, sent = list(shown.items())[1]

    assert next(iter(shown)) == "Leave the height of row 1 out"
    assert words == 'Make the height of row 1 15 1/4"'
    assert asked.change(job, *sent).status_code == 200
    assert faults_of(asked, job) == []
    rows = parsed(asked.job_file(job).read_text(encoding="utf-8"))["cases"][0]["inside"]["rows"]
    assert rows[0]["height"] == '15 1/4"'
    assert asked.client.get(f"/job/{job}/brief", headers=AS_SCRIPT).status_code == 200
