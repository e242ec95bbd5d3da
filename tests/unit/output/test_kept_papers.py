"""A paper asked for again is read, not made anew; the folder it lies in may be deleted, damaged, or not be writable."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.printing import _kept
from storyrod.adapters.printing._kept import MOST_KEPT, kept, kept_or_made
from storyrod.adapters.printing._plan_files import plan_files
from storyrod.planning import Plan
from storyrod.telling.purposes import Purpose, Wishes
from tests.builders import case, job

FILE = "packet.pdf"
TODAY = Wishes(date="1 December 2026")


@cache
def plan() -> Plan:
    return Plan(job(case()), packaged_workshop())


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the folder where papers are kept, which is not there yet."""
    monkeypatch.setenv(_kept.FOLDER, str(tmp_path / "papers"))
    return tmp_path / "papers"


class Maker:
    """Counts how often it is asked."""

    def __init__(self) -> None:
        self.times = 0

    def __call__(self) -> bytes:
        self.times += 1
        return b"%PDF " + bytes([self.times])


def test_the_same_paper_is_made_once() -> None:
    make = Maker()
    first = kept_or_made(plan(), FILE, TODAY, make)
    again = kept_or_made(Plan(plan().job, plan().workshop), FILE, TODAY, make)

    assert (first, again, make.times) == (b"%PDF \x01", b"%PDF \x01", 1)


def another_layout() -> Plan:
    one = plan().sheets
    return plan().with_sheets(replace(one, seed=one.seed + 1))


@pytest.mark.parametrize(
    "other",
    [
        lambda: (Plan(replace(plan().job, title="Another"), plan().workshop), FILE, TODAY),
        lambda: (Plan(plan().job, replace(plan().workshop, name="Another")), FILE, TODAY),
        lambda: (another_layout(), FILE, TODAY),
        lambda: (plan(), "labels.pdf", TODAY),
        lambda: (plan(), FILE, replace(TODAY, date="2 December 2026")),
        lambda: (plan(), FILE, replace(TODAY, rods=("A1",))),
    ],
)
def test_whatever_a_paper_is_made_from_makes_it_another(other: Callable[[], tuple[Plan, str, Wishes]]) -> None:
    kept_or_made(plan(), FILE, TODAY, Maker())

    assert kept(plan(), FILE, TODAY) is not None
    assert kept(*other()) is None


def test_another_storyrod_makes_all_papers_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    kept_or_made(plan(), FILE, TODAY, Maker())
    monkeypatch.setattr(_kept, "our_own", lambda: "of another day")

    assert kept(plan(), FILE, TODAY) is None


def test_what_was_deleted_damaged_or_cut_short_is_made_anew(folder: Path) -> None:
    make = Maker()
    kept_or_made(plan(), FILE, TODAY, make)
    (path,) = folder.iterdir()
    told = path.read_bytes()
    for wrong in (told[:-1], told[:10], b"", told[:-1] + b"?"):
        path.write_bytes(wrong)
        assert kept(plan(), FILE, TODAY) is None
    kept_or_made(plan(), FILE, TODAY, make)
    path.unlink()
    folder.rmdir()

    assert kept_or_made(plan(), FILE, TODAY, make) == b"%PDF \x03"
    assert [p.suffix for p in folder.iterdir()] == [".paper"]


def test_a_folder_that_can_not_be_made_is_no_fault(folder: Path) -> None:
    folder.write_text("a file where the folder would be")

    assert kept_or_made(plan(), FILE, TODAY, Maker()) == b"%PDF \x01"
    assert kept(plan(), FILE, TODAY) is None


def test_nothing_is_kept_where_the_folder_s_name_is_empty(monkeypatch: pytest.MonkeyPatch, folder: Path) -> None:
    monkeypatch.setenv(_kept.FOLDER, "")
    make = Maker()
    for _ in range(2):
        kept_or_made(plan(), FILE, TODAY, make)

    assert make.times == 2
    assert not folder.exists()


def test_the_last_used_papers_are_kept() -> None:
    days = [replace(TODAY, date=str(n)) for n in range(MOST_KEPT + 3)]
    for n, wishes in enumerate(days):
        kept_or_made(plan(), FILE, wishes, Maker())
        if n == MOST_KEPT - 1:
            assert kept(plan(), FILE, days[0]) is not None  # used again: not the first to go

    assert kept(plan(), FILE, days[0]) is not None
    assert kept(plan(), FILE, days[1]) is None
    assert kept(plan(), FILE, days[-1]) is not None


def test_a_plan_s_folder_takes_the_paper_that_is_there(monkeypatch: pytest.MonkeyPatch) -> None:
    """By the way that the command line and the archive go; the second time nothing is set in type."""

    def labels() -> bytes:
        files = plan_files(plan(), prints=(Purpose.LABELS,), wishes=TODAY)
        return next(f for f in files if f.name == "labels.pdf").make()

    first = labels()
    monkeypatch.setattr("storyrod.adapters.packet._labels.typeset_pages", None)

    assert labels() == first
    assert first.startswith(b"%PDF")
