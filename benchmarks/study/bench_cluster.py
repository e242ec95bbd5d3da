"""What a cluster costs a study, and what that means for many workers.

Measured here: the processor's time of a variant, of the scheduler and client for a piece, and of keeping a piece in its
folder; bytes of a piece each way; memory of a worker. From these, what a million variants need on 10, 100 and 1,000
workers, by a simulation of workers that wait for one scheduler and one client; the same simulation is held against a
study on one and on two local workers. Needs the extra `study`.
"""

from __future__ import annotations

import heapq
import pickle
import tempfile
import time
from pathlib import Path

import psutil

from benchmarks._timing import show_table
from storyrod.adapters.files import job_from_text
from storyrod.adapters.files.studying import Variants, variants_of
from storyrod.adapters.study import Alone, Sharing, columns_in, run_study
from storyrod.adapters.study._engines import worked_out
from storyrod.adapters.study._store import PIECE, Store
from storyrod.adapters.study.cluster import Spread
from storyrod.model.study import Asked, Study, Vary
from tests.unit.study.shared import JOB


def study_of(rows: int, method: str = "dowels") -> Variants:
    """Return a study of so many widths of a small cabinet; with a method that is not there, nothing is planned."""
    vary = (
        Vary(varies="cases[0].width", start=400, stop=600, step=200 / (rows - 1)),
        Vary(varies="methods.corner", values=(method,)),
    )
    return variants_of(Study(job="pegs.toml", vary=vary, ask=tuple(Asked)), job_from_text(JOB, name="pegs.toml"))


def variant_s(count: int = 20) -> float:
    """Return the processor's seconds of a variant with its sheets."""
    variants = study_of(count)
    sharing = Sharing(variants)
    sharing.row(0)
    began = time.process_time()
    worked_out(sharing, range(count))
    return (time.process_time() - began) / count


def keeping_s(pieces: int = 50) -> float:
    """Return the processor's seconds of keeping a piece: as it goes on from, as Parquet, as CSV."""
    variants = study_of(PIECE * pieces)
    row = Sharing(variants).row(0)
    with tempfile.TemporaryDirectory() as name:
        store = Store(Path(name), columns_in(variants), len(variants), "0" * 12)
        store.keep(0, [row] * PIECE)
        began = time.process_time()
        for piece in range(1, pieces):
            store.keep(piece, [row] * PIECE)
        spent = time.process_time() - began
        store.close()
    return spent / (pieces - 1)


def sending_s(rows: int = 4000) -> float:
    """Return the seconds of this process (scheduler and client) for a piece, with rows that cost next to nothing."""
    variants = study_of(rows, "no such method")
    spread = Spread(2)
    began, pieces = 0.0, 0
    for _ in spread.run(variants, range(rows // PIECE)):
        if not pieces:
            began = time.process_time()  # workers have started
        pieces += 1
    return (time.process_time() - began) / (pieces - 1)


def simulated_s(rows: int, workers: int, *, variant: float, central: float) -> float:
    """Return the seconds of a study: each worker takes a piece, works, and waits until the one centre has taken it."""
    pieces = -(-rows // PIECE)
    free = [0.0] * min(workers, pieces)
    centre = 0.0
    for _ in range(pieces):
        done = heapq.heappop(free) + PIECE * variant
        centre = max(centre, done) + central
        heapq.heappush(free, centre)
    return centre


def worker_mib(rows: int) -> float:
    """Return the most memory of this process for so many rows worked out and let go of, above what it had (MiB)."""
    own = psutil.Process()
    variants = study_of(rows, "no such method")
    before = own.memory_info().rss
    for _ in Alone().run(variants, range(rows // PIECE)):
        pass
    return float(own.memory_info().rss - before) / 2**20


def measured_s(variants: Variants, workers: int) -> float:
    """Return the seconds of a study on local workers, from its first piece on."""
    told: list[float] = []
    with tempfile.TemporaryDirectory() as name:
        run_study(variants, Path(name), Spread(workers), lambda _: told.append(time.perf_counter()))
    return told[-1] - told[0]


def main() -> None:
    """Print what was measured, and the forecast."""
    variant, keeping, sending = variant_s(), keeping_s(), sending_s()
    rows = worked_out(Sharing(study_of(PIECE)), range(PIECE))
    sent, back = len(pickle.dumps(study_of(PIECE))), len(pickle.dumps(rows))
    figures = [
        ("a variant, processor ms", 1000 * variant),
        ("scheduler and client, a piece of 20, ms", 1000 * sending),
        ("keeping a piece, ms", 1000 * keeping),
        ("both, a variant, ms", 1000 * (sending + keeping) / PIECE),
        ("sent to a worker, a piece, kB", sent / 1000),
        ("sent back, a piece, kB", back / 1000),
        ("this process, all it holds, MiB", psutil.Process().memory_info().rss / 2**20),
        ("growth over 100,000 rows, MiB", worker_mib(100_000)),
    ]
    show_table("Measured", ("what", "figure"), figures)
    central = sending + keeping
    forecast = []
    for workers in (1, 2, 10, 100, 1000):
        took = simulated_s(1_000_000, workers, variant=variant, central=central)
        alone = simulated_s(1_000_000, 1, variant=variant, central=0.0)
        forecast.append((workers, took / 3600, alone / workers / took))
    show_table("A million variants", ("workers", "hours", "efficiency"), forecast)
    full = PIECE * variant / central
    print(f"\nThe centre is full at about {full:,.0f} workers; a piece of {10 * PIECE} moves that further out.")
    checked = []
    small = study_of(240)
    for workers in (1, 2):
        measured = measured_s(small, workers)
        said = simulated_s(len(small) - PIECE, workers, variant=variant, central=central)
        checked.append((workers, measured, said, measured / said))
    show_table("240 variants here, from the first piece on", ("workers", "seconds", "simulated", "times"), checked)
    print(f"load of the machine: {', '.join(f'{n:.1f}' for n in psutil.getloadavg())} on {psutil.cpu_count()} cores")


if __name__ == "__main__":
    main()
