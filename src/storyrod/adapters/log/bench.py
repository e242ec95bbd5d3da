"""What a page at the bench keeps in the log: many ticks at once, late ones too, and the minutes of its clock.

All of it can be sent again without harm: what is there already, by its uid, is passed over.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite

from storyrod.adapters.log._faults import told
from storyrod.adapters.log._log import MOST_HOURS, BenchLog
from storyrod.adapters.log._open import reading
from storyrod.adapters.log._schema import jobs, offcuts, plans, spans, ticks, trials
from storyrod.adapters.log._types import Tick
from storyrod.telling.things import Thing


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A tick as a page made it, perhaps a while ago: `at` is when (seconds since 1970, UTC)."""

    uid: str
    thing: Thing
    copy: int
    done: bool
    at: float
    version: str
    who: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A stretch of the clock given to one act: see `Span`, of which it becomes one that is stopped."""

    uid: str
    act: str
    method: str
    set_up: str
    count: float
    started: float
    minutes: float
    version: str
    note: str = ""


def _insert(log: BenchLog, table: sa.Table, rows: Sequence[dict[str, Any]]) -> None:
    """Add rows, all or none; those whose uid is there already are passed over. Kept when this returns."""
    if not rows:
        return
    dialect = postgresql if log.engine.dialect.name == "postgresql" else sqlite
    statement = dialect.insert(table).on_conflict_do_nothing(index_elements=["uid"])
    with told(log.name), log.engine.begin() as connection:
        connection.execute(statement, list(rows))


def keep_ticks(log: BenchLog, job: str, made: Sequence[Made]) -> None:
    """Keep ticks, all or none; one that is there already is passed over. Kept when this returns."""
    rows = [
        {
            "uid": m.uid,
            "job": job,
            "version": m.version,
            "thing": m.thing.id,
            "copy": m.copy,
            "name": m.thing.name,
            "content": m.thing.content,
            "key": m.thing.key,
            "done": m.done,
            "at": m.at,
            "who": m.who,
        }
        for m in made
    ]
    _insert(log, ticks, rows)


def ticks_after(log: BenchLog, job: str, row: int) -> tuple[tuple[int, Tick], ...]:
    """Return the ticks of a job that were kept after the row of that number, with theirs, in the order of keeping."""
    wanted = sa.select(ticks).where(ticks.c.id > row, ticks.c.job == job).order_by(ticks.c.id)
    with told(log.name), reading(log.engine) as connection:
        rows = connection.execute(wanted).all()
    return tuple(
        (
            r.id,
            Tick(
                thing=Thing(id=r.thing, name=r.name, content=r.content, key=r.key),
                copy=r.copy,
                done=r.done,
                at=r.at,
                version=r.version,
                who=r.who,
            ),
        )
        for r in rows
    )


def keep_stretches(log: BenchLog, job: str, stretches: Sequence[Stretch]) -> None:
    """Keep stretches of the clock as stopped spans; one that is there already is passed over."""
    forgotten = "longer than a working day: forgotten?"
    _insert(
        log,
        spans,
        [
            {
                "uid": s.uid,
                "job": job,
                "version": s.version,
                "act": s.act,
                "method": s.method,
                "set_up": s.set_up,
                "panel": "",
                "count": s.count,
                "started": s.started,
                "minutes": s.minutes,
                "note": s.note or (forgotten if s.minutes > MOST_HOURS * 60 else ""),
                "keep": False,
            }
            for s in stretches
        ],
    )


def rename_job(log: BenchLog, old: str, new: str) -> None:
    """Have everything that was kept of a job belong to its new name; nothing happens where the new one is known."""
    with told(log.name), log.engine.begin() as connection:
        for table in (ticks, spans, plans):
            if connection.execute(sa.select(table.c.id).where(table.c.job == new).limit(1)).first():
                return
        for table in (ticks, spans, trials, offcuts, plans):
            connection.execute(table.update().where(table.c.job == old).values(job=new))
        if not connection.execute(sa.select(jobs.c.id).where(jobs.c.title == new)).first():
            connection.execute(jobs.update().where(jobs.c.title == old).values(title=new))
