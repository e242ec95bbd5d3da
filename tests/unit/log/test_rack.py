"""The rack between jobs: used first, never twice, kept once."""

from __future__ import annotations

import argparse
import json
import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
import sqlalchemy as sa

from storyrod.adapters.commands._log import add
from storyrod.adapters.files import read_job
from storyrod.adapters.log import (
    BenchLog,
    CutSheets,
    KeptOffcuts,
    Offcut,
    carry_over,
    keep_offcuts,
    open_log,
    plan_with_rack,
    read_cut_sheets,
    take_off,
    with_rack,
)
from storyrod.adapters.output import plan_document
from storyrod.faults import JobError
from storyrod.model.workshop import RackOffcut
from storyrod.planning import Plan

BOX = """
title = "{title}"
[boards.birch18]
kind = "plywood"
thickness = 18
measured = 17.7
[[boards.birch18.sheets]]
length = 1525
width = 1525
price = 60
[[cases]]
code = "A"
name = "peg box"
width = {width}
height = 300
depth = 250
"""


@pytest.fixture
def log(tmp_path: Path) -> Iterator[BenchLog]:
    with open_log(tmp_path / "bench.db") as opened:
        yield opened


def planned(folder: Path, log: BenchLog, title: str = "Peg box", width: int = 400) -> Plan:
    path = folder / "job.toml"
    path.write_text(BOX.format(title=title, width=width), encoding="utf-8")
    read = read_job(path)
    return plan_with_rack(read.job, read.workshop, log)


def used_from_rack(plan: Plan) -> list[str]:
    return [s.stock for s in plan.sheets.sheets if s.offcut]


def codes(log: BenchLog) -> list[str]:
    return sorted(o.code for o in log.rack())


def test_what_one_job_leaves_the_next_one_uses_first(tmp_path: Path, log: BenchLog) -> None:
    first = planned(tmp_path, log)
    kept = keep_offcuts(log, first)
    second = planned(tmp_path, log, title="Pipe box")

    assert kept.put
    assert codes(log) == sorted(o.code for o in kept.put)
    assert all(o.code.endswith(f"-{first.version[:4]}") for o in kept.put)
    assert used_from_rack(second)
    assert set(used_from_rack(second)) <= set(codes(log))
    assert second.sheets.cents == 0


def test_what_was_used_never_comes_back(tmp_path: Path, log: BenchLog) -> None:
    keep_offcuts(log, planned(tmp_path, log))
    second = planned(tmp_path, log, title="Pipe box")
    kept = keep_offcuts(log, second)
    third = planned(tmp_path, log, title="Third box")

    assert sorted(o.code for o in kept.taken) == sorted(used_from_rack(second))
    assert not set(codes(log)) & set(used_from_rack(second))
    assert not set(used_from_rack(third)) & set(used_from_rack(second))


def test_two_plans_with_one_offcut_can_not_both_be_cut(tmp_path: Path, log: BenchLog) -> None:
    keep_offcuts(log, planned(tmp_path, log))
    second, third = (planned(tmp_path, log, title=t) for t in ("Pipe box", "Third box"))
    assert used_from_rack(second) == used_from_rack(third)
    keep_offcuts(log, second)
    before = log.rack_book()

    with pytest.raises(JobError, match="taken off the rack for Pipe box") as caught:
        keep_offcuts(log, third)

    assert [f.code for f in caught.value.faults] == ["offcut-taken"] * len(used_from_rack(third))
    assert log.rack_book() == before


def cut(job: str, *used: Offcut, left: int = 0) -> CutSheets:
    left_over = tuple(Offcut(code=f"{job}/O{i}", board="birch18", length=400, width=300) for i in range(left))
    return CutSheets(job=job, version="v1", layout="l1", used=used, left=left_over)


def test_of_two_writers_at_once_one_gets_the_piece(tmp_path: Path) -> None:
    """Both look at the rack before either writes; the database keeps one, and the other's change falls away whole."""
    where = tmp_path / "bench.db"
    piece = Offcut(code="R1", board="birch18", length=900, width=400)
    with open_log(where) as log:
        log.put_offcut(piece)
    ready = threading.Barrier(2)
    won: list[KeptOffcuts] = []
    lost: list[JobError] = []

    class Waiting(BenchLog):
        def keep_cut(self, *words: object, **more: object) -> None:
            ready.wait(timeout=600)
            super().keep_cut(*words, **more)  # type: ignore[arg-type]

    def write(job: str) -> None:
        with open_log(where) as opened:
            try:
                won.append(keep_offcuts(Waiting(opened.engine, opened.name, opened.clock), cut(job, piece, left=2)))
            except JobError as error:
                lost.append(error)

    writers = [threading.Thread(target=write, args=(job,)) for job in ("one", "two")]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join(timeout=600)

    assert len(won) == len(lost) == 1
    assert [f.code for f in lost[0].faults] == ["offcut-taken"]
    with open_log(where) as log:
        assert [e.offcut.code for e in log.rack_book() if not e.here] == ["R1"]
        assert codes(log) == [o.code for o in won[0].put]


def test_of_two_writers_of_one_plan_one_writes(tmp_path: Path) -> None:
    """The page and the command line confirm the same plan at the same moment: it counts once, and both are told so."""
    where = tmp_path / "bench.db"
    told: list[KeptOffcuts] = []

    def write() -> None:
        with open_log(where) as opened:
            told.append(keep_offcuts(opened, cut("one", left=3)))

    with open_log(where):
        writers = [threading.Thread(target=write) for _ in range(4)]
        for writer in writers:
            writer.start()
        for writer in writers:
            writer.join(timeout=600)

    assert sorted(k.before for k in told) == [False, True, True, True]
    with open_log(where) as log:
        assert len(log.rack_book()) == 3


def test_confirmed_twice_counts_once(tmp_path: Path, log: BenchLog) -> None:
    plan = planned(tmp_path, log)
    keep_offcuts(log, plan)
    book = log.rack_book()
    again = keep_offcuts(log, plan)

    assert again.before
    assert "before" in again.lines()[0]
    assert log.rack_book() == book


def test_a_cut_job_keeps_its_plan_and_never_eats_its_own_leftovers(tmp_path: Path, log: BenchLog) -> None:
    plan = planned(tmp_path, log)
    keep_offcuts(log, plan)
    same = planned(tmp_path, log)
    changed = planned(tmp_path, log, width=420)

    assert same.version == plan.version
    assert used_from_rack(same) == []
    assert used_from_rack(changed)  # it was cut, then changed: what is cut anew comes from the rack as it is now


def test_a_cut_job_keeps_its_plan_whatever_later_jobs_do_to_the_rack(tmp_path: Path, log: BenchLog) -> None:
    first = planned(tmp_path, log)
    keep_offcuts(log, first)
    second = planned(tmp_path, log, title="Pipe box")
    keep_offcuts(log, second)
    log.put_offcut(Offcut(code="by hand", board="birch18", length=900, width=400))

    assert used_from_rack(second)
    assert planned(tmp_path, log).version == first.version
    assert planned(tmp_path, log, title="Pipe box").version == second.version


def test_a_clock_set_back_changes_nothing_of_the_rack_that_a_job_found(tmp_path: Path) -> None:
    """Pieces come and go by the log's own count: neither what lay there is lost, nor what came later found."""
    hour = 1_000_000.0
    with open_log(tmp_path / "bench.db", clock=lambda: hour) as log:
        keep_offcuts(log, planned(tmp_path, log))
        hour -= 3600
        second = planned(tmp_path, log, title="Pipe box")
        assert used_from_rack(second)
        keep_offcuts(log, second)
        hour -= 3600
        keep_offcuts(log, cut("Another box", left=2))

        assert planned(tmp_path, log, title="Pipe box").version == second.version


def test_a_confirmation_of_before_goes_by_the_time(tmp_path: Path, log: BenchLog) -> None:
    keep_offcuts(log, planned(tmp_path, log))
    second = planned(tmp_path, log, title="Pipe box")
    keep_offcuts(log, second)
    with log.engine.begin() as connection:
        connection.execute(sa.text("UPDATE ticks SET content = substr(content, 1, 8)"))

    assert planned(tmp_path, log, title="Pipe box").version == second.version
    assert keep_offcuts(log, second).before


def test_the_same_plan_in_another_layout_is_refused(log: BenchLog) -> None:
    keep_offcuts(log, cut("one", left=1))

    with pytest.raises(JobError, match="layout l1 was confirmed") as caught:
        keep_offcuts(log, replace(cut("one", left=2), layout="l2"))
    assert caught.value.faults[0].code == "sheets-confirmed"
    assert "copy 2" in caught.value.faults[0].do

    keep_offcuts(log, replace(cut("one", left=1), layout="l2"), copy=2)
    assert codes(log) == ["one/O0", "one/O0-2"]


def test_a_piece_of_the_workshop_file_is_used_up_too(tmp_path: Path, log: BenchLog) -> None:
    """The file lists it for ever; the log knows that it was taken. A new piece of another size may bear its code."""
    read = read_job(Path(planned(tmp_path, log).job.title and tmp_path / "job.toml"))
    old = RackOffcut(code="R1", board="birch18", length=900, width=400)
    workshop = replace(read.workshop, rack=(old,))
    keep_offcuts(log, cut("one", Offcut(code="R1", board="birch18", length=900, width=400)))
    smaller = replace(old, length=700)

    assert with_rack(workshop, log).rack == ()
    assert with_rack(replace(workshop, rack=(smaller,)), log).rack == (smaller,)
    with pytest.raises(JobError, match="taken off the rack for one"):
        keep_offcuts(log, cut("two", Offcut(code="R1", board="birch18", length=900, width=400)))


def test_the_log_has_the_last_word_on_a_size(tmp_path: Path, log: BenchLog) -> None:
    planned(tmp_path, log)
    workshop = read_job(tmp_path / "job.toml").workshop
    log.put_offcut(Offcut(code="R1", board="birch18", length=800, width=350))
    told = with_rack(replace(workshop, rack=(RackOffcut(code="R1", board="birch18", length=900, width=400),)), log).rack

    assert [(o.code, o.length) for o in told] == [("R1", 800)]


def test_taken_off_by_hand(log: BenchLog) -> None:
    log.put_offcut(Offcut(code="R1", board="birch18", length=800, width=350))

    assert take_off(log, "R1").length == 800
    assert log.rack() == ()
    with pytest.raises(JobError, match="not on the log's rack"):
        take_off(log, "R1")


def test_the_tick_of_cut_sheets_never_counts_as_undone(tmp_path: Path, log: BenchLog) -> None:
    plan = planned(tmp_path, log)
    keep_offcuts(log, plan)

    assert carry_over(log.ticks(plan.job.title), ()).gone == ()


def command(*words: str | Path) -> int:
    parser = argparse.ArgumentParser()
    add(parser.add_subparsers())
    arguments = parser.parse_args(["log", *map(str, words)])
    return int(arguments.run(arguments))


def test_on_the_command_line(tmp_path: Path, log: BenchLog, capsys: pytest.CaptureFixture[str]) -> None:
    """A plan.json is confirmed, whatever found its layout; then the rack is listed, and a piece thrown away."""
    plan = planned(tmp_path, log)
    written = tmp_path / "plan.json"
    written.write_text(json.dumps(plan_document(plan)), encoding="utf-8")
    database = tmp_path / "bench.db"

    assert command(database, "--cut", written) == 0
    out = capsys.readouterr().out
    assert f"Peg box, plan version {plan.version}, is cut." in out
    code = codes(log)[0]
    assert f"On the rack: {code}, birch18, " in out
    assert keep_offcuts(log, plan).before  # the file and the plan tell the same layout

    command(database, "--take-off", code)
    command(database, "--rack")
    assert f"Off the rack: {code}" in capsys.readouterr().out
    assert code not in codes(log)


@pytest.mark.parametrize("text", ["{}", "no json", '{"title": 1, "version": 2, "sheets": [{"stock": 3}]}'])
def test_a_file_that_is_no_plan_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "plan.json"
    path.write_text(text, encoding="utf-8")

    with pytest.raises(JobError, match="no plan"):
        read_cut_sheets(path)
    with pytest.raises(JobError, match="no file"):
        read_cut_sheets(tmp_path / "nowhere.json")


def test_a_damaged_log_is_told_and_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "bench.db"
    path.write_bytes(b"SQLite format 3\x00" + bytes(range(256)) * 40)
    held = path.read_bytes()

    with pytest.raises(JobError) as caught:
        command(path, "--rack")
    assert caught.value.faults[0].code == "log-damaged"
    assert path.read_bytes() == held
