"""Every past version of the log opens, with all that was in it; a later one is refused and left as it is."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
import sqlalchemy as sa

from storyrod.adapters.log import _schema, open_log
from storyrod.faults import JobError

VERSION_1 = """
CREATE TABLE meta (key VARCHAR(40) PRIMARY KEY, value TEXT);
INSERT INTO meta VALUES ('version', '1');
CREATE TABLE jobs (id INTEGER PRIMARY KEY, uid VARCHAR(32) NOT NULL UNIQUE, title TEXT NOT NULL UNIQUE,
    at FLOAT NOT NULL);
CREATE TABLE plans (id INTEGER PRIMARY KEY, uid VARCHAR(32) NOT NULL UNIQUE, job TEXT NOT NULL,
    version VARCHAR(40) NOT NULL, at FLOAT NOT NULL, UNIQUE (job, version));
CREATE TABLE ticks (id INTEGER PRIMARY KEY, uid VARCHAR(32) NOT NULL UNIQUE, job TEXT NOT NULL,
    version VARCHAR(40) NOT NULL, thing TEXT NOT NULL, name TEXT NOT NULL, content TEXT NOT NULL,
    done BOOLEAN NOT NULL, at FLOAT NOT NULL);
CREATE INDEX ticks_by_job ON ticks (job, thing);
CREATE TABLE spans (id INTEGER PRIMARY KEY, uid VARCHAR(32) NOT NULL UNIQUE, job TEXT NOT NULL,
    version VARCHAR(40) DEFAULT '' NOT NULL, act TEXT NOT NULL, set_up TEXT DEFAULT '' NOT NULL,
    panel TEXT DEFAULT '' NOT NULL, count FLOAT NOT NULL, started FLOAT NOT NULL, minutes FLOAT,
    note TEXT DEFAULT '' NOT NULL);
CREATE INDEX spans_by_act ON spans (act);
CREATE INDEX spans_by_job ON spans (job);
CREATE TABLE trials (id INTEGER PRIMARY KEY, uid VARCHAR(32) NOT NULL UNIQUE, job TEXT NOT NULL,
    version VARCHAR(40) DEFAULT '' NOT NULL, set_up TEXT NOT NULL, kind VARCHAR(40) NOT NULL, reading FLOAT NOT NULL,
    at FLOAT NOT NULL, note TEXT DEFAULT '' NOT NULL);
CREATE TABLE offcuts (id INTEGER PRIMARY KEY, uid VARCHAR(32) NOT NULL UNIQUE, code TEXT NOT NULL, board TEXT NOT NULL,
    length FLOAT NOT NULL, width FLOAT NOT NULL, here BOOLEAN NOT NULL, at FLOAT NOT NULL,
    job TEXT DEFAULT '' NOT NULL);
CREATE TABLE on_hand (uid VARCHAR(32) PRIMARY KEY, item TEXT NOT NULL, count INTEGER NOT NULL, at FLOAT NOT NULL);
INSERT INTO jobs VALUES (1, 'j1', 'folder cabinet', 10);
INSERT INTO plans VALUES (1, 'p1', 'folder cabinet', 'abc', 11);
INSERT INTO ticks VALUES (1, 't1', 'folder cabinet', 'abc', 'cut A.top:J1.1e', 'mark 1', 'hole 8', 1, 12);
INSERT INTO ticks VALUES (2, 't2', 'folder cabinet', 'abc', 'cut A.top:J1.2e', 'mark 2', 'hole 8', 0, 13);
INSERT INTO spans VALUES (1, 's1', 'folder cabinet', 'abc', 'drill a hole', 'S1', '', 12, 20, 3.0, '');
INSERT INTO on_hand VALUES ('h1', 'dowel 8 x 35', 140, 30);
"""


def version_1(path: Path, more: str = "") -> None:
    connection = sqlite3.connect(path)
    connection.executescript(VERSION_1 + more)
    connection.close()


def test_a_log_of_version_1_opens_with_all_that_was_in_it(tmp_path: Path) -> None:
    path = tmp_path / "bench.db"
    version_1(path)

    with open_log(path) as log:
        assert log.jobs() == ("folder cabinet",)
        assert log.versions("folder cabinet") == ("abc",)
        assert [(t.thing.name, t.copy, t.done, t.who) for t in log.ticks("folder cabinet")] == [
            ("mark 1", 1, True, ""),
            ("mark 2", 1, False, ""),
        ]
        assert [(t.each_min, t.method, t.keep) for t in log.timings()] == [(0.25, "", False)]
        assert log.on_hand() == {"dowel 8 x 35": 140}
        log.move("dowel 8 x 35", -40)
        assert log.on_hand() == {"dowel 8 x 35": 100}


def test_the_tables_of_a_migrated_log_are_those_of_a_new_one(tmp_path: Path) -> None:
    version_1(tmp_path / "old.db")

    def columns(path: Path) -> dict[str, set[str]]:
        with open_log(path) as log:
            inspector = sa.inspect(log.engine)
            tables = sorted(inspector.get_table_names())
            found = {t: {c["name"] for c in inspector.get_columns(t)} for t in tables}
            return found | {f"{t} indexes": {str(i["name"]) for i in inspector.get_indexes(t)} for t in tables}

    assert columns(tmp_path / "old.db") == columns(tmp_path / "new.db")


def test_a_copy_of_the_older_log_is_put_aside(tmp_path: Path) -> None:
    version_1(tmp_path / "bench.db")
    open_log(tmp_path / "bench.db").close()

    aside = sqlite3.connect(tmp_path / "bench.db.version-1")
    assert aside.execute("SELECT count FROM on_hand").fetchall() == [(140,)]


def test_a_migration_that_breaks_off_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "bench.db"
    version_1(path)

    def breaks(connection: sa.Connection) -> None:
        _schema._from_1(connection)
        raise KeyboardInterrupt

    monkeypatch.setitem(_schema.MIGRATIONS, 1, breaks)
    with pytest.raises(KeyboardInterrupt):
        open_log(path)
    monkeypatch.undo()

    connection = sqlite3.connect(path)
    assert connection.execute("SELECT value FROM meta").fetchall() == [("1",)]
    assert connection.execute("SELECT item, count FROM on_hand").fetchall() == [("dowel 8 x 35", 140)]
    connection.close()
    with open_log(path) as log:
        assert log.on_hand() == {"dowel 8 x 35": 140}


def test_a_newer_log_is_refused_and_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "bench.db"
    version_1(path, "UPDATE meta SET value = '99';")

    with pytest.raises(JobError, match="newer storyrod") as caught:
        open_log(path)

    assert caught.value.faults[0].code == "log-newer"
    assert sqlite3.connect(path).execute("SELECT value FROM meta").fetchall() == [("99",)]


def test_every_older_version_has_a_way_up() -> None:
    assert sorted(_schema.MIGRATIONS) == list(range(1, _schema.VERSION))
