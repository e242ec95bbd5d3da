"""Where tests find things: the project's own folders, the public benchmark sets, programs of this machine."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

import set_up
from benchmarks._needs import NotHereError
from benchmarks._needs import shared_data as find_in_shared_data

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = ROOT / "examples"

NO_CHROMIUM = "Chromium is not there: install the package chromium, or name the program in STORYROD_CHROMIUM."
NO_POPPLER = "pdftotext and pdftoppm are not there: install the package poppler-utils."


def shared_data(*parts: str) -> Path:
    """Return a file or folder of the public benchmark sets; skip the test where they are not there.

    At the top of a module, `pytest.skip` wants `allow_module_level`: call this inside tests and fixtures.
    """
    try:
        return find_in_shared_data(*parts)
    except NotHereError as error:
        pytest.skip(str(error))


def find_chromium() -> str | None:
    """Return the Chromium for browser tests: the one named by STORYROD_CHROMIUM, or the one on PATH."""
    return set_up.find_chromium(dict(os.environ))


def has_poppler() -> bool:
    """Tell whether poppler's programs for reading PDF pages are on PATH."""
    return all(shutil.which(name) for name in ("pdftotext", "pdftoppm"))
