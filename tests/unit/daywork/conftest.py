"""Jobs planned once for all tests of the day's work."""

from __future__ import annotations

from pathlib import Path

import pytest

from storyrod.adapters.files import read_job
from storyrod.planning import DayTasks, Plan, tasks_of_job


@pytest.fixture(scope="session")
def chest(examples: Path) -> Plan:
    """One case with a drawer, glued with clamps, edged, on jigs to be made."""
    read = read_job(examples / "percussion-chest.toml")
    return Plan(read.job, read.workshop)


@pytest.fixture(scope="session")
def tasks(chest: Plan) -> DayTasks:
    """Its tasks."""
    return tasks_of_job(chest, "percussion-chest")
