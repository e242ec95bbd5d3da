"""Stages take values and return values: none of them reads a file, a clock's date, or knows who shows its result.

The import contracts keep the parts of the project apart; these tests keep the outside world out of the stages.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.places import ROOT

PACKAGE = ROOT / "src" / "storyrod"
PURE = (
    *("faults.py", "measure", "model", "drawing"),
    *(
        "carcass",
        "joinery",
        "setout",
        "machining",
        "sheets",
        "assembly",
        "soundness",
        "ledger",
        "proof",
        "daywork",
        "wish",
    ),
)

# What only an adapter may import: files, network, the calendar, and the libraries of pages, print and storage.
FOR_ADAPTERS = frozenset(
    {
        *("datetime", "io", "logging", "pathlib", "shutil", "socket", "sqlite3", "tempfile", "urllib"),
        *("ezdxf", "jinja2", "segno", "sqlalchemy", "starlette", "tomlkit", "typst"),
        *("uvicorn", "websockets"),
    }
)

# Exceptions, as `module imports`: reason.
ALLOWED: dict[tuple[str, str], str] = {
    (
        "drawing/_part_label.py",
        "segno",
    ): "reckons the fields of a label's code, a pure sum, and touches nothing outside",
}


def pure_modules() -> Iterator[Path]:
    for name in PURE:
        place = PACKAGE / name
        yield from [place] if place.is_file() else sorted(place.rglob("*.py"))


def imported(tree: ast.Module) -> set[str]:
    """Return the top names of all that a module imports, wherever in it."""
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.split(".")[0])
    return names


def called(tree: ast.Module) -> set[str]:
    """Return the names of plain functions that a module calls."""
    calls = (node.func for node in ast.walk(tree) if isinstance(node, ast.Call))
    return {func.id for func in calls if isinstance(func, ast.Name)}


def offences(path: Path) -> Iterator[str]:
    """Yield what one module does that only an adapter may do."""
    name = path.relative_to(PACKAGE).as_posix()
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for library in sorted(imported(tree) & FOR_ADAPTERS):
        if (name, library) not in ALLOWED:
            yield f"{name} imports {library}"
    for function in sorted(called(tree) & {"print", "open", "input", "eval", "exec"}):
        yield f"{name} calls {function}()"


def test_stages_keep_the_outside_world_out() -> None:
    modules = list(pure_modules())

    assert len(modules) > 5
    assert [words for path in modules for words in offences(path)] == []


def test_an_offence_is_found_wherever_it_hides(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(globals(), "PACKAGE", tmp_path)
    module = tmp_path / "stage.py"
    module.write_text(
        "import math\ndef late():\n    from pathlib import Path\n    import jinja2.ext\n    print(Path())\n",
        encoding="utf-8",
    )

    assert list(offences(module)) == [
        "stage.py imports jinja2",
        "stage.py imports pathlib",
        "stage.py calls print()",
    ]
