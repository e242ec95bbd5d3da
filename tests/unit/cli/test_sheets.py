"""Sheets at the command line: the search's time, label papers, and faults told before anything is written."""

from __future__ import annotations

from pathlib import Path

import pytest

from storyrod import sheets
from storyrod.adapters.cli import main
from storyrod.adapters.commands._commands import LABEL_CODES
from storyrod.telling.label_papers import CODES
from tests.places import EXAMPLES


def test_check_lays_out_no_sheet(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def never(*_: object, **__: object) -> None:
        raise AssertionError("laid out")

    monkeypatch.setattr(sheets, "lay_out", never)
    assert main(["check", str(EXAMPLES / "first-box.toml")]) == 0
    assert "can be built" in capsys.readouterr().out


def test_plan_searches_as_long_as_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["plan", str(EXAMPLES / "first-box.toml"), "--out", str(tmp_path), "--print", "labels", "--seconds", "0.3"]

    assert main(words) == 0
    assert "No layout can use fewer than 1 sheet." in capsys.readouterr().out
    assert (tmp_path / "labels.pdf").stat().st_size > 0
    assert (tmp_path / "saw-list.csv").stat().st_size > 0


@pytest.mark.parametrize("seconds", ["0", "-1", "soon", "nan", "inf"])
def test_seconds_that_are_none_are_bad_use(seconds: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", "any.toml", f"--seconds={seconds}"]) == 2
    assert "seconds above 0" in capsys.readouterr().err


def test_label_papers_are_the_packet_s() -> None:
    assert LABEL_CODES == CODES


def test_a_panel_larger_than_every_sheet_is_told_and_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (EXAMPLES / "first-box.toml").read_text(encoding="utf-8")
    small = "thickness = 18\nsheets = [{ length = 350, width = 300, price = 9.00 }]"
    broken = tmp_path / "small.toml"
    broken.write_text(text.replace("thickness = 18", small, 1), encoding="utf-8")

    assert main(["plan", str(broken), "--out", str(tmp_path / "out")]) == 1
    said = capsys.readouterr().err
    assert "part-too-large" in said
    assert "A sheet of" in said
    assert not (tmp_path / "out").exists()
