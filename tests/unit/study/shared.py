"""A small job and studies of it, for the tests of studies."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from storyrod.adapters.files.studying import Variants, read_study

JOB: Final = """
title = "Peg rack"
currency = "EUR"

[boards.birch18]
kind = "plywood"
thickness = 18
sheets = [{ length = 1250, width = 600, price = 30.00 }]

[[cases]]
code = "A"
width = 500
height = 300
depth = 200
back = "none"

[cases.inside]
rows = [{}, {}]
"""

STUDY: Final = """
job = "pegs.toml"
ask = ["price", "cost", "minutes", "minutes by stage", "sheets", "yield", "weight", "sag", "tipping", "jigs"]

[[vary]]
field = "cases[0].width"
from = 400
to = 700
step = 100

[[vary]]
field = "methods.corner"
values = ["dowels", "biscuits", "glue and hope"]
"""


def study_in(folder: Path, text: str = STUDY, job: str = JOB) -> Path:
    """Write a study and its job into a folder, and return the study file."""
    (folder / "pegs.toml").write_text(job, encoding="utf-8")
    path = folder / "study.toml"
    path.write_text(text, encoding="utf-8")
    return path


def variants_in(folder: Path, text: str = STUDY, job: str = JOB) -> Variants:
    """Return the variants of a study written into a folder."""
    return read_study(study_in(folder, text, job))
