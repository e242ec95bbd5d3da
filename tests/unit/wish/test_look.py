"""The measure of look, on fronts small enough to be counted by eye."""

from __future__ import annotations

import pytest

from storyrod.adapters.files import job_from_text
from storyrod.model.wish import Look
from storyrod.planning import Plan
from storyrod.wish import look_of

JOB = """
[boards.b]
kind = "plywood"
thickness = 18
[[cases]]
code = "A"
width = 900
height = 700
depth = 300
[cases.inside]
{inside}
"""


def look(inside: str) -> Look:
    read = job_from_text(JOB.format(inside=inside), name="look.toml")
    return look_of(Plan(read.job, read.workshop).carcass.cases)


def test_one_opening_is_calm() -> None:
    assert look("") == Look(lines=1, sizes=1, progression=1, symmetry=1)


def test_a_grid_is_calm() -> None:
    found = look("columns = [{ rows = [{}, {}] }, { rows = [{}, {}] }]")

    assert (found.lines, found.progression, found.symmetry) == (1, 1, 1)
    assert found.sizes == pytest.approx(1)


def test_lines_that_miss_each_other() -> None:
    found = look("columns = [{ rows = [{}, {}] }, { rows = [{}, {}, {}] }]")

    assert found.lines == 0  # one line to the left, two to the right, none at one height
    assert found.sizes == pytest.approx(3 / 4)  # five openings of two sizes
    assert found.symmetry == 0


def test_lower_is_deeper_or_not() -> None:
    assert look("rows = [{ height = 100 }, { height = 200 }, {}]").progression == 1
    assert look("rows = [{ height = 300 }, { height = 200 }, {}]").progression == 0
    assert look("rows = [{ height = 300 }, { height = 100 }, {}]").progression == pytest.approx(1 / 2)


def test_the_middle_of_three_may_differ() -> None:
    found = look("columns = [{ width = 200 }, { rows = [{}, {}] }, { width = 200 }]")

    assert found.symmetry == 1
    assert look("columns = [{ width = 200 }, {}, { width = 210 }]").symmetry == 0


def test_the_total_is_the_mean() -> None:
    assert Look(lines=1, sizes=0.5, progression=0, symmetry=0.5).total == pytest.approx(0.5)
