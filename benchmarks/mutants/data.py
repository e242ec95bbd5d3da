"""Figures of the packaged methods and workshop, changed by a tenth one at a time.

Left out are minutes, prices and usual errors: no cutter is set by them and no load hangs on them.
"""

from __future__ import annotations

import contextlib
import importlib
import os
import re
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from types import ModuleType
from typing import Any, Final

ROOT: Final = Path(__file__).resolve().parents[2]
DATA: Final = ROOT / "src" / "storyrod" / "data"

TRIED_WITH: Final = {
    "methods.toml": (
        *("test_methods_common_practice", "test_dowels_by_board", "test_dowel_case_joinery_guidelines"),
        *("test_dowel_drilling_guidelines", "test_carcase_dowelling_jigs", "test_geometry_of_the_circle"),
        *("test_biscuit_spacing_article", "test_dado_depth_pages", "test_tenon_preview", "test_pilot_feed_rate_paper"),
        *("test_pocket_hole_tutorial", "test_keyhole_slots_page", "test_mdf_joints_that_last"),
    ),
    "workshop.toml": (
        *("test_workshop_common_practice", "test_runner_measuring_guides", "test_hinges_from_memory"),
        *("test_runner_exam_question", "test_router_speed_charts"),
    ),
}
"""Files of the package's data, and the reference tests that their figures are tried with."""

LEFT_OUT: Final = frozenset({"work", "price", "format", "error", "error_across", "error_along", "step_mm", "along_mm"})
LEFT_OUT_TABLES: Final = frozenset({"prices", "times", "money"})
COUNTS: Final = frozenset({"least", "hinges"})
"""Whole by nature: one more instead of a tenth more, which would be refused as no whole number."""

_HIDDEN: Final = re.compile(r'"[^"]*"|#.*')
_NUMBER: Final = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?![\w.])")
_KEY: Final = re.compile(r"([a-z_]+)\s*=[^=]*$")


@dataclass(frozen=True, slots=True)
class DataMutant:
    """One figure of a file of the package's data, changed."""

    path: Path
    line: int
    was: float
    source: str

    @property
    def module(self) -> str:
        """The file's name: what stands for a module's in the table."""
        return self.path.name

    def __str__(self) -> str:
        text = self.path.read_text(encoding="utf-8").splitlines()[self.line - 1].strip()
        return f"{self.path.relative_to(ROOT)}:{self.line}: {self.was:g} in {text[:90]}"

    def put_in(self) -> None:
        """Have this process read the changed text wherever the source reads the file."""
        from storyrod.adapters.files import _open

        plain = _open.data_text

        def changed(name: str) -> str:
            return self.source if name == self.path.name else plain(name)

        for module in list(sys.modules.values()):
            if getattr(module, "data_text", None) is plain:
                module.data_text = changed  # type: ignore[attr-defined]


def data_mutants_of(name: str) -> Iterator[DataMutant]:
    """Yield the file once for every figure in it that a cutter is set by or a load hangs on."""
    path = DATA / name
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    table = ""
    for at, line in enumerate(lines):
        seen = _HIDDEN.sub(lambda m: " " * len(m[0]), line)
        if re.match(r"\[+[a-z_]", seen):
            table = re.split(r"[\].]", seen.strip("[\n "))[0].strip()
            continue
        first = re.match(r"\s*([a-z_]+)\s*=", seen)
        if table in LEFT_OUT_TABLES or (first and first[1] in LEFT_OUT):
            continue
        for number in _NUMBER.finditer(seen):
            key = _KEY.search(seen[: number.start()])
            value = float(number[0])
            if value:
                more = value + 1 if key and key[1] in COUNTS else value * 1.1
                text = f"{line[: number.start()]}{more:.6g}{line[number.end() :]}"
                yield DataMutant(path, at + 1, value, "".join([*lines[:at], text, *lines[at + 1 :]]))


def is_noticed_in_data(mutant: DataMutant | None, name: str) -> bool:
    """Whether a test of a file's fails with the mutant (or as things are), in a process of its own.

    The tests are called as they are, without pytest: there are many figures, and starting it takes ten times as long.
    """
    import storyrod.adapters.files.methods
    import storyrod.joinery._bores
    import storyrod.joinery._stations  # noqa: F401 - once, here, instead of in every child

    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) != 0
    status = 1
    with contextlib.suppress(BaseException):
        if mutant is not None:
            mutant.put_in()
        for stem in TRIED_WITH[name]:
            _call_tests(importlib.import_module(f"tests.reference.{stem}"))
        status = 0
    os._exit(status)


def _call_tests(module: ModuleType) -> None:
    """Call every test of a module, each with all its parameters; a test that fails raises."""
    for name, test in vars(module).items():
        if name.startswith("test_") and callable(test):
            for given in _parameters(test):
                test(**given)


def _parameters(test: Callable[..., object]) -> Iterator[dict[str, Any]]:
    """Yield what a test is to be called with: the product of its parametrize marks, of plain values alone."""
    sets: list[list[dict[str, Any]]] = []
    for mark in getattr(test, "pytestmark", []):
        names, values = mark.args
        listed = [n.strip() for n in names.split(",")] if isinstance(names, str) else list(names)
        sets.append([dict(zip(listed, v if len(listed) > 1 else (v,), strict=True)) for v in values])
    for chosen in product(*sets):
        yield {k: v for one in chosen for k, v in one.items()}
