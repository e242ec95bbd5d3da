"""Every library that is installed with storyrod is listed with its licence, which lets anybody use it."""

from __future__ import annotations

import re
from importlib.metadata import PackageNotFoundError, metadata

import pytest

from tests.places import ROOT

PERMISSIVE = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "MIT", "PSF-2.0", "Zlib",
}  # fmt: skip
NOT_QUITE = {"pathspec": "MPL-2.0"}
"""Needed only to build the package from its sources; never changed, nor handed on."""

SPELT = {
    "MIT License": "MIT",
    "Apache Software License": "Apache-2.0",
    "Apache 2.0": "Apache-2.0",
    "BSD License": "BSD-3-Clause",
    "3-Clause BSD License": "BSD-3-Clause",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
}
"""How libraries spell their licences that give no expression of the standard list."""

PINNED = dict(
    re.findall(r"^([A-Za-z0-9_.-]+)==([^\s;]+)", (ROOT / "pins.txt").read_text(encoding="utf-8"), re.MULTILINE)
)
LISTED = dict(
    re.findall(
        r"^\| ([a-z0-9-]+) \| ([^|]+) \|",
        (ROOT / "docs" / "libraries.md").read_text(encoding="utf-8").split("## ")[0].split("| --- |")[-1],
        re.MULTILINE,
    )
)


def test_every_pinned_library_is_listed_and_no_other() -> None:
    assert sorted(LISTED) == sorted(PINNED)


@pytest.mark.parametrize("name", PINNED)
def test_its_licence_lets_anybody_use_it_and_is_what_it_says_itself(name: str) -> None:
    listed = LISTED[name].strip()
    parts = set(re.split(r" AND | OR ", listed))

    assert parts <= PERMISSIVE | {NOT_QUITE.get(name, "MIT")}
    try:
        told = metadata(name)
    except PackageNotFoundError:
        pytest.skip("not for this machine")
    classes = [c.rsplit(" :: ", 1)[-1] for c in told.get_all("Classifier", []) if c.startswith("License")]
    said = told.get("License-Expression") or next(iter(classes), None) or told.get("License", "")
    assert SPELT.get(str(said), said) == listed
