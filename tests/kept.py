"""Plans and packets of the examples, made once and looked at by many tests."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from functools import cache
from pathlib import Path

from storyrod.adapters.files import read_job
from storyrod.adapters.packet import make_packet
from storyrod.planning import Plan
from tests.places import EXAMPLES

_RUN = os.environ.get("PYTEST_XDIST_TESTRUNUID")


@cache
def example_plan(name: str) -> Plan:
    """Return the plan of an example."""
    told = read_job(EXAMPLES / f"{name}.toml")
    return Plan(told.job, told.workshop)


@cache
def example_packet(name: str) -> bytes:
    """Return the bench packet of an example; of the processes of one run, the first that wants it makes it."""
    kept = _folder() / f"{name}.pdf"
    if not kept.exists():
        aside = kept.with_suffix(f".{os.getpid()}")
        aside.write_bytes(make_packet(example_plan(name)))
        aside.replace(kept)
    return kept.read_bytes()


@cache
def _folder() -> Path:
    """Return where the processes of one run, and no other run, keep papers."""
    if _RUN is None:
        alone = tempfile.mkdtemp(prefix="storyrod-tests-")
        atexit.register(shutil.rmtree, alone, ignore_errors=True)
        return Path(alone)
    shared = folder_of(_RUN)
    shared.mkdir(exist_ok=True)
    return shared


def folder_of(run: str) -> Path:
    """Return where the processes of a run keep papers."""
    return Path(tempfile.gettempdir(), f"storyrod-tests-{run}")
