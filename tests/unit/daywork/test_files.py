"""The day's work from files: one page, re-planned from the ticks of each job, and what bad input is told."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from storyrod.adapters.cli import main
from storyrod.adapters.daying import days_from, moment_of, tasks_of_files
from storyrod.adapters.files import read_job
from storyrod.adapters.log import BenchLog, open_log
from storyrod.daywork import check_day
from storyrod.faults import JobError
from storyrod.planning import DayTasks, Plan
from storyrod.telling.cards import cards_of
from storyrod.telling.day import buy_by, days_told, moment_words, sureness_words
from tests.places import EXAMPLES
from tests.unit.batch.conftest import job_text

WHEN = dt.datetime(2026, 12, 3, 8, 30).astimezone()


@pytest.fixture(scope="module", autouse=True)
def short_searches() -> Iterator[None]:
    """Lay sheets out by few rounds."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("storyrod.planning._batch.sheet_rounds", lambda _: 30)
        yield


@pytest.fixture(scope="module")
def paths(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Two jobs that share a board, one of them finished with two coats."""
    folder = tmp_path_factory.mktemp("jobs")
    found = [folder / "pegs.toml", folder / "scores.toml"]
    found[0].write_text(job_text("Peg box"), encoding="utf-8")
    finish = '[finish]\nname = "oil"\n'
    found[1].write_text(job_text("Score box", width=500, depth=320) + finish, encoding="utf-8")
    return found


@pytest.fixture(scope="module")
def work(paths: list[Path]) -> DayTasks:
    """The tasks of both."""
    return tasks_of_files(paths)


@pytest.fixture
def log(tmp_path: Path) -> Iterator[BenchLog]:
    """A bench log that nothing was ticked in."""
    with open_log(tmp_path / "bench.sqlite") as opened:
        yield opened


def test_two_jobs_share_their_set_ups_and_each_is_ready_by_itself(work: DayTasks) -> None:
    days = days_from(work, WHEN)

    assert work.merged
    saw = next(t for t in work.tasks if t.set_up == "S1")
    assert saw.jobs == ("1", "2")
    assert [r.job for r in days.plan.ready] == ["1", "2"]
    coats = [t for t in work.tasks if t.case == "2-A" and "coat" in t.id]
    assert [t.wait_min for t in coats] == [720, 720]
    ready = {r.job: r.planned for r in days.plan.ready}
    assert ready["2"] - ready["1"] > 720
    assert days.plan.faults == check_day(days.plan) == ()


def test_a_shared_set_up_is_done_when_both_jobs_have_ticked_their_parts(
    work: DayTasks, paths: list[Path], log: BenchLog
) -> None:
    """Each job's ticks are in the log under its own name, by its own panels; half of them leave half of the sawing."""
    whole = next(t for t in work.tasks if t.set_up == "S1").minutes
    saws = []
    for path, name in zip(paths, ("pegs", "Score box"), strict=True):  # by its file as on the page, or by its title
        read = read_job(path)
        plan = Plan(read.job, read.workshop)
        card = next(c for c in cards_of(plan) if c.id == "S1")
        for row in card.rows:
            log.tick(name, plan.version, row.thing)
        left = days_from(work, WHEN, log).plan.tasks
        saws.append(next((t.minutes for t in left if t.set_up == "S1"), 0))

    assert saws[0] == pytest.approx(whole / 2, abs=1.1)
    assert saws[1] == 0


def test_a_coat_is_ticked_on_the_card_of_its_own_job(work: DayTasks, paths: list[Path], log: BenchLog) -> None:
    """The finish stands at the end of the case's card, with its caution; ticked there, its task is done."""
    read = read_job(paths[1])
    plan = Plan(read.job, read.workshop)
    card = next(c for c in cards_of(plan) if c.id == "case-A")
    finish = card.groups[-1]
    assert finish.title == "finish"
    assert [r.label for r in finish.rows] == ["coat 1 of 2 on case A", "coat 2 of 2 on case A"]
    assert "on fire" in finish.cautions[0]
    for c in cards_of(plan):
        for row in c.rows:
            if row.thing.id != finish.rows[1].thing.id:
                log.tick("scores", plan.version, row.thing)

    left = [t.id for t in days_from(work, WHEN, log).plan.tasks if t.jobs == ("2",)]

    assert left == ["2-A/1 coat 2"]


def test_what_is_bought_stands_before_the_day_that_uses_it(work: DayTasks) -> None:
    days = days_from(work, WHEN)
    first = {b.what.split(",")[0]: b.day for b in buy_by(days)}

    sawn = next(s for s in days.plan.slots if s.task == "S1")
    coat = min(s.start for s in days.plan.slots if "coat" in s.task)
    assert first["plywood 18"] == sawn.start // 1440 == 0
    assert first["oil"] == coat // 1440


def test_the_page_is_one_and_says_what_the_command_says(
    paths: list[Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sheet = tmp_path / "day.pdf"
    words = ["day", *map(str, paths), "--start", "2026-12-03 8:30", "--out", str(sheet)]

    assert main(words) == 0
    told = capsys.readouterr().out
    pages = PdfReader(sheet).pages

    assert len(pages) == 1
    text = " ".join(pages[0].extract_text().split())
    for line in ("Thursday 3 December", "Ready", "Buy by", "plan again from your ticks"):
        assert line in text
    assert "Peg box: ready" in told
    assert "before Thursday 3 December: plywood 18" in told
    assert main([*words[:3], "--start", "2026-12-03 8:30", "--json", "--no-print"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert {s["task"] for s in data["slots"]} == {t["id"] for t in data["tasks"]}
    assert data["first"] == "2026-12-03"


def test_each_task_stands_once_on_the_days_told(work: DayTasks) -> None:
    days = days_from(work, WHEN)
    told = [r.task.id for _, rows in days_told(days) for r in rows]

    assert sorted(told) == sorted(t.id for t in work.tasks)
    assert sureness_words(days) == "No order has the jobs ready sooner."
    assert moment_words(days.first, 1440 + 8 * 60 + 3) == "Friday 4 December, 8:05"


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"inches": "yes"}, "batch-units"),
        ({"units": 'currency = "GBP"'}, "batch-currency"),
        ({"twice": "yes"}, "batch-twice"),
        ({"gone": "yes"}, "file-missing"),
        ({"case": "width = 90000"}, "length"),
    ],
)
def test_bad_input_is_told_before_anything_is_planned(tmp_path: Path, change: dict[str, str], code: str) -> None:
    first, second = tmp_path / "a.toml", tmp_path / "b.toml"
    first.write_text(job_text("Peg box"), encoding="utf-8")
    text = job_text("Score box").replace('currency = "EUR"', change.get("units", 'currency = "EUR"'))
    second.write_text(text.replace("width = 400", change.get("case", "width = 400")), encoding="utf-8")
    paths = [first, first if "twice" in change else second]
    if "inches" in change:
        paths[1] = EXAMPLES / "music-stand-shelf-inches.toml"
    if "gone" in change:
        second.unlink()

    with pytest.raises(JobError) as caught:
        tasks_of_files(paths)

    assert code in {f.code for f in caught.value.faults}


@pytest.mark.parametrize("words", ["tomorrow", "2026-13-01", "2026-12-03 25:00"])
def test_a_start_that_is_no_day_says_so(words: str) -> None:
    with pytest.raises(JobError) as caught:
        moment_of(words, WHEN)

    assert [f.code for f in caught.value.faults] == ["day-start"]
    assert moment_of("2026-12-04 9:15", WHEN).strftime("%d %H:%M") == "04 09:15"
    assert moment_of("", WHEN) == WHEN
