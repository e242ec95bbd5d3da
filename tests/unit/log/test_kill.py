"""A tick or a span, once acknowledged, survives SIGKILL at any moment.

A power cut is not tried: no test can pull a plug. The log asks the system to have each commit on the disk before it
returns, and the first test holds it to that.
"""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from storyrod.adapters.log import open_log
from storyrod.telling.things import Thing
from tests.unit.log import kill_rig

RIG = Path(__file__).with_name("kill_rig.py")

forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no SIGKILL and fork")


def test_every_commit_is_on_the_disk_before_it_returns(tmp_path: Path) -> None:
    with open_log(tmp_path / "bench.db") as log, log.engine.connect() as connection:
        settings = {
            name: connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in ("journal_mode", "synchronous")
        }

    assert settings == {"journal_mode": "wal", "synchronous": 2}


def kill(folder: Path, kills: int, seed: int) -> str:
    run = subprocess.run(
        [sys.executable, str(RIG), str(folder), str(kills), str(seed)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr
    return run.stdout


@forks
def test_nothing_acknowledged_is_lost_by_a_dozen_kills(tmp_path: Path) -> None:
    assert "12 kills" in kill(tmp_path, 12, seed=1)


@forks
@pytest.mark.slow
def test_nothing_acknowledged_is_lost_by_sixty_kills(tmp_path: Path) -> None:  # `run.py harden ticks` does more
    assert "60 kills" in kill(tmp_path, 60, seed=2)


def test_the_rig_would_see_a_loss(tmp_path: Path) -> None:
    """A log that forgot one acknowledged tick is found out."""
    database = tmp_path / "bench.db"
    with open_log(database) as log:
        for n in range(3):
            log.tick("job", "v1", Thing(id=f"0-{n}", name="", content=""))
    connection = sqlite3.connect(database)
    connection.execute("DELETE FROM ticks WHERE thing = '0-1'")
    connection.commit()
    connection.close()

    assert kill_rig.lost(database, ["0-0", "0-1", "0-2"]) == ["0-1"]
