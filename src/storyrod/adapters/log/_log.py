"""The bench log itself. A call that returns has been kept: it survives a kill and a power cut from then on."""

from __future__ import annotations

import time
import uuid
from collections.abc import Callable, Sequence
from dataclasses import fields
from pathlib import Path
from typing import Any, Self

import sqlalchemy as sa

from storyrod.adapters.log._faults import refused, told
from storyrod.adapters.log._open import bring_up_to_date, make_engine, reading
from storyrod.adapters.log._schema import jobs, movements, offcuts, plans, spans, ticks, trials
from storyrod.adapters.log._together import counted_once
from storyrod.adapters.log._types import Offcut, RackEntry, Span, Tick, Trial
from storyrod.faults import JobError
from storyrod.model.learning import Timing
from storyrod.telling.things import Thing

MOST_HOURS = 16.0
"""A span that is longer than a working day was forgotten: it is kept, with the note that says so."""


def open_log(where: str | Path, *, clock: Callable[[], float] = time.time) -> BenchLog:
    """Open the log in a file, or at any SQLAlchemy address; it is made where it is not there yet.

    Raises:
        JobError: see `storyrod.adapters.log._open`; the file is then left as it is.
    """
    engine, name = make_engine(where)
    try:
        bring_up_to_date(engine, name)
    except BaseException:
        engine.dispose()
        raise
    return BenchLog(engine, name, clock)


class BenchLog:
    """Reads and writes one log. Several may be open at once, also from other programs."""

    def __init__(self, engine: sa.Engine, name: str, clock: Callable[[], float]) -> None:
        self.engine = engine
        self.name = name
        self.clock = clock

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    def _write(self, *statements: sa.Executable) -> int:
        """Do all of it or nothing; return how many rows the last one touched. Kept when this returns."""
        touched = 0
        with told(self.name), self.engine.begin() as connection:
            for statement in statements:
                touched = connection.execute(statement).rowcount
        return touched

    def _read(self, statement: sa.Select[Any]) -> Sequence[sa.Row[Any]]:
        with told(self.name), reading(self.engine) as connection:
            return connection.execute(statement).all()

    # Jobs and plans -----------------------------------------------------------------------------------------------

    def note_plan(self, job: str, version: str) -> None:
        """Keep that a job was planned; a version that is known already is kept once."""
        now = self.clock()
        if not self._read(sa.select(jobs.c.id).where(jobs.c.title == job)):
            self._once(jobs, {"uid": _uid(), "title": job, "at": now})
        known = sa.select(plans.c.id).where(plans.c.job == job, plans.c.version == version)
        if not self._read(known):
            self._once(plans, {"uid": _uid(), "job": job, "version": version, "at": now})

    def _once(self, table: sa.Table, row: dict[str, Any]) -> None:
        """Add a row unless it is there already, or another writer was quicker."""
        try:
            self._write(table.insert().values(row))
        except JobError as error:
            if error.faults[0].code != "log-twice":
                raise

    def jobs(self) -> tuple[str, ...]:
        """Return the titles of all jobs, the oldest first."""
        return tuple(r.title for r in self._read(sa.select(jobs.c.title).order_by(jobs.c.id)))

    def versions(self, job: str) -> tuple[str, ...]:
        """Return the versions in which a job was planned, the oldest first."""
        rows = self._read(sa.select(plans.c.version).where(plans.c.job == job).order_by(plans.c.id))
        return tuple(r.version for r in rows)

    # Ticks --------------------------------------------------------------------------------------------------------

    def tick(  # keyword-only, all with a plain meaning
        self,
        job: str,
        version: str,
        thing: Thing,
        *,
        copy: int = 1,
        done: bool = True,
        who: str = "",
        uid: str | None = None,
    ) -> str:
        """Keep that a thing is done (or, with `done` false, that it is not after all); return the tick's uid.

        A page that asks again with the same `uid`, since it heard no answer, ticks once. It counts after every word
        that the log has on the thing, also where the clock was set back since.
        """
        last = sa.select(sa.func.max(ticks.c.at)).where(
            ticks.c.job == job, ticks.c.thing == thing.id, ticks.c.copy == copy
        )
        now = self.clock()
        row = {
            "uid": uid or _uid(),
            "job": job,
            "version": version,
            "thing": thing.id,
            "copy": copy,
            "name": thing.name,
            "content": thing.content,
            "key": thing.key,
            "done": done,
            "at": sa.case((last.scalar_subquery() > now, last.scalar_subquery()), else_=now),
            "who": who,
        }
        self._once(ticks, row)
        return str(row["uid"])

    def ticks(self, job: str) -> tuple[Tick, ...]:
        """Return the last word on every thing of a job that was ever ticked, in the order of the first ticks.

        The word that was made last counts, which need not be the one that was kept last.
        """
        rows = self._read(sa.select(ticks).where(ticks.c.job == job).order_by(ticks.c.id))
        latest: dict[tuple[str, int], Tick] = {}
        for r in rows:
            known = latest.get((r.thing, r.copy))
            if known is not None and r.at < known.at:  # a tablet was away, and sent what was made before
                continue
            thing = Thing(id=r.thing, name=r.name, content=r.content, key=r.key)
            latest[r.thing, r.copy] = Tick(thing=thing, copy=r.copy, done=r.done, at=r.at, version=r.version, who=r.who)
        return tuple(latest.values())

    def others_with(self, thing: str, copy: int, *, but: str) -> int:
        """Return under how many other names than `but` a thing was ticked: of jobs like it that were set aside."""
        own = ticks.c.thing == thing, ticks.c.copy == copy, ticks.c.job != but
        return len(self._read(sa.select(ticks.c.job).where(*own).distinct()))

    # The stop-watch -----------------------------------------------------------------------------------------------

    def start(  # keyword-only, all with a plain meaning
        self, job: str, act: str, *, version: str = "", method: str = "", set_up: str = "", panel: str = ""
    ) -> str:
        """Start the stop-watch for an act; it goes on running over a crash. Return the span's uid."""
        uid = _uid()
        row = {"job": job, "act": act, "version": version, "method": method, "set_up": set_up, "panel": panel}
        self._write(spans.insert().values(uid=uid, count=1.0, started=self.clock(), **row))
        return uid

    def stop(self, uid: str, *, count: float = 1.0, note: str = "") -> Span:
        """Stop the stop-watch: the act was done `count` times.

        Raises:
            JobError: no such span runs.
        """
        if count <= 0:
            raise refused("log-count", uid, f"{count:g} times", "more than 0", "Say how often it was done.")
        running = self.span(uid)
        if running is None or running.minutes is not None:
            found = "no such span" if running is None else "a span that was stopped before"
            raise refused("log-span", uid, found, "a stop-watch that runs", "Start it first.")
        minutes = max(self.clock() - running.started, 0.0) / 60
        if minutes > MOST_HOURS * 60 and not note:
            note = "longer than a working day: forgotten?"
        values = {"count": count, "minutes": minutes, "note": note}
        if not self._write(spans.update().where(spans.c.uid == uid, spans.c.minutes.is_(None)).values(values)):
            raise refused(
                "log-span", uid, "a span that was stopped before", "a stop-watch that runs", "Start it first."
            )
        found_span = self.span(uid)
        assert found_span is not None  # noqa: S101  # it was there, and no row is ever taken away
        return found_span

    def add_span(  # keyword-only, all with a plain meaning
        self, job: str, act: str, minutes: float, *, count: float = 1.0, method: str = "", note: str = ""
    ) -> str:
        """Keep a span that was timed some other way."""
        if minutes < 0 or count <= 0:
            said = f"{minutes:g} min for {count:g} times"
            raise refused("log-count", act, said, "0 min or more, for more than 0 times", "Write what was timed.")
        uid = _uid()
        row = {"job": job, "act": act, "minutes": minutes, "count": count, "method": method, "note": note}
        self._write(spans.insert().values(uid=uid, started=self.clock() - minutes * 60, **row))
        return uid

    def keep_span(self, uid: str, *, keep: bool = True) -> None:
        """Say that a span counts although it is unlike the others (or that it does not after all)."""
        self._write(spans.update().where(spans.c.uid == uid).values(keep=keep))

    def span(self, uid: str) -> Span | None:
        """Return one span, or None."""
        rows = self._read(sa.select(spans).where(spans.c.uid == uid))
        return _span(rows[0]) if rows else None

    def running(self) -> tuple[Span, ...]:
        """Return the spans whose stop-watch runs."""
        rows = self._read(sa.select(spans).where(spans.c.minutes.is_(None)).order_by(spans.c.id))
        return tuple(_span(r) for r in rows)

    def spans(self, *, job: str | None = None, act: str | None = None) -> tuple[Span, ...]:
        """Return the spans of a job, of an act, or all, the oldest first."""
        wanted = sa.select(spans).order_by(spans.c.id)
        if job is not None:
            wanted = wanted.where(spans.c.job == job)
        if act is not None:
            wanted = wanted.where(spans.c.act == act)
        return tuple(_span(r) for r in self._read(wanted))

    def timings(self, act: str | None = None) -> tuple[Timing, ...]:
        """Return the stopped spans as timings for learning, the oldest first.

        Minutes in which the clocks of several tablets ran at one set-up count once.
        """
        return tuple(
            Timing(act=s.act, minutes=s.minutes, count=s.count, method=s.method, id=s.uid, keep=s.keep)
            for s in counted_once(self.spans())
            if s.minutes is not None and act in {None, s.act}
        )

    # Trial joints, the rack and the drawer ------------------------------------------------------------------------

    def add_trial(  # keyword-only, all with a plain meaning
        self, job: str, set_up: str, kind: str, reading: float, *, version: str = "", note: str = ""
    ) -> None:
        """Keep what a trial joint showed (mm)."""
        row = {"job": job, "set_up": set_up, "kind": kind, "reading": reading, "version": version, "note": note}
        self._write(trials.insert().values(uid=_uid(), at=self.clock(), **row))

    def trials(self, job: str) -> tuple[Trial, ...]:
        """Return the trial joints of a job, the oldest first."""
        rows = self._read(sa.select(trials).where(trials.c.job == job).order_by(trials.c.id))
        return tuple(
            Trial(job=r.job, set_up=r.set_up, kind=r.kind, reading=r.reading, at=r.at, note=r.note) for r in rows
        )

    def put_offcut(self, offcut: Offcut, *, here: bool = True, job: str = "") -> None:
        """Keep that an offcut lies on the rack, or with `here` false that it was taken."""
        row = {"code": offcut.code, "board": offcut.board, "length": offcut.length, "width": offcut.width}
        self._write(offcuts.insert().values(uid=_uid(), here=here, at=self.clock(), job=job, **row))

    def rack(self) -> tuple[Offcut, ...]:
        """Return the offcuts that lie on the rack."""
        latest = {e.offcut.code: e for e in self.rack_book()}
        return tuple(e.offcut for e in latest.values() if e.here)

    def rack_book(self) -> tuple[RackEntry, ...]:
        """Return every line of the rack's book, the oldest first: the last word on a code counts."""
        rows = self._read(sa.select(offcuts).order_by(offcuts.c.id))
        return tuple(
            RackEntry(
                uid=r.uid,
                offcut=Offcut(code=r.code, board=r.board, length=r.length, width=r.width),
                here=r.here,
                at=r.at,
                job=r.job,
            )
            for r in rows
        )

    def keep_cut(  # keyword-only, all with a plain meaning
        self, job: str, version: str, thing: Thing, *, uid: str, copy: int, entries: Sequence[RackEntry]
    ) -> None:
        """Keep that a job's sheets are cut, with what that did to the rack: all of it or nothing.

        Raises:
            JobError: the tick or an entry is there already, by its uid (code `log-twice`): nothing was added.
        """
        now = self.clock()
        tick = {"uid": uid, "job": job, "version": version, "thing": thing.id, "copy": copy, "name": thing.name}
        self._write(
            ticks.insert().values(content=thing.content, key=thing.key, done=True, at=now, who="", **tick),
            *(offcuts.insert().values(_rack_row(e, now)) for e in entries),
        )

    def note_rack(self, entry: RackEntry) -> None:
        """Keep one line of the rack's book.

        Raises:
            JobError: it is there already, by its uid (code `log-twice`).
        """
        self._write(offcuts.insert().values(_rack_row(entry, self.clock())))

    def move(self, item: str, change: int, why: str = "") -> None:
        """Keep that connectors went into the drawer (or, negative, out of it)."""
        self._write(movements.insert().values(uid=_uid(), item=item, change=change, at=self.clock(), why=why))

    def on_hand(self) -> dict[str, int]:
        """Return what lies in the drawer."""
        sums = sa.select(movements.c.item, sa.func.sum(movements.c.change).label("here"))
        return {r.item: int(r.here) for r in self._read(sums.group_by(movements.c.item).order_by(movements.c.item))}


def _rack_row(entry: RackEntry, now: float) -> dict[str, Any]:
    o = entry.offcut
    piece = {"code": o.code, "board": o.board, "length": o.length, "width": o.width}
    return piece | {"uid": entry.uid, "here": entry.here, "at": now, "job": entry.job}


def _uid() -> str:
    return uuid.uuid4().hex


def _span(row: sa.Row[Any]) -> Span:
    told = row._mapping  # noqa: SLF001  # the public way to columns by name; `row.count` is the tuple's own method
    return Span(**{f.name: told[f.name] for f in fields(Span)})
