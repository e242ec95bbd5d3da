"""Power cuts under the log's own database: what SQLite or PostgreSQL did not sync is dropped, names are kept.

`python3 run.py harden cuts [--cuts N] [--only sqlite | postgresql]`. A small library (`unsynced.c`, made here with the
machine's C compiler) is loaded before the database and keeps what each file held when it was last synced. Writers
tick; all are killed at once; every file is set back to what was synced; then each acknowledged tick must stand in the
log once. First the same with syncing switched off: where nothing is lost by that, the cut proves nothing. Linux.
"""

from __future__ import annotations

import argparse
import contextlib
import logging
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

import sqlalchemy as sa

from benchmarks._timing import show_table
from benchmarks.harden.ticks import free_port
from storyrod.adapters.log import open_log
from storyrod.telling.things import Thing

HERE: Final = Path(__file__).resolve().parent
WRITERS: Final = 3
THING: Final = Thing(id="cut 1", name="mark 1", content="hole")
PROGRAMS: Final = ("initdb", "pg_ctl", "postgres")
WRITER: Final = """
import sys, uuid
import storyrod.adapters.log._open as opening
from storyrod.telling.things import Thing
if sys.argv[2] == "unsafe":
    import sqlalchemy as sa
    safe = opening._keep_safe
    def unsafe(engine):
        safe(engine)
        sa.event.listen(engine, "connect", lambda c, _: c.execute("PRAGMA synchronous = OFF"))
    opening._keep_safe = unsafe
from storyrod.adapters.log import open_log
with open_log(sys.argv[1]) as log:
    while True:
        uid = uuid.uuid4().hex
        log.tick("job", "v1", Thing(id="cut 1", name="mark 1", content="hole"), uid=uid)
        print(uid, flush=True)
"""


@dataclass(slots=True)
class Disk:
    """The files of a database, and what of them is safe."""

    files: Path
    synced: Path
    library: Path

    def surroundings(self) -> dict[str, str]:
        """Return what a program runs with that this watches."""
        return {**os.environ, "LD_PRELOAD": str(self.library), "SYNCED": str(self.synced)}

    def all_safe(self) -> None:
        """Take everything that is there as synced."""
        shutil.rmtree(self.synced)
        self.synced.mkdir()
        for path in self._each():
            shutil.copyfile(path, self.synced / str(path.lstat().st_ino))
        about = self.files.stat()
        for path in (self.synced, *self.synced.iterdir()):
            os.chown(path, about.st_uid, about.st_gid)

    def cut(self) -> None:
        """Set every file back to what was synced; to nothing where it never was."""
        for path in self._each():
            safe = self.synced / str(path.lstat().st_ino)
            content = safe.read_bytes() if safe.exists() else b""
            if path.read_bytes() != content:
                path.write_bytes(content)

    def _each(self) -> list[Path]:
        return [p for p in self.files.rglob("*") if p.is_file() and not p.is_symlink()]


@dataclass(slots=True)
class Result:
    """What the cuts of one database came to."""

    cuts: int = 0
    acknowledged: int = 0
    lost: int = 0
    twice: int = 0
    troubles: list[str] = field(default_factory=list)

    def add(self, acknowledged: Sequence[str], kept: Counter[str]) -> None:
        """Hold what was acknowledged against what is kept."""
        self.cuts += 1
        self.acknowledged += len(acknowledged)
        self.lost += sum(not kept[uid] for uid in acknowledged)
        self.twice += sum(n > 1 for n in kept.values())


def library_in(folder: Path) -> Path | None:
    """Make the library, or return None where there is no compiler for it."""
    compiler = next(filter(None, map(shutil.which, ("cc", "gcc", "clang"))), None)
    if compiler is None or sys.platform != "linux":
        return None
    library = folder / "unsynced.so"
    subprocess.run([compiler, "-shared", "-fPIC", "-O1", "-o", str(library), str(HERE / "unsynced.c")], check=True)
    return library


def kept_in(address: str) -> Counter[str]:
    """Return how often each tick stands in a log."""
    with open_log(address) as log, log.engine.connect() as connection:
        return Counter(connection.execute(sa.text("SELECT uid FROM ticks")).scalars().all())


def sqlite_cut(disk: Disk, chance: random.Random, result: Result, *, unsafe: bool = False) -> None:
    """Let processes tick into one file, cut, and hold what they said against the file."""
    path = disk.files / "bench-log.sqlite"
    with open_log(path):
        pass
    disk.all_safe()
    words = [sys.executable, "-c", WRITER, str(path), "unsafe" if unsafe else "safe"]
    writers = [
        subprocess.Popen(words, env=disk.surroundings(), stdout=subprocess.PIPE, text=True) for _ in range(WRITERS)
    ]
    assert all(w.stdout is not None for w in writers)
    said = [w.stdout.readline() for w in writers if w.stdout is not None]
    time.sleep(chance.uniform(0.2, 1.0))
    for writer in writers:
        writer.send_signal(signal.SIGSTOP)
    for writer in writers:
        writer.kill()
    said += [line for w in writers for line in w.communicate()[0].splitlines(keepends=True)]
    disk.cut()
    result.add([line.strip() for line in said if line.endswith("\n")], kept_in(str(path)))


def as_server(words: Sequence[str]) -> list[str]:
    """Return a command for the user that a server may run as: it refuses to run as root."""
    return ["runuser", "-u", "postgres", "--", *words] if os.geteuid() == 0 else list(words)


@dataclass(slots=True)
class Server:
    """A PostgreSQL server whose files are watched."""

    disk: Disk
    port: int
    unsafe: bool
    process: subprocess.Popen[bytes] | None = None

    @property
    def address(self) -> str:
        """Where its database is."""
        return f"postgresql+pg8000://choir@127.0.0.1:{self.port}/postgres"

    def start(self) -> None:
        """Start it, and wait until it has recovered and answers."""
        (self.disk.files / "postmaster.pid").unlink(missing_ok=True)  # its number is nobody's after a power cut
        words = [
            "postgres",
            "-D",
            str(self.disk.files),
            "-p",
            str(self.port),
            "-k",
            "",
            "-c",
            "listen_addresses=127.0.0.1",
        ]
        words += ["-c", "fsync=off"] if self.unsafe else []
        for _ in range(100 if self.unsafe else 1200):
            if self.process is None or self.process.poll() is not None:  # it waits for what was killed to be gone
                self.process = self._begun(words)
            engine = sa.create_engine(self.address)
            with contextlib.suppress(sa.exc.SQLAlchemyError), engine.connect():
                return
            engine.dispose()
            time.sleep(0.1)
        raise RuntimeError(f"PostgreSQL does not come back: {self.disk.files.parent / 'server.log'}")

    def _begun(self, words: Sequence[str]) -> subprocess.Popen[bytes]:
        top = self.disk.files.parent
        with (top / "server.log").open("ab") as log:
            return subprocess.Popen(as_server(words), env=self.disk.surroundings(), stdout=log, stderr=log, cwd=top)

    def kill(self) -> None:
        """End it and all that it started, at once: none goes on writing while others are gone."""
        assert self.process is not None
        own = _family(self.process.pid)
        for pid in own:
            with contextlib.suppress(ProcessLookupError):
                os.kill(pid, signal.SIGSTOP)
        for pid in (*own, *(p for p in _family(self.process.pid) if p not in own)):
            with contextlib.suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)
        self.process.wait(60)
        for _ in range(600):
            if not any(_lives(pid) for pid in own):
                return
            time.sleep(0.05)


def _lives(pid: int) -> bool:
    with contextlib.suppress(OSError):
        return Path(f"/proc/{pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()[0] != "Z"
    return False


def _family(pid: int) -> list[int]:
    """Return a process and all that it started."""
    found = [pid]
    for each in found:
        for task in Path(f"/proc/{each}/task").glob("*/children"):
            with contextlib.suppress(OSError):
                found += [int(p) for p in task.read_text(encoding="ascii").split()]
    return found


def server_in(top: Path, library: Path, *, unsafe: bool) -> Server:
    """Make a database's files, and its server."""
    top.mkdir()
    data, synced = top / "data", top / "synced"
    synced.mkdir()
    if os.geteuid() == 0:
        for folder in (top, synced):
            shutil.chown(folder, "postgres")
    words = ["initdb", "-D", str(data), "-U", "choir", "-A", "trust", "--no-sync", "-E", "UTF8", "--wal-segsize=1"]
    subprocess.run(as_server(words), capture_output=True, check=True, cwd=top)
    return Server(Disk(data, synced, library), free_port(), unsafe)


def postgresql_cut(server: Server, chance: random.Random, result: Result) -> None:
    """Let threads tick over the line, cut, and hold what was acknowledged against the log that comes back."""
    server.disk.all_safe()
    server.start()
    acknowledged: list[str] = []

    def tick() -> None:
        with contextlib.suppress(Exception), open_log(server.address) as log:  # it is cut off in the end
            while True:
                uid = uuid.uuid4().hex
                log.tick("job", "v1", THING, uid=uid)
                acknowledged.append(uid)

    writers = [threading.Thread(target=tick, daemon=True) for _ in range(WRITERS)]
    for writer in writers:
        writer.start()
    until = time.monotonic() + 60
    while len(acknowledged) < 10 and time.monotonic() < until:
        time.sleep(0.01)
    time.sleep(chance.uniform(0.2, 1.0))
    server.kill()
    for writer in writers:
        writer.join(60)
    server.disk.cut()
    server.start()
    result.add(acknowledged, kept_in(server.address))
    server.kill()


def run_sqlite(top: Path, library: Path, cuts: int, chance: random.Random) -> tuple[Result, Result]:
    """Return what the cuts came to, and what one came to with syncing switched off."""
    control, result = Result(), Result()
    for n in range(cuts + 1):
        folder = top / f"sqlite-{n}"
        for part in ("files", "synced"):
            (folder / part).mkdir(parents=True)
        disk = Disk(folder / "files", folder / "synced", library)
        _told(
            result if n else control, lambda d=disk, n=n: sqlite_cut(d, chance, result if n else control, unsafe=not n)
        )
    return control, result


def run_postgresql(top: Path, library: Path, cuts: int, chance: random.Random) -> tuple[Result, Result]:
    """Return what the cuts came to, all of one server, and what one came to with syncing switched off."""
    control, result = Result(), Result()
    unsafe = server_in(top / "unsafe", library, unsafe=True)
    _told(control, lambda: postgresql_cut(unsafe, chance, control))
    server = server_in(top / "server", library, unsafe=False)
    for _ in range(cuts):
        _told(result, lambda: postgresql_cut(server, chance, result))
        print(f"postgresql: {result.cuts} cuts, {result.lost} of {result.acknowledged} lost", flush=True)
    return control, result


def _told(result: Result, cut: object) -> None:
    """Make a cut; a log that does not come back is told, and counts."""
    try:
        cut()  # type: ignore[operator]
    except Exception as error:  # noqa: BLE001  # what is looked for
        result.troubles.append(f"{type(error).__name__}: {str(error)[:200]}")


def main(argv: Sequence[str] | None = None) -> int:
    """Print the table; the exit status is 1 where a tick was lost or doubled, or a log did not come back."""
    parser = argparse.ArgumentParser(prog="run.py harden cuts", description=__doc__)
    parser.add_argument("--cuts", type=int, default=20, metavar="N")
    parser.add_argument("--only", choices=("sqlite", "postgresql"), default=None)
    parser.add_argument("--seed", type=int, default=None, metavar="S")
    arguments = parser.parse_args(argv)
    seed = random.SystemRandom().randrange(10**6) if arguments.seed is None else arguments.seed
    logging.disable(logging.CRITICAL)  # a pool whose line is cut off says so at length
    chance, rows, failed = random.Random(seed), [], 0
    print(f"seed {seed}", flush=True)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        top = Path(folder)
        top.chmod(0o755)
        library = library_in(top)
        if library is None:
            print("There is no C compiler here, or no Linux.")
            return 2
        for name, run in (("sqlite", run_sqlite), ("postgresql", run_postgresql)):
            if arguments.only not in (None, name):
                continue
            if name == "postgresql" and not all(map(shutil.which, PROGRAMS)):
                print("There is no PostgreSQL here.")
                continue
            control, result = run(top, library, arguments.cuts, chance)
            bites = control.lost > 0 or bool(control.troubles)
            rows.append([name, result.cuts, result.acknowledged, result.lost, result.twice, "yes" if bites else "no"])
            failed += result.lost + result.twice + len(result.troubles) + (not bites)
            for told in result.troubles:
                print(f"{name}: {told}")
    heads = ("database", "cuts", "acknowledged", "lost", "twice", "without syncing ticks are lost")
    show_table(f"{arguments.cuts} power cuts each", heads, rows)
    print(f"{failed:>8}  failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
