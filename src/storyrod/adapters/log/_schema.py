"""The tables of the bench log, and how an older one becomes today's.

Rows are only ever added (a span is closed once): the last tick of a thing counts, what lies in the drawer is the sum of
what went in and out. `uid` tells a row from every other one in the world, so that an import adds nothing twice.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import sqlalchemy as sa

VERSION: Final = 3
"""Raised whenever the tables change; every older version has its migration below, and its sample in the tests."""

tables = sa.MetaData()

meta = sa.Table("meta", tables, sa.Column("key", sa.String(40), primary_key=True), sa.Column("value", sa.Text))

jobs = sa.Table(
    "jobs",
    tables,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("uid", sa.String(32), nullable=False, unique=True),
    sa.Column("title", sa.Text, nullable=False, unique=True),
    sa.Column("at", sa.Float, nullable=False),
)

plans = sa.Table(
    "plans",
    tables,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("uid", sa.String(32), nullable=False, unique=True),
    sa.Column("job", sa.Text, nullable=False),
    sa.Column("version", sa.String(40), nullable=False),
    sa.Column("at", sa.Float, nullable=False),
    sa.UniqueConstraint("job", "version"),
)

ticks = sa.Table(
    "ticks",
    tables,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("uid", sa.String(32), nullable=False, unique=True),
    sa.Column("job", sa.Text, nullable=False),
    sa.Column("version", sa.String(40), nullable=False),
    sa.Column("thing", sa.Text, nullable=False),
    sa.Column("copy", sa.Integer, nullable=False, server_default="1"),
    sa.Column("name", sa.Text, nullable=False),
    sa.Column("content", sa.Text, nullable=False),
    sa.Column("key", sa.Text, nullable=False, server_default=""),
    sa.Column("done", sa.Boolean, nullable=False),
    sa.Column("at", sa.Float, nullable=False),
    sa.Column("who", sa.Text, nullable=False, server_default=""),
    sa.Index("ticks_by_job", "job", "thing", "copy"),
)

spans = sa.Table(
    "spans",
    tables,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("uid", sa.String(32), nullable=False, unique=True),
    sa.Column("job", sa.Text, nullable=False),
    sa.Column("version", sa.String(40), nullable=False, server_default=""),
    sa.Column("act", sa.Text, nullable=False),
    sa.Column("method", sa.Text, nullable=False, server_default=""),
    sa.Column("set_up", sa.Text, nullable=False, server_default=""),
    sa.Column("panel", sa.Text, nullable=False, server_default=""),
    sa.Column("count", sa.Float, nullable=False),
    sa.Column("started", sa.Float, nullable=False),
    sa.Column("minutes", sa.Float),
    sa.Column("note", sa.Text, nullable=False, server_default=""),
    sa.Column("keep", sa.Boolean, nullable=False, server_default=sa.false()),
    sa.Index("spans_by_act", "act", "method"),
    sa.Index("spans_by_job", "job"),
)

trials = sa.Table(
    "trials",
    tables,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("uid", sa.String(32), nullable=False, unique=True),
    sa.Column("job", sa.Text, nullable=False),
    sa.Column("version", sa.String(40), nullable=False, server_default=""),
    sa.Column("set_up", sa.Text, nullable=False),
    sa.Column("kind", sa.String(40), nullable=False),
    sa.Column("reading", sa.Float, nullable=False),
    sa.Column("at", sa.Float, nullable=False),
    sa.Column("note", sa.Text, nullable=False, server_default=""),
)

offcuts = sa.Table(
    "offcuts",
    tables,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("uid", sa.String(32), nullable=False, unique=True),
    sa.Column("code", sa.Text, nullable=False),
    sa.Column("board", sa.Text, nullable=False),
    sa.Column("length", sa.Float, nullable=False),
    sa.Column("width", sa.Float, nullable=False),
    sa.Column("here", sa.Boolean, nullable=False),
    sa.Column("at", sa.Float, nullable=False),
    sa.Column("job", sa.Text, nullable=False, server_default=""),
)

movements = sa.Table(
    "movements",
    tables,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("uid", sa.String(32), nullable=False, unique=True),
    sa.Column("item", sa.Text, nullable=False),
    sa.Column("change", sa.Integer, nullable=False),
    sa.Column("at", sa.Float, nullable=False),
    sa.Column("why", sa.Text, nullable=False, server_default=""),
    sa.Index("movements_by_item", "item"),
)

KEPT: Final = (jobs, plans, ticks, spans, trials, offcuts, movements)
"""What an export holds, in the order in which an import reads it."""


def _from_1(connection: sa.Connection) -> None:
    """Copies of a case are ticked apart, spans know their method, and the drawer is a sum of movements.

    In version 1 a tick had no copy and no name of who made it, a span no method and no `keep`, and connectors on hand
    stood in a table of plain counts.
    """
    for line in (
        "ALTER TABLE ticks ADD COLUMN copy INTEGER NOT NULL DEFAULT 1",
        "ALTER TABLE ticks ADD COLUMN who TEXT NOT NULL DEFAULT ''",
        "ALTER TABLE spans ADD COLUMN method TEXT NOT NULL DEFAULT ''",
        f"ALTER TABLE spans ADD COLUMN keep BOOLEAN NOT NULL DEFAULT {_false(connection)}",
        "DROP INDEX IF EXISTS ticks_by_job",
        "DROP INDEX IF EXISTS spans_by_act",
        "CREATE INDEX ticks_by_job ON ticks (job, thing, copy)",
        "CREATE INDEX spans_by_act ON spans (act, method)",
    ):
        connection.execute(sa.text(line))
    movements.create(connection)
    old = connection.execute(sa.text("SELECT uid, item, count, at FROM on_hand")).all()
    for uid, item, count, at in old:
        row = {"uid": uid, "item": item, "change": count, "at": at, "why": "counted before the log kept movements"}
        connection.execute(movements.insert().values(row))
    connection.execute(sa.text("DROP TABLE on_hand"))


def _from_2(connection: sa.Connection) -> None:
    """A tick keeps what was done in figures and codes, beside its words; ticks kept before have words alone."""
    connection.execute(sa.text("ALTER TABLE ticks ADD COLUMN key TEXT NOT NULL DEFAULT ''"))


def _false(connection: sa.Connection) -> str:
    return "0" if connection.dialect.name == "sqlite" else "FALSE"


MIGRATIONS: Final[dict[int, Callable[[sa.Connection], None]]] = {1: _from_1, 2: _from_2}
"""From a version to the next."""
