"""Depths that jigs are asked for: read as the job file would be."""

from __future__ import annotations

import pytest

from storyrod.adapters.cli import main
from tests.places import EXAMPLES


@pytest.mark.parametrize("option", ["--depths", "--one-more"])
def test_a_depth_that_no_case_can_have_is_told(option: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["jigs", str(EXAMPLES / "first-box.toml"), option, "20000"]) != 0

    told = capsys.readouterr()
    words = told.out + told.err
    assert f"first-box.toml: {option}" in words
    assert "20000 mm" in words
    assert "60 to 2000 mm" in words
