"""`storyrod log`: what it says, and the ways out and back in."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

import pytest

from storyrod.adapters.commands._log import add
from storyrod.adapters.files import read_job
from storyrod.adapters.log import open_log
from storyrod.faults import JobError
from storyrod.planning import Plan
from storyrod.telling.cards import things_of
from tests.places import EXAMPLES

JOB = EXAMPLES / "first-box.toml"


def command(*words: str | Path) -> int:
    parser = argparse.ArgumentParser()
    add(parser.add_subparsers())
    arguments = parser.parse_args(["log", *map(str, words)])
    return int(arguments.run(arguments))


@pytest.fixture
def database(tmp_path: Path) -> Path:
    path = tmp_path / "bench.db"
    read = read_job(JOB)
    plan = Plan(read.job, read.workshop)
    with open_log(path) as log:
        log.note_plan(plan.job.title, plan.version)
        for thing in things_of(plan)[:5]:
            log.tick(plan.job.title, plan.version, thing)
        for minutes in (0.25, 0.22, 0.24, 0.23, 0.26, 40.0):
            log.add_span(plan.job.title, "drill a hole", minutes)
        log.start(plan.job.title, "close a joint line")
    return path


def test_it_says_what_the_bench_has_taught(database: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert command(database, "--job", JOB) == 0

    out = capsys.readouterr().out
    assert "1 job: Peg box." in out
    assert "A stop-watch is running: close a joint line (Peg box)." in out
    assert "6 timings." in out
    assert "drill a hole: 0.23 min" in out
    assert "set aside: 40.00 min where the others take about 0.24: a break in it?" in out
    assert "doubling" not in out  # five timings are too few for a slope
    assert "  5 ticks still hold." in out


def test_ticks_of_the_page_are_found_by_the_name_of_the_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    read = read_job(JOB)
    plan = Plan(read.job, read.workshop)
    with open_log(tmp_path / "bench.db") as log:
        log.tick(JOB.stem, plan.version, things_of(plan)[0])
    command(tmp_path / "bench.db", "--job", JOB)

    assert "  1 tick still holds." in capsys.readouterr().out


def test_learned_times_as_json(database: Path, capsys: pytest.CaptureFixture[str]) -> None:
    command(database, "--json")

    (told,) = json.loads(capsys.readouterr().out)
    assert (told["act"], told["used"]) == ("drill a hole", 5)


def test_out_and_back_in(database: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    command(database, "--export", tmp_path / "out")
    command(tmp_path / "new.db", "--import", tmp_path / "out")
    command(database, "--rescue-to", tmp_path / "rescued.db")

    out = capsys.readouterr().out
    assert "7 files written" in out
    assert "14 rows added." in out
    assert "ticks: 5 rows" in out


def test_a_log_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="a bench log"):
        command(tmp_path / "nowhere.db")
    assert not (tmp_path / "nowhere.db").exists()


def test_a_log_that_is_not_there_says_how_one_begins(tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        command(tmp_path / "new.db")

    (fault,) = caught.value.faults
    assert "A new log begins with the first tick" in fault.do
    assert "`--cut PLAN`" in fault.do
    assert not (tmp_path / "new.db").exists()
