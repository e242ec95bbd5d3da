"""The library's face: what `import storyrod` promises is there, in order, and typed."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import storyrod
from tests.places import EXAMPLES, ROOT

SNIPPET = """
from pathlib import Path

import storyrod
from storyrod import Caution, Fault, JobError
from storyrod.model.job import Job
from storyrod.model.workshop import Workshop


def work(job: Job, shop: Workshop) -> tuple[float, ...]:
    made = storyrod.plan(Path("job.toml"))
    again = storyrod.plan("job.toml", workshop=shop)
    third = storyrod.plan(job, shop)
    told: tuple[Caution, ...] = made.cautions
    version: str = again.version + storyrod.__version__
    reveal_type(third.proof.passed)
    return tuple(p.length for c in made.details.cases for p in c.panels) if told or version else ()


def faults(error: JobError) -> tuple[Fault, ...]:
    return error.faults
"""

WRONG = """
import storyrod

storyrod.plan(42)
"""


def test_the_list_of_names_is_sorted_and_without_doubles() -> None:
    assert storyrod.__all__ == sorted(set(storyrod.__all__))


def test_every_name_of_the_list_is_there() -> None:
    for name in storyrod.__all__:
        assert getattr(storyrod, name, None) is not None, name


def test_nothing_else_is_public() -> None:
    """What is not in the list begins with an underscore, or is a part of the package or of Python."""
    parts = {p.stem for p in (ROOT / "src" / "storyrod").iterdir()}
    for name, value in vars(storyrod).items():
        if name.startswith("_") or name in storyrod.__all__ or name in parts:
            continue
        where = getattr(value, "__module__", "")
        assert not where.startswith("storyrod"), name


def test_every_public_name_says_what_it_is() -> None:
    for name in set(storyrod.__all__) - {"__version__"}:
        assert getattr(storyrod, name).__doc__, name


def test_a_plan_can_be_asked_for_more_than_once() -> None:
    """In an interpreter of its own, where nothing is imported yet."""
    job = str(EXAMPLES / "first-box.toml")
    code = (
        f"import storyrod\n"
        f"first, second = storyrod.plan({job!r}), storyrod.plan({job!r})\n"
        f"from storyrod.planning import Plan\n"
        f"assert isinstance(storyrod.plan({job!r}), Plan)\n"
        f"assert first.version == second.version\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr


def test_importing_storyrod_loads_nothing_heavy() -> None:
    heavy = ("numpy", "manifold3d", "typst", "ezdxf", "sqlalchemy", "ortools", "starlette", "tomlkit")
    code = f"import sys, storyrod; print(*[m for m in {heavy!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stdout.split() == []


def checked(path: Path, text: str) -> tuple[int, str]:
    path.write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "mypy", "--strict", "--no-error-summary", str(path)]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
    return done.returncode, done.stdout + done.stderr


@pytest.mark.slow
def test_a_typed_script_is_checked_by_the_types_that_are_shipped(tmp_path: Path) -> None:
    assert (ROOT / "src" / "storyrod" / "py.typed").is_file()
    fine, told = checked(tmp_path / "snippet.py", SNIPPET)
    wrong, against = checked(tmp_path / "wrong.py", WRONG)

    assert fine == 0, told
    assert 'Revealed type is "bool"' in told or 'Revealed type is "builtins.bool"' in told
    assert wrong == 1
    assert "arg-type" in against
