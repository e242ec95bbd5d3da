"""The page's scripts say what everything is, and TypeScript finds it so, strictly; they run as they are, unbuilt."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from tests.places import ROOT

TSC = ROOT / ".venv" / "scripts" / "node_modules" / "typescript" / "lib" / "tsc.js"
SCRIPTS = ROOT / "tests" / "scripts"


@pytest.fixture(scope="module")
def node() -> str:
    """Node; the tests are skipped where it, or TypeScript, is not there."""
    found = shutil.which("node")
    if found is None or not TSC.is_file():
        pytest.skip("TypeScript is not there: it needs Node with npm")
    return found


def told(node: str, *words: str) -> str:
    """Return what TypeScript finds."""
    return subprocess.run([node, str(TSC), *words], cwd=SCRIPTS, capture_output=True, text=True, check=False).stdout


@pytest.mark.parametrize("config", ["tsconfig.json", "tsconfig.worker.json"])
def test_every_script_is_what_it_says(node: str, config: str) -> None:
    assert told(node, "-p", config) == ""


def test_all_of_them_are_looked_at(node: str) -> None:
    """Also what none of the others asks for."""
    looked = told(node, "-p", "tsconfig.json", "--listFilesOnly") + told(
        node, "-p", "tsconfig.worker.json", "--listFilesOnly"
    )
    ours = {p.name for p in (ROOT / "src/storyrod/adapters/web/static/js").glob("*.js")}

    assert ours
    assert {line.rpartition("/")[2] for line in looked.splitlines()} >= ours
