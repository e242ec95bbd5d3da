"""Every way in which a job file can be wrong is told with its field, its line, what is allowed and what to do."""

# ruff: noqa: E501 - the table reads best with one wrong line a row

from __future__ import annotations

from dataclasses import dataclass

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.faults import Fault, JobError

GOOD = """\
format = 1
title = "Robes"
units = "mm"

[boards.ply]
kind = "plywood"
thickness = 18
edging = "tape"

[boards.thin]
kind = "mdf"
thickness = 6

[edgings.tape]
thickness = 1

[methods]
corner = "dowels"

[[joints]]
case = "A"
between = ["left side", "base"]
method = "biscuits"

[[cases]]
code = "A"
board = "ply"
width = 900
height = 800
depth = 400

[cases.plinth]
height = 80

[cases.back]
kind = "rebated"
board = "thin"

[cases.drawers]
runner = "side light"

[[cases.inside.columns]]
width = "2 parts"
rows = [
    { height = 140, holds = "drawer" },
    { loose_shelves = 1 },
]

[[cases.inside.columns]]
holds = "door"
"""


def told(text: str) -> tuple[Fault, ...]:
    """Return the faults of a text."""
    with pytest.raises(JobError) as caught:
        job_from_text(text, name="robes.toml")
    return caught.value.faults


def test_the_good_file_is_good() -> None:
    assert job_from_text(GOOD, name="robes.toml").job.title == "Robes"


@dataclass(frozen=True)
class Wrong:
    """One line of the good file put wrong, and what is told of it."""

    old: str
    new: str
    field: str
    line: int
    code: str
    says: str


WRONG = [
    Wrong("width = 900", "widht = 900\nwidth = 900", "cases[0].widht", 28, "unknown-field", 'Did you mean "width"?'),
    Wrong("title =", "tittle =", "tittle", 2, "unknown-field", 'Did you mean "title"?'),
    Wrong("loose_shelves = "
        "1", "shelfs = 1", "cases[0].inside.columns[0].rows[1].shelfs", 46, "unknown-field", "loose_shelves"),
    Wrong("width = 900", 'width = "wide"', "cases[0].width", 28, "length", '"wide"'),
    Wrong("width = 900", "width = true", "cases[0].width", 28, "length", "true"),
    Wrong("width = 900", "width = [900]", "cases[0].width", 28, "length", "a list"),
    Wrong("width = 900", "width = -900", "cases[0].width", 28, "range", "80 to 5000 mm"),
    Wrong("width = 900", "width = 0", "cases[0].width", 28, "range", "0 mm"),
    Wrong("width = 900", "width = nan", "cases[0].width", 28, "length", "not a number"),
    Wrong("width = 900", "width = inf", "cases[0].width", 28, "length", "endless"),
    Wrong("width = 900", "width = 1e300", "cases[0].width", 28, "length", "longer than any cabinet"),
    Wrong("width = 900", f"width = 1{'0' * 400}", "cases[0].width", 28, "length", "endless"),
    Wrong("width = 900", f'width = "1{"0" * 400}"', "cases[0].width", 28, "length", "endless"),
    Wrong("width = 900", 'width = "1/0 in"', "cases[0].width", 28, "length", "1/0 in"),
    Wrong("width = 900", "width = 1979-05-27", "cases[0].width", 28, "length", "a date"),
    Wrong("width = 900", "width = 40", "cases[0].width", 28, "range", "80 to 5000 mm"),
    Wrong("width = 900\n", "", "cases[0].width", 25, "missing", "outside width"),
    Wrong('code = "A"', 'code = "../A"', "cases[0].code", 26, "choice", "letters, figures, dashes"),
    Wrong('code = "A"', 'code = "A.1"', "cases[0].code", 26, "choice", "letters, figures, dashes"),
    Wrong('code = "A"', 'code = "\U0001f3b9"', "cases[0].code", 26, "choice", "letters, figures, dashes"),
    Wrong('title = "Robes"', 'title = "Robes \u202e x"', "title", 2, "range", "reverses the order of letters"),
    Wrong("thickness = 18", "thickness = 0", "boards.ply.thickness", 7, "range", "2 to 60 mm"),
    Wrong("thickness = 18\n", "", "boards.ply.thickness", 5, "missing", "2 to 60 mm"),
    Wrong("thickness = 18", "thickness = 18\nmeasured = 15", "boards.ply.measured", 8, "range", "within 2 mm"),
    Wrong("thickness = "
        "18", "thickness = 18\ndensity_kg_m3 = 7000", "boards.ply.density_kg_m3", 8, "range", "100 to 1500"),
    Wrong("thickness = 18", 'thickness = 18\nsheets = "big"', "boards.ply.sheets", 8, "type", "a list of tables"),
    Wrong("thickness = "
        "18", "thickness = 18\nsheets = [{ length = 2440 }]", "boards.ply.sheets[0].width", 8, "missing", "100 to 3000"),
    Wrong("thickness = 18", "thickness = 18\nsheets = [3]", "boards.ply.sheets[0]", 8, "type", "a table"),
    Wrong("thickness = "
        "18", "thickness = 18\nsheets = [{ length = 2440, width = 1220, price = 3.999 }]", "boards.ply.sheets[0].price", 8, "range", "two decimals"),
    Wrong('kind = "plywood"', 'kind = "plywod"', "boards.ply.kind", 6, "choice", 'Did you mean "plywood"?'),
    Wrong('kind = "plywood"', 'kind = "other"', "boards.ply.density_kg_m3", 5, "missing", "Weigh a piece"),
    Wrong('edging = "tape"', 'edging = "tap"', "boards.ply.edging", 8, "missing-edging", 'Did you mean "tape"?'),
    Wrong("format = 1", "format = 2", "format", 1, "choice", "allowed: 1"),
    Wrong('units = "mm"', 'units = "cm"', "units", 3, "choice", '"mm" or "in"'),
    Wrong('units = "mm"', "units = 3", "units", 3, "type", '"mm" or "in"'),
    Wrong('title = "Robes"', "title = 3", "title", 2, "type", "double quotes"),
    Wrong('title = "Robes"', 'title = "A\\u0007B"', "title", 2, "range", "control character"),
    Wrong('corner = "dowels"', 'corner = "dowls"', "methods.corner", 18, "missing-method", 'Did you mean "dowels"?'),
    Wrong('corner = "dowels"', 'corner = "screwed back"', "methods.corner", 18, "method-class", "back"),
    Wrong('case = "A"', 'case = "B"', "joints[0].case", 21, "missing-case", "allowed: the code of a case: A"),
    Wrong('"left side", "base"', '"base", "base"', "joints[0].between", 22, "joint", "two panels"),
    Wrong('"left side", "base"', '"base"', "joints[0].between", 22, "range", "2 names"),
    Wrong('method = "biscuits"', 'method = "glue"', "joints[0].method", 23, "missing-method", "biscuits"),
    Wrong('method = "biscuits"', "", "joints[0].method", 20, "missing", "neither"),
    Wrong('board = "ply"', 'board = "pine"', "cases[0].board", 27, "missing-board", "ply, thin"),
    Wrong('board = "ply"\n', "", "cases[0].board", 25, "missing", "Name the board"),
    Wrong('board = "thin"', 'board = "thing"', "cases[0].back.board", 37, "missing-board", 'Did you mean "thin"?'),
    Wrong('kind = "rebated"', 'kind = "rabbeted"', "cases[0].back.kind", 36, "choice", 'Did you mean "rebated"?'),
    Wrong('runner = "side light"', 'runner = "side lite"', "cases[0].drawers.runner", 40, "missing-runner", "side light"),
    Wrong("height = 80\n", "height = 790\n", "cases[0].plinth.height", 33, "range", "20 to 500"),
    Wrong("height = 80\n", "height = 80\nsetback = 399\n", "cases[0].plinth.setback", 34, "range", "below 382 mm"),
    Wrong('"2 parts"', '"0 parts"', "cases[0].inside.columns[0].width", 43, "range", "0.01 to 100 parts"),
    Wrong('"2 parts"', '"two parts"', "cases[0].inside.columns[0].width", 43, "length", "2 parts"),
    Wrong('width = "2 parts"', 'height = "2 parts"', "cases[0].inside.columns[0].height", 43, "inside", "a row only"),
    Wrong("height = 140, ", "width = 140, ", "cases[0].inside.columns[0].rows[0].width", 45, "inside", "a column only"),
    Wrong("height = 140, "
        "", "height = 140, loose_shelves = 2, ", "cases[0].inside.columns[0].rows[0].loose_shelves", 45, "inside", "a drawer"),
    Wrong("{ loose_shelves = 1 "
        "}", '{ holds = "loose shelves" }', "cases[0].inside.columns[0].rows[1].loose_shelves", 46, "missing", "Say how many"),
    Wrong('holds = "door"', 'holds = "drawers"', "cases[0].inside.columns[1].holds", 50, "choice", 'Did you mean "drawer"?'),
    Wrong('holds = "door"', 'holds = "door"\nhinged = "top"', "cases[0].inside.columns[1].hinged", 51, "choice", '"left" or "right"'),
    Wrong('holds = "door"', 'holds = "door"\nload_kg = "20"', "cases[0].inside.columns[1].load_kg", 51, "type", "without quotes"),
    Wrong('holds = "door"', 'holds = "drawer"\nrows = [{}, {}]', "cases[0].inside.columns[1].holds", 50, "inside", "cut further"),
    Wrong('holds = "door"', "rows = [{}]\ncolumns = [{}]", "cases[0].inside.columns[1].columns", 51, "inside", "both rows and columns"),
    Wrong('holds = "door"', 'holds = "door"\nhand_hold = "hole"', "cases[0].inside.columns[1].hand_hold.kind", 51, "choice", '"round hole"'),
    Wrong('holds = "door"', 'holds = "door"\nclothes_rail = "gold"', "cases[0].inside.columns[1].clothes_rail.kind", 51, "missing-clothes-rail", "rail 25, rail 30"),
    Wrong('holds = "door"', 'holds = "drawer"\nclothes_rail = {}', "cases[0].inside.columns[1].clothes_rail", 51, "inside", "left whole"),
    Wrong("{ loose_shelves = 1 "
        "}", "{ loose_shelves = 1, clothes_rail = {} }", "cases[0].inside.columns[0].rows[1].clothes_rail", 46, "inside", "without loose shelves"),
    Wrong('holds = "door"', 'holds = "door"\nclothes_rail = { height = 3 }', "cases[0].inside.columns[1].clothes_rail.height", 51, "range", "20 to 3000"),
    Wrong("{ loose_shelves = 1 "
        "}", "{ set_back = 20 }", "cases[0].inside.columns[0].rows[1].set_back", 46, "inside", "cut into rows"),
    Wrong('holds = "door"', 'holds = "door"\nshelf_at = 300', "cases[0].inside.columns[1].shelf_at", 51, "inside", "below a row"),
    Wrong("[cases.drawers]", "plinth = 3\n[cases.drawers]", "cases[0].back.plinth", 39, "unknown-field", "kind, board"),
    Wrong('code = "A"', 'code = "A"\ncount = 1.5', "cases[0].count", 27, "range", "whole number"),
    Wrong('code = "A"', 'code = ""', "cases[0].code", 26, "range", "0 characters"),
    Wrong('code = "A"', 'code = "A"\nedged = "yes"', "cases[0].edged", 27, "type", "true or false"),
    Wrong('code = "A"', 'code = "A"\ntop = "under sides"', "cases[0].top", 27, "choice", '"over sides"'),
    Wrong('code = "A"', 'code = "A"\nfits = { width = 890 }', "cases[0].width", 29, "fits", "at most 890 mm"),
    Wrong('code = "A"', 'code = "A"\nmethods = { plinth = "tape" }', "cases[0].methods.plinth", 27, "missing-method", '"tape"'),
    Wrong("depth = 400", "depth = 60\nrail_width = 10", "cases[0].rail_width", 31, "range", "30 to 600 mm"),
]  # fmt: skip


@pytest.mark.parametrize("wrong", WRONG, ids=lambda w: f"{w.field}-{w.new[:24]!r}")
def test_one_thing_wrong_is_told_where_it_stands(wrong: Wrong) -> None:
    assert GOOD.count(wrong.old) >= 1

    faults = told(GOOD.replace(wrong.old, wrong.new, 1))

    assert [(f.field, f.line, f.code) for f in faults] == [(wrong.field, wrong.line, wrong.code)]
    assert wrong.says in str(faults[0])
    assert all((faults[0].found, faults[0].allowed, faults[0].do))


def test_every_fault_is_told_at_once_in_the_order_of_the_file() -> None:
    """Wrong fields do not hide what is wrong elsewhere, in the same table or between tables."""
    text = (
        GOOD.replace("thickness = 18", "thickness = -18")
        .replace('corner = "dowels"', 'corner = "nails"')
        .replace("width = 900", "widht = 900")
        .replace('board = "thin"', 'board = "thick"')
        .replace("height = 140", "height = nan")
        .replace('holds = "door"', 'holds = "dor"')
    )

    assert [(f.line, f.field, f.code) for f in told(text)] == [
        (7, "boards.ply.thickness", "range"),
        (18, "methods.corner", "missing-method"),
        (25, "cases[0].width", "missing"),
        (28, "cases[0].widht", "unknown-field"),
        (37, "cases[0].back.board", "missing-board"),
        (45, "cases[0].inside.columns[0].rows[0].height", "length"),
        (50, "cases[0].inside.columns[1].holds", "choice"),
    ]


def test_nothing_is_told_that_only_follows_from_another_fault() -> None:
    """A plinth cannot be judged against a height that is not known."""
    text = GOOD.replace("height = 800", 'height = "tall"').replace("height = 80\n", "height = 500\n")

    assert [f.field for f in told(text)] == ["cases[0].height"]


def test_a_measured_thickness_is_not_judged_by_a_nominal_one_that_is_not_known() -> None:
    text = GOOD.replace("thickness = 18", 'thickness = "thick"\nmeasured = 30')

    assert [f.field for f in told(text)] == ["boards.ply.thickness"]


def test_two_cases_with_one_code_are_told() -> None:
    second = '\n[[cases]]\ncode = "a"\nboard = "ply"\nwidth = 500\nheight = 500\ndepth = 300\n'

    (fault,) = told(GOOD + second)

    assert (fault.field, fault.line, fault.code) == ("cases[1].code", 53, "duplicate-code")
    assert "cases[0]" in fault.found


def test_a_plinth_taller_than_its_case_is_told() -> None:
    (fault,) = told(GOOD.replace("height = 800", "height = 480").replace("height = 80\n", "height = 490\n"))

    assert (fault.field, fault.line, fault.code) == ("cases[0].plinth.height", 33, "plinth-height")
    assert fault.allowed == "below 434 mm"  # 480 less top and base of 18 mm and 10 mm between them


def test_a_board_thicker_than_the_case_leaves_room_for_is_told() -> None:
    text = GOOD.replace("thickness = 18", "thickness = 45").replace("width = 900", "width = 95")

    (fault,) = told(text)

    assert (fault.field, fault.code) == ("cases[0].width", "range")
    assert "more than 100 mm" in fault.allowed


def test_a_back_deeper_than_the_case_is_told() -> None:
    text = GOOD.replace('kind = "rebated"', 'kind = "grooved"\ninset = 290').replace("depth = 400", "depth = 300")

    (fault,) = told(text)

    assert (fault.field, fault.code) == ("cases[0].back.inset", "range")


def test_too_many_openings_are_told() -> None:
    deep = "{ rows = [{}, " * 14 + "{}" + "] }" * 14
    text = GOOD[: GOOD.index("[[cases.inside.columns]]")] + f"[cases.inside]\nrows = [{deep}]\n"

    (fault,) = told(text)

    assert (fault.field, fault.code) == ("cases[0].inside", "inside")


def test_an_inch_job_is_told_the_range_in_inches() -> None:
    text = GOOD.replace('units = "mm"', 'units = "in"').replace("width = 900", "width = 1")

    fault = next(f for f in told(text) if f.field == "cases[0].width")

    assert fault.found == "1 in"
    assert fault.allowed.startswith('3.1496" to')
