"""What the files of a plan are called: names that every file system takes, no two alike."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from typing import Final

from storyrod.planning import Plan

RESERVED: Final = frozenset({"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(1, 10))})
"""Names that Windows gives to devices, whatever their ending."""

LONGEST: Final = 120
"""Letters of a file's name without its ending: every file system takes so many, also where each takes four bytes."""


def file_name(text: str) -> str:
    """Return a name that every file system takes: letters, figures, dots, dashes and underscores, never a path."""
    plain = "".join(c if c.isalnum() or c in "._" else "-" for c in unicodedata.normalize("NFC", text))
    while len(plain.encode()) > 2 * LONGEST:
        plain = plain[:-1]
    plain = plain[:LONGEST].strip(".-") or "unnamed"
    return f"x-{plain}" if plain.partition(".")[0].casefold() in RESERVED else plain


def file_names(texts: Iterable[str]) -> dict[str, str]:
    """Return a file name for each, no two alike: also where small and capital letters are the same."""
    names: dict[str, str] = {}
    taken: set[str] = set()
    for text in dict.fromkeys(texts):
        plain = name = file_name(text)
        number = 2
        while _alike(name) in taken:
            name, number = f"{plain}-{number}", number + 1
        taken.add(_alike(name))
        names[text] = name
    return names


def _alike(name: str) -> str:
    return unicodedata.normalize("NFKC", name).casefold()


def panel_names(plan: Plan) -> dict[str, str]:
    """Return the file names of all panels, by their ids."""
    return file_names(out.panel.id for case in plan.set_out.cases for out in case.panels)


def jig_names(plan: Plan) -> dict[str, str]:
    """Return the file names of all jigs, by their ids."""
    return file_names(jig.id for jig in plan.machining.jigs)


def sheet_names(plan: Plan) -> dict[str, str]:
    """Return the file names of all sheets, by their names."""
    return file_names(sheet.name for sheet in plan.sheets.sheets)


def case_names(plan: Plan) -> dict[str, str]:
    """Return the file names of all cases, by their codes."""
    return {code: f"case-{name}" for code, name in file_names(case.code for case in plan.job.cases).items()}
