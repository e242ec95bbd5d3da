"""Small jobs that share a board, and batches of them, with short searches."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from storyrod.adapters.files import job_from_text, packaged_workshop
from storyrod.model.batch import Member, PaidBy
from storyrod.model.job import Job
from storyrod.model.workshop import Workshop
from storyrod.planning import Batch, plan_batch

ROUNDS = 30


def job_text(
    title: str, *, width: int = 400, height: int = 600, depth: int = 300, more: str = "", case: str = ""
) -> str:
    """Return a job file: a plain case of one board, with a shelf."""
    return f"""
title = "{title}"
currency = "EUR"
{more}

[methods]
corner = "dowels"
mid_panel = "dowels"

[boards.ply18]
name = "plywood 18"
kind = "plywood"
thickness = 18
measured = 17.7
sheets = [{{ length = 2440, width = 1220, price = 80.01 }}]

[[cases]]
code = "A"
width = {width}
height = {height}
depth = {depth}
{case}

[cases.inside]
rows = [{{}}, {{}}]
"""


def job_of(text: str, workshop: Workshop | None = None) -> Job:
    """Return the job of a text."""
    return job_from_text(text, name="job.toml", workshop=workshop or packaged_workshop()).job


def batch_of(
    *texts: str, workshop: Workshop | None = None, paid_by: PaidBy = PaidBy.AREA, own: tuple[int, ...] = ()
) -> Batch:
    """Return the batch of some job files, marked 1, 2, 3; those with these numbers stay on sheets of their own."""
    shop = workshop or packaged_workshop()
    members = [
        Member(mark=str(n), name=f"job-{n}", job=job_of(text, shop), own_sheets=n in own)
        for n, text in enumerate(texts, start=1)
    ]
    return plan_batch(members, shop, paid_by=paid_by)


@pytest.fixture(scope="session", autouse=True)
def short_searches() -> Iterator[None]:
    """Lay sheets out by few rounds: what these tests hold is so for any layout."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("storyrod.planning._batch.sheet_rounds", lambda _: ROUNDS)
        yield


@pytest.fixture(scope="session")
def two() -> Batch:
    """Two jobs of one board and one method: together they need one sheet, alone one each."""
    return batch_of(job_text("Peg box"), job_text("Score box", width=500, depth=320))


@pytest.fixture
def job_files(tmp_path: Path) -> Callable[..., list[Path]]:
    """Return a function that writes job files and returns their paths."""

    def write(*texts: str) -> list[Path]:
        paths = [tmp_path / f"job-{n}.toml" for n in range(1, len(texts) + 1)]
        for path, text in zip(paths, texts, strict=True):
            path.write_text(text, encoding="utf-8")
        return paths

    return write
