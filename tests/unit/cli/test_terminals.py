"""Terminals that know few letters: a run comes to its end, and shows what it can."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from tests.places import EXAMPLES


@pytest.mark.parametrize("letters", ["cp1251", "cp437", "ascii"])
def test_a_check_ends_well_whatever_letters_the_terminal_knows(letters: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "storyrod", "check", str(EXAMPLES / "music-stand-shelf-inches.toml")],
        env={**os.environ, "PYTHONIOENCODING": letters},
        capture_output=True,
        check=False,
    )

    assert done.returncode == 0
    assert b"sound" in done.stdout
    assert done.stderr == b""
