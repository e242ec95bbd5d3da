"""`storyrod trial`: a fault names the option as it is typed."""

from __future__ import annotations

import pytest

from storyrod.adapters.cli import main
from tests.places import EXAMPLES


def test_a_reading_that_is_none_names_its_option(capsys: pytest.CaptureFixture[str]) -> None:
    job = str(EXAMPLES / "first-box.toml")

    assert main(["trial", job, "--set-up", "S4", "--fence", "0.3"]) == 1
    told = capsys.readouterr().err
    assert "--fence  [trial-kind]" in told
    assert "a fence for S4" in told
    assert main(["trial", job, "--set-up", "S4", "--step", "a bit"]) == 1
    assert "--step" in capsys.readouterr().err
