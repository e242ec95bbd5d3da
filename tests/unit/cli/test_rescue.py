"""`storyrod rescue`: a slip recorded, what it breaks, a way taken, its sheet; and all of it taken back."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from storyrod.adapters.cli import main
from storyrod.adapters.files.as_built import as_built_path, read_as_built
from tests.places import EXAMPLES

OFF = ("--panel", "A1", "--what", "elsewhere", "--cuts", "J3", "--along", "5", "--cut", "A1")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copy(EXAMPLES / "first-box.toml", tmp_path))


def test_a_slip_is_recorded_told_and_a_way_taken(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    brief = job.read_bytes()

    assert main(["rescue", str(job), *OFF]) == 0
    told = capsys.readouterr().out
    assert "A1: cuts J3 off by 5 mm along." in told
    assert "2 cuts for J3 in A1 left side 5 mm from where their mates are" in told
    assert "1. 6 min, 0.00, small risk, nothing is seen\n   Shift A5 shelf 1 5 mm up, with all its joints." in told

    assert main(["rescue", str(job), "--take", "1"]) == 0
    told = capsys.readouterr().out
    assert "Set-out of A1, A2: this sheet replaces it." in told
    assert read_as_built(job).taken[0].moves == ("shift A5 up 5 mm",)
    assert job.read_bytes() == brief, "the brief stays what it is"

    assert main(["rescue", str(job), "--undo"]) == 0
    assert "Taken:" not in capsys.readouterr().out


@pytest.mark.poppler
def test_the_sheet_has_the_new_marks_and_the_old_ones_struck_out(
    job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = tmp_path / "sheet.pdf"
    assert main(["rescue", str(job), *OFF, "--cut", "A1,A2,A5", "--json"]) == 0
    ways = json.loads(capsys.readouterr().out)["ways"]
    number = next(n for n, w in enumerate(ways, start=1) if w["plugs"])

    assert main(["rescue", str(job), "--take", str(number), "--sheet", str(sheet)]) == 0
    words = subprocess.run(["pdftotext", "-layout", str(sheet), "-"], capture_output=True, text=True, check=True).stdout
    assert "Rescue: case A, peg box" in words
    assert "Glue 2 plugs 25 mm across into the old cuts of A1 left side" in words
    assert "A1 left side, as it now is" in words
    marked = " ".join(words.split())
    assert "A1.3 (J3) hole Ø8, 13 deep face side 150.15 50 0 again" in marked
    assert "hole face side 155.15 50 plug 25 mm" in marked


def test_what_cannot_be_so_is_not_kept(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rescue", str(job), "--panel", "B7", "--what", "lost"]) == 1
    assert "[as-built-panel]" in capsys.readouterr().err
    assert main(["rescue", str(job), "--panel", "A1"]) == 1
    assert "--what" in capsys.readouterr().err
    assert main(["rescue", str(job), "--panel", "A1", "--what", "size", "--length", "a bit"]) == 1
    assert "--length" in capsys.readouterr().err
    assert main(["rescue", str(job), "--take", "9"]) == 1
    assert "[rescue-take]" in capsys.readouterr().err
    assert not as_built_path(job).exists()


def test_a_damaged_file_is_told_and_left_alone(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = as_built_path(job)
    path.parent.mkdir()
    path.write_text('[[slips]]\npanel = "A1"\nwhat = "mislaid"\n', encoding="utf-8")

    assert main(["rescue", str(job), "--panel", "A1", "--what", "lost"]) == 1
    assert "as-built.toml" in capsys.readouterr().err
    assert "mislaid" in path.read_text(encoding="utf-8")
