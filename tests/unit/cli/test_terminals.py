"""Terminals that know few letters: a run comes to its end, and shows what it can."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

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
    assert b"can be built" in done.stdout
    assert done.stderr == b""


def test_a_plan_is_told_where_the_language_of_the_machine_has_ascii_alone(tmp_path: Path) -> None:
    """There Python takes bytes that are no text as they are, and refuses a sign such as ×."""
    done = subprocess.run(
        [
            sys.executable,
            "-m",
            "storyrod",
            "plan",
            str(EXAMPLES / "first-box.toml"),
            "--print",
            "none",
            "--out",
            tmp_path,
        ],
        env={**os.environ, "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
        capture_output=True,
        check=False,
    )

    assert (done.returncode, done.stderr) == (0, b"")
    assert b"?" in done.stdout
    assert (tmp_path / "plan.json").is_file()
