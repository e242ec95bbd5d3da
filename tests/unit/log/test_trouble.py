"""Two writers at once, a full disk, damaged files, files of others: nothing is lost, nothing is overwritten."""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path

import pytest
import sqlalchemy as sa

from storyrod.adapters.log import open_log, rescue
from storyrod.faults import Fault, JobError
from storyrod.telling.things import Thing

JOB = "robe cupboard"


def thing(n: int) -> Thing:
    return Thing(id=f"cut {n}", name=f"mark {n}", content="hole 8, 13 deep" + " and so on" * 20)


def filled(path: Path, ticks: int) -> None:
    with open_log(path) as log:
        for n in range(ticks):
            log.tick(JOB, "v1", thing(n))
        log.move("dowel", 7)


def test_two_writers_at_once_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "bench.db"
    filled(path, 1)
    trouble: list[BaseException] = []

    def write(writer: int) -> None:
        try:
            with open_log(path) as log:
                for n in range(40):
                    log.tick(f"job {writer}", "v1", thing(n))
        except BaseException as error:  # noqa: BLE001  # shown below
            trouble.append(error)

    writers = [threading.Thread(target=write, args=(w,)) for w in range(2)]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()

    assert trouble == []
    with open_log(path) as log:
        assert [len(log.ticks(f"job {w}")) for w in range(2)] == [40, 40]


def test_a_writer_that_waits_too_long_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("storyrod.adapters.log._open.WAIT_S", 0)
    path = tmp_path / "bench.db"
    filled(path, 1)
    other = sqlite3.connect(path, isolation_level=None)
    with open_log(path) as log:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(JobError, match="Another program has held the log") as caught:
            log.tick(JOB, "v1", thing(2))
        assert caught.value.faults[0].code == "log-busy"
        other.execute("ROLLBACK")
        other.close()

        log.tick(JOB, "v1", thing(2))
        assert len(log.ticks(JOB)) == 2


def test_a_full_disk_is_told_and_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    """The disk is full as far as SQLite can tell: it may not add a page to the file."""
    path = tmp_path / "bench.db"
    filled(path, 10)
    acknowledged = 10
    with open_log(path) as log:

        def no_room(connection: sqlite3.Connection, _record: object) -> None:
            pages = connection.execute("PRAGMA page_count").fetchone()[0]
            connection.execute(f"PRAGMA max_page_count = {pages + 2}")

        log.engine.dispose()
        sa.event.listen(log.engine, "connect", no_room)
        told: tuple[Fault, ...] = ()
        while not told and acknowledged < 500:
            try:
                log.tick(JOB, "v1", thing(acknowledged))
                acknowledged += 1
            except JobError as error:
                told = error.faults
        assert [(f.code, "Make room" in f.do) for f in told] == [("log-full", True)]
        assert len(log.ticks(JOB)) == acknowledged > 10

    with open_log(path) as log:  # With room again, it goes on.
        log.tick(JOB, "v1", thing(1000))
        assert len(log.ticks(JOB)) == acknowledged + 1


def test_a_file_that_is_no_database_is_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "bench.db"
    path.write_text("Dear altos, rehearsal is on Tuesday.\n" * 50)
    before = path.read_bytes()

    with pytest.raises(JobError, match="rescue") as caught:
        open_log(path)

    assert caught.value.faults[0].code == "log-damaged"
    assert path.read_bytes() == before


def test_a_damaged_file_is_refused_and_what_is_sound_can_be_read_out(tmp_path: Path) -> None:
    path, new = tmp_path / "bench.db", tmp_path / "new.db"
    filled(path, 300)
    sqlite3.connect(path).execute("PRAGMA wal_checkpoint(TRUNCATE)").close()
    raw = bytearray(path.read_bytes())
    middle = len(raw) // 2 // 4096 * 4096
    raw[middle : middle + 2048] = b"\xa5" * 2048
    path.write_bytes(raw)

    with pytest.raises(JobError) as caught:
        open_log(path)
    assert caught.value.faults[0].code == "log-damaged"
    assert path.read_bytes() == raw

    saved = rescue(path, new)
    with open_log(new) as log:
        ticks = log.ticks(JOB)
        assert log.on_hand() == {"dowel": 7}
    assert dict(saved.rows)["ticks"] == len(ticks)
    assert 150 < len(ticks) <= 300
    assert all(t.thing == thing(int(t.thing.id.split()[1])) for t in ticks)
    assert any("ticks" in line for line in saved.lines())


def test_a_rescue_overwrites_nothing(tmp_path: Path) -> None:
    path = tmp_path / "bench.db"
    filled(path, 1)

    with pytest.raises(JobError, match="a free name"):
        rescue(path, path)
    with pytest.raises(JobError, match="no such file"):
        rescue(tmp_path / "nowhere.db", tmp_path / "new.db")


def test_a_sound_log_is_rescued_whole(tmp_path: Path) -> None:
    filled(tmp_path / "bench.db", 30)

    saved = rescue(tmp_path / "bench.db", tmp_path / "new.db")

    assert dict(saved.rows)["ticks"] == 30
    assert saved.unread == ()


def test_a_database_of_something_else_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "songs.db"
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE ticks (song TEXT)")
    connection.commit()
    connection.close()

    with pytest.raises(JobError, match="without the version of a bench log"):
        open_log(path)
    assert sqlite3.connect(path).execute("SELECT name FROM sqlite_master").fetchall() == [("ticks",)]


def test_a_file_that_may_not_be_written_is_told(tmp_path: Path) -> None:
    path = tmp_path / "bench.db"
    filled(path, 1)
    with open_log(path) as log:

        def only_read(connection: sqlite3.Connection, _record: object) -> None:
            connection.execute("PRAGMA query_only = ON")

        log.engine.dispose()
        sa.event.listen(log.engine, "connect", only_read)
        with pytest.raises(JobError) as caught:
            log.tick(JOB, "v1", thing(2))
    assert caught.value.faults[0].code == "log-closed"
