"""Faults of building told with those of reading: only of cases that nothing wrong in the file can reach."""

from __future__ import annotations

from pathlib import Path

import pytest

from storyrod.adapters.cli import main
from storyrod.adapters.files import sound_part

JOB = """
format = 1
paper = "A4"
[boards.ply18]
kind = "plywood"
thickness = 18
sheets = [{ length = 2440, width = 1220 }]
[methods]
corner = "dowels"
mid_panel = "dowels"
[[cases]]
code = "A"
name = "low"
width = 600
height = 720
depth = 400
[[cases]]
code = "B"
width = 610
height = 720
depth = 400
[[cases.inside.rows]]
height = 400
[[cases.inside.rows]]
height = 401
"""


def written(folder: Path, old: str, new: str) -> Path:
    assert JOB.count(old) == 1
    path = folder / "two.toml"
    path.write_text(JOB.replace(old, new), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("width = 600", 'width = "wide"', "cases[0].width"),
        ("width = 600", "widht = 600", "cases[0].widht"),
        ('code = "A"', 'code = "A"\nboard = "birch"', "cases[0].board"),
        ('paper = "A4"', 'paper = "A9"', "paper"),
        ("length = 2440", 'length = "long"', "boards.ply18.sheets[0].length"),
    ],
)
def test_a_fault_that_can_not_reach_a_case_does_not_hide_its_own(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, field: str
) -> None:
    assert main(["check", str(written(tmp_path, old, new))]) == 1
    said = capsys.readouterr().err

    assert f"{field}, line" in said
    assert "cases[1].inside.rows, line" in said
    assert "[rows-too-much]" in said


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("width = 610", 'width = "wide"'),  # the case itself
        ("thickness = 18", 'thickness = "thick"'),
        ('corner = "dowels"', 'corner = "dowls"'),
        ("format = 1", "format = 1\nmark_to = 99"),
        ("format = 1", "format = 1\nlimits = { skin = 99 }"),
        ("format = 1", 'format = 1\nworkshop = "nowhere.toml"'),
    ],
)
def test_where_a_fault_may_change_the_building_nothing_is_guessed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str
) -> None:
    assert main(["check", str(written(tmp_path, old, new))]) == 1

    assert "rows-too-much" not in capsys.readouterr().err


def test_the_sound_part_holds_whole_cases_as_they_are_written(tmp_path: Path) -> None:
    part = sound_part(written(tmp_path, "width = 600", 'width = "wide"'))
    assert part is not None
    assert [(c.code, c.field, c.width) for c in part.job.cases] == [("B", "cases[1]", 610.0)]

    named = sound_part(written(tmp_path, 'name = "low"', "name = 7"))
    assert named is not None
    assert [c.code for c in named.job.cases] == ["A", "B"]

    assert sound_part(tmp_path / "nowhere.toml") is None
    assert sound_part(written(tmp_path, "format = 1", "format = ")) is None
