"""Open a log: set the database up for safety, refuse what is damaged or newer, bring what is older up to date."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

import sqlalchemy as sa

from storyrod.adapters.log._faults import damaged, hide_password, refused, told
from storyrod.adapters.log._schema import MIGRATIONS, VERSION, meta, tables

READING: Final = "storyrod_reading"
WAIT_S: Final = 30
"""So long a writer waits for another one before it gives up."""

_HEAD: Final = b"SQLite format 3\x00"
_LOCK: Final = 7_046_029
"""Number of the lock under which a PostgreSQL log is made or migrated; any fixed number will do."""


def make_engine(where: str | Path) -> tuple[sa.Engine, str]:
    """Return an engine for a file or any SQLAlchemy address, and the name to tell it by.

    Raises:
        JobError: the address cannot be understood, its driver is missing, or the file is no sound database.
    """
    text = str(where)
    if "://" not in text:
        path = Path(text).expanduser()
        text = f"sqlite:///{path}"
    with told(text):
        url = sa.make_url(text)
    name = url.database or "" if url.get_backend_name() == "sqlite" else hide_password(url)
    with told(name):
        if url.get_backend_name() == "sqlite":
            _look_at_file(Path(name))
            engine = sa.create_engine(url, connect_args={"timeout": WAIT_S})
            _keep_safe(engine)
        else:
            engine = sa.create_engine(url, pool_pre_ping=True)
    return engine, name


def _look_at_file(path: Path) -> None:
    if not path.parent.is_dir():
        raise refused("log-closed", str(path), "no such folder", "a folder that is there", "Make the folder first.")
    try:
        if not path.exists() or (path.is_file() and path.stat().st_size == 0):
            return
        if not path.is_file():
            raise refused("log-closed", str(path), "no file", "a file", "Name the file of the log.")
        with path.open("rb") as file:
            head = file.read(len(_HEAD))
    except OSError as error:
        found = f"a file that cannot be read ({error.strerror})"
        raise refused("log-closed", str(path), found, "a file that can be read", "See who may read it.") from error
    if head != _HEAD:
        raise damaged(str(path), "a file that is no database, or whose beginning is gone")


def _keep_safe(engine: sa.Engine) -> None:
    """Have every commit reach the disk before it returns, and every writer wait its turn."""

    def connect(connection: sqlite3.Connection, _record: Any) -> None:  # noqa: ANN401  # the pool's own record
        connection.isolation_level = None  # Transactions are begun by us, below.
        cursor = connection.cursor()
        for pragma in (
            f"busy_timeout = {WAIT_S * 1000}",
            "journal_mode = WAL",
            "synchronous = FULL",  # The log is on the disk, not just in its cache, when a commit returns.
            "foreign_keys = ON",
        ):
            cursor.execute(f"PRAGMA {pragma}")
        cursor.close()

    def begin(connection: sa.Connection) -> None:
        reading = connection.get_execution_options().get(READING)
        connection.exec_driver_sql("BEGIN" if reading else "BEGIN IMMEDIATE")

    sa.event.listen(engine, "connect", connect)
    sa.event.listen(engine, "begin", begin)


@contextmanager
def reading(engine: sa.Engine) -> Iterator[sa.Connection]:
    """Return a connection that reads one state of the log and holds no writer up."""
    with engine.connect().execution_options(**{READING: True}) as connection:
        yield connection
        connection.rollback()


def bring_up_to_date(engine: sa.Engine, name: str) -> None:
    """Make the tables of a new log, or migrate an older one; all of it or nothing.

    Raises:
        JobError: the file is damaged, belongs to something else, or to a newer storyrod.
    """
    with told(name):
        if engine.dialect.name == "sqlite":
            _check(engine, name)
            if _version(engine) not in (None, VERSION):
                _copy_aside(Path(name), _version(engine))
        with engine.begin() as connection:
            if engine.dialect.name == "postgresql":
                connection.execute(sa.text(f"SELECT pg_advisory_xact_lock({_LOCK})"))
            _migrate(connection, name)


def _check(engine: sa.Engine, name: str) -> None:
    with reading(engine) as connection:
        found = connection.exec_driver_sql("PRAGMA quick_check").scalars().all()
    if list(found) != ["ok"]:
        raise damaged(name, "; ".join(str(f) for f in found[:3]))


def _version(engine: sa.Engine) -> int | None:
    with reading(engine) as connection:
        return _version_in(connection)


def _version_in(connection: sa.Connection) -> int | None:
    if not sa.inspect(connection).has_table(meta.name):
        return None
    value = connection.execute(sa.select(meta.c.value).where(meta.c.key == "version")).scalar()
    return int(value) if value is not None and str(value).isdigit() else None


def _migrate(connection: sa.Connection, name: str) -> None:
    version = _version_in(connection)
    if version is None:
        _refuse_strangers(connection, name)
        tables.create_all(connection)
        connection.execute(meta.insert().values(key="version", value=str(VERSION)))
        return
    if version > VERSION:
        raise refused(
            "log-newer",
            name,
            f"a log of version {version}",
            f"up to version {VERSION}",
            "It was written by a newer storyrod: use that one. The file was left as it is.",
        )
    while version < VERSION:
        step: Callable[[sa.Connection], None] = MIGRATIONS[version]
        step(connection)
        version += 1
    connection.execute(meta.update().where(meta.c.key == "version").values(value=str(version)))


def _refuse_strangers(connection: sa.Connection, name: str) -> None:
    """Refuse a database whose tables bear our names but whose version is not told: it is someone else's."""
    ours = set(tables.tables) & set(sa.inspect(connection).get_table_names())
    if ours:
        raise damaged(name, f"tables {', '.join(sorted(ours))} without the version of a bench log")


def _copy_aside(path: Path, version: int | None) -> None:
    """Copy a log as it was before its migration; a copy made before is kept."""
    aside = path.with_name(f"{path.name}.version-{version}")
    if aside.exists():
        return
    partial = aside.with_name(f"{aside.name}.partial")
    partial.unlink(missing_ok=True)
    source, target = sqlite3.connect(path), sqlite3.connect(partial)
    try:
        source.backup(target)
    finally:
        target.close()
        source.close()
    partial.replace(aside)
