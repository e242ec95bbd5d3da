"""What all tests share: hypothesis profiles, and clear skips where an outside program is missing."""

from __future__ import annotations

import gc
import os
import shutil
import uuid
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, settings

from tests.kept import folder_of
from tests.places import EXAMPLES, NO_CHROMIUM, NO_POPPLER, ROOT, find_chromium, has_poppler

# The usual run is modest and meets the same examples each time; `thorough` looks further, by new chance:
#     STORYROD_HYPOTHESIS=thorough python3 run.py test unit
settings.register_profile(
    "default",
    max_examples=35,
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],  # Two cores shared with other work are not a fault of the test.
    # Whole jobs take minutes to be made smaller: that is left to `thorough`, where somebody waits for the cause.
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
)
settings.register_profile("thorough", max_examples=2000, deadline=None, print_blob=True)
settings.load_profile(os.environ.get("STORYROD_HYPOTHESIS", "default"))

# No paper of another run, or of another test, is taken for one that this test makes:
os.environ["STORYROD_CACHE"] = ""

# Plans of the examples are kept and looked at by many tests: to look through all of them for rings every few hundred
# new things takes a tenth of the run.
gc.set_threshold(100_000, 50, 100)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Skip the tests marked `browser` or `poppler` where their programs are not on this machine; begin with slow ones.

    A slow test begun last would keep one core waiting for it.
    """
    items.sort(key=lambda item: item.get_closest_marker("slow") is None)
    absent = {}
    if find_chromium() is None:
        absent["browser"] = NO_CHROMIUM
    if not has_poppler():
        absent["poppler"] = NO_POPPLER
    for item in items:
        for marker, reason in absent.items():
            if item.get_closest_marker(marker):
                item.add_marker(pytest.mark.skip(reason=reason))


def pytest_configure(config: pytest.Config) -> None:
    """Name the run, so that what its processes share can be taken away in the end."""
    if getattr(config.option, "testrunuid", "") is None and not hasattr(config, "workerinput"):
        config.option.testrunuid = uuid.uuid4().hex


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Take away the papers that the processes of this run have shared, once all of them are through."""
    run = getattr(session.config.option, "testrunuid", None)
    if run and not hasattr(session.config, "workerinput"):
        shutil.rmtree(folder_of(run), ignore_errors=True)


@pytest.fixture(scope="session")
def chromium() -> str:
    """The path of Chromium; the test is skipped where there is none."""
    found = find_chromium()
    if found is None:
        pytest.skip(NO_CHROMIUM)
    return found


@pytest.fixture(scope="session")
def root() -> Path:
    """The project's folder."""
    return ROOT


@pytest.fixture(scope="session")
def examples() -> Path:
    """The folder of example jobs."""
    return EXAMPLES
