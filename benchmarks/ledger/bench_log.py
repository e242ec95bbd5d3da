"""The bench log: a tick beside a bare write of SQLite with the same safety, and questions to a log of 100,000 spans."""

from __future__ import annotations

import random
import sqlite3
import tempfile
import uuid
from pathlib import Path

from benchmarks._timing import show_table, time_in_turns, time_work
from storyrod.adapters.files import packaged_workshop
from storyrod.adapters.log import BenchLog, open_log
from storyrod.adapters.log._schema import spans
from storyrod.ledger import teach
from storyrod.telling.things import Thing

SPANS = 100_000
ACTS = ("drill a hole", "rout a slot", "clamp the jig", "mark a joint line", "close a joint line")
TICKS = 50


def fill(log: BenchLog) -> None:
    """Put 100,000 spans of twenty jobs into a log."""
    chance = random.Random(1)
    rows = [
        {
            "uid": uuid.UUID(int=n).hex,
            "job": f"job {n % 20}",
            "act": ACTS[n % len(ACTS)],
            "method": "dowels",
            "count": float(chance.randint(1, 12)),
            "started": 1e9 + n,
            "minutes": chance.lognormvariate(0.5, 0.3),
        }
        for n in range(SPANS)
    ]
    with log.engine.begin() as connection:
        connection.execute(spans.insert(), rows)


def bare(path: Path) -> sqlite3.Connection:
    """Return a plain database with one table and the log's own settings."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute("CREATE TABLE ticks (uid TEXT, thing TEXT, done INTEGER)")
    return connection


def main() -> None:
    """Print milliseconds a tick, and for each question."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        plain = bare(folder / "plain.db")
        with open_log(folder / "bench.db") as log:

            def ours() -> None:
                for n in range(TICKS):
                    log.tick("job", "v1", Thing(id=f"cut {n}", name="mark", content="hole"))

            def theirs() -> None:
                for n in range(TICKS):
                    plain.execute("INSERT INTO ticks VALUES (?, ?, 1)", (uuid.uuid4().hex, f"cut {n}"))

            tick, write = time_in_turns({"tick": ours, "bare write": theirs}, repeats=5)
            rows = [
                [t.name, t.median_ms / TICKS, t.processor_ms / TICKS, t.ratio_to(write), t.work_ratio_to(write)]
                for t in (tick, write)
            ]
            heads = ("what", "ms each", "processor ms", "of a bare write", "by processor time")
            show_table("One tick, on the disk", heads, rows)

            fill(log)
            asked = (
                time_work("timings of one act (20,000)", lambda: log.timings("drill a hole"), repeats=3),
                time_work("spans of one job (5,000)", lambda: log.spans(job="job 7"), repeats=3),
                time_work("what is running", log.running, repeats=3),
                time_work(
                    "all timings, and teach the workshop", lambda: teach(packaged_workshop(), log.timings()), repeats=3
                ),
                time_work("open the log, checked", lambda: open_log(folder / "bench.db").close(), repeats=3),
            )
            rows = [[t.name, t.median_ms, t.processor_ms] for t in asked]
            show_table(f"A log of {SPANS:,} spans", ("question", "ms", "processor ms"), rows)
        plain.close()


if __name__ == "__main__":
    main()
