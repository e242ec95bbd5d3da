"""Figures of the packaged methods and workshop, changed by a tenth one at a time.

Left out are minutes, prices and usual errors: no cutter is set by them and no load hangs on them.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
DATA: Final = ROOT / "src" / "storyrod" / "data"
REFERENCE: Final = ROOT / "tests" / "reference"

TRIED_WITH: Final = {
    "methods.toml": ("test_connector_figures", "test_dowel_rules", "test_biscuit_chord", "test_joining_depths"),
    "workshop.toml": ("test_workshop_figures", "test_trade_dimensions"),
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


def tests_of_data(name: str) -> list[str]:
    """Return the reference tests that a file's figures are tried with."""
    return [str(REFERENCE / f"{stem}.py") for stem in TRIED_WITH[name]]


def warm_up() -> None:
    """Import what the tests import, once, instead of in every child; no file of the data is read by it."""
    import storyrod.adapters.files.methods
    import storyrod.joinery._bores
    import storyrod.joinery._stations  # noqa: F401
