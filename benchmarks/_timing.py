"""Measure run time and memory, always beside a peer in the same run, and print it as a small table.

Absolute times depend on the machine and on what else it does; the ratio to a peer, measured in turns with it,
far less.
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import statistics
import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Timing:
    """How long one piece of work took.

    Attributes:
        name: what was done.
        median_ms: median over the repeats (milliseconds).
        least_ms: the quickest repeat.
        most_ms: the slowest repeat.
        repeats: how often it was done.
        processor_ms: median of the processor's time, all threads and ended children counted; other work on the machine
            hardly moves it.
    """

    name: str
    median_ms: float
    least_ms: float
    most_ms: float
    repeats: int
    processor_ms: float = 0.0

    def ratio_to(self, peer: Timing) -> float:
        """How many times longer than the peer this took."""
        return self.median_ms / peer.median_ms

    def work_ratio_to(self, peer: Timing) -> float:
        """How many times the peer's processor time this took."""
        return self.processor_ms / peer.processor_ms


def time_work(name: str, work: Callable[[], object], *, repeats: int = 7, warm_up: int = 1) -> Timing:
    """Return how long `work` takes in this process."""
    (timing,) = time_in_turns({name: work}, repeats=repeats, warm_up=warm_up)
    return timing


def time_in_turns(works: dict[str, Callable[[], object]], *, repeats: int = 7, warm_up: int = 1) -> tuple[Timing, ...]:
    """Return the timing of each work; done in turns, so that a busy moment meets all of them."""
    for work in works.values():
        for _ in range(warm_up):
            work()
    spans: dict[str, list[tuple[float, float]]] = {name: [] for name in works}
    for _ in range(repeats):
        for name, work in works.items():
            spans[name].append(_once_ms(work))
    return tuple(_timing(name, spans_ms) for name, spans_ms in spans.items())


def _once_ms(work: Callable[[], object]) -> tuple[float, float]:
    """Return milliseconds on the wall and of the processor."""
    gc.collect()
    began, worked = time.perf_counter(), processor_s()
    work()
    return (time.perf_counter() - began) * 1000, (processor_s() - worked) * 1000


def processor_s() -> float:
    """Return seconds that the processor was at work for this process, its threads, and its children that ended."""
    try:
        import resource
    except ImportError:  # Not on every system; then children are not seen.
        return time.process_time()
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(u.ru_utime + u.ru_stime for u in used)


def _timing(name: str, spans_ms: Sequence[tuple[float, float]]) -> Timing:
    walls, works = zip(*spans_ms, strict=True)
    return Timing(
        name=name,
        median_ms=statistics.median(walls),
        least_ms=min(walls),
        most_ms=max(walls),
        repeats=len(spans_ms),
        processor_ms=statistics.median(works),
    )


def peak_memory_mib(work: Callable[[], object]) -> float:
    """Return the most memory that Python held for `work` at one time (MiB).

    Memory that compiled libraries take for themselves is not seen. Tracing slows the work: time it apart.
    """
    gc.collect()
    tracemalloc.start()
    try:
        work()
        return tracemalloc.get_traced_memory()[1] / 2**20
    finally:
        tracemalloc.stop()


def time_command(name: str, command: Sequence[str], *, repeats: int = 7) -> Timing:
    """Return how long a command takes from start to end, its output thrown away; it must succeed.

    Compiled modules are kept between the repeats, as they are for a maker, whatever the surroundings say.
    """
    with_cache = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}

    def run() -> None:
        subprocess.run(command, check=True, stdin=subprocess.DEVNULL, capture_output=True, env=with_cache)

    return time_work(name, run, repeats=repeats)


def machine_s() -> float:
    """Return how long the processor takes for ten million multiplications and additions: how fast the machine is now.

    Figures of two machines are compared by it. A busy neighbour on the same core makes both this and the work slower.
    """
    began, total = time.process_time(), 0.0
    for n in range(10_000_000):
        total = total * 0.5 + n
    return time.process_time() - began


def apart[T, R](work: Callable[[T], R], told: T) -> R:
    """Return what a process of its own makes of it: it finds nothing in memory, and what it holds is its own."""
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as pool:
        return pool.submit(work, told).result()


def bare_interpreter() -> Timing:
    """Return how long this Python takes to start and do nothing: what no command line can go below."""
    return time_command("Python, doing nothing", [sys.executable, "-c", "pass"])


def show_table(title: str, head: Sequence[str], rows: Sequence[Sequence[object]]) -> None:
    """Print rows under a head, columns lined up; figures to the right."""
    cells = [[_cell(value) for value in row] for row in rows]
    widths = [max(len(row[i]) for row in [list(head), *cells]) for i in range(len(head))]
    print(f"\n{title}")
    print("  ".join(word.ljust(width) for word, width in zip(head, widths, strict=True)).rstrip())
    print("  ".join("-" * width for width in widths))
    for row, values in zip(cells, rows, strict=True):
        print("  ".join(_placed(*each) for each in zip(row, values, widths, strict=True)).rstrip())


def _cell(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.4g}" if abs(value) < 1000 else f"{value:,.0f}"
    return str(value)


def _placed(cell: str, value: object, width: int) -> str:
    return cell.rjust(width) if isinstance(value, int | float) else cell.ljust(width)


def show_timings(title: str, timings: Sequence[Timing], *, peer: Timing | None = None) -> None:
    """Print timings; with a peer, also how many times its time each took."""
    head = ["what", "median ms", "least", "most", "repeats", "processor ms"]
    head += ["of the peer's time", "and processor time"] if peer else []
    rows: list[list[object]] = []
    for t in timings:
        beside = [t.ratio_to(peer), t.work_ratio_to(peer)] if peer else []
        rows.append([t.name, t.median_ms, t.least_ms, t.most_ms, t.repeats, t.processor_ms, *beside])
    show_table(title, head, rows)
